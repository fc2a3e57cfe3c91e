"""`guardbook show` and `guardbook history`."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Annotated

import typer

from guardbook.actions.open_catalogue import opened
from guardbook.actions.record_history import compare_revisions, record_history
from guardbook.actions.show_record import Line, Shown, Value, show_record
from guardbook.catalogue.access import Revision
from guardbook.cli.options import AsJson, AsPublic, Data, Language, Name, folder_or_default, viewer
from guardbook.cli.printing import say, say_heading, say_json, say_pairs, say_table

# columns of letters: of a table that fits beside its margin, and between two of its columns
WIDEST_TABLE, BETWEEN_COLUMNS = 76, 3


def show(
    name: Name,
    *,
    language: Language = "en",
    as_json: AsJson = False,
    public: AsPublic = False,
    data: Data = None,
) -> None:
    """Show a record in words, and the records that refer to it.

    With --json: the record's JSON document, which can be changed and added again.
    """
    with opened(viewer(public=public), folder_or_default(data)) as access:
        shown = show_record(access, name, language)
    if as_json:
        say_json(shown.kept.record)
    else:
        _print(shown)


def _print(shown: Shown) -> None:
    kept = shown.kept
    say_heading(f"{shown.title} ({shown.kind.lower()})")
    by = f" by {kept.who}" if kept.who else ""
    say(f"{kept.record.short}, revision {kept.revision}, saved {kept.when:%Y-%m-%d %H:%M}{by}")
    for section in shown.sections:
        say("")
        say_heading(section.title)
        say_pairs(((line.label, _in_one(line)) for line in section.lines if not _has_parts(line)), indent=2)
        for line in filter(_has_parts, section.lines):
            _print_parts(line)
    if shown.linked:
        say("")
        say_heading("Records that refer to it")
        rows = [(linked.kind, short(linked.iri), linked.title) for linked in shown.linked]
        say_table(("Kind", "Identifier", "Title"), rows, indent=2)


def _has_parts(line: Line) -> bool:
    return any(value.lines for value in line.values)


def _in_one(line: Line) -> str:
    return "; ".join(_with_identifier(value) for value in line.values)


def _with_identifier(value: Value) -> str:
    identifier = short(value.iri) if value.iri else ""
    return f"{value.text} ({identifier})" if identifier and identifier not in value.text else value.text


def short(iri: str) -> str:
    """Give `kind/identifier` of a record's IRI, with the part where it names one."""
    return "/".join(iri.rsplit("/", 2)[-2:])


def _print_parts(line: Line) -> None:
    """Print parts as a table where that fits, else one below the other."""
    labels = list(dict.fromkeys(inner.label for value in line.values for inner in value.lines))
    rows = [list(_cells(value, labels)) for value in line.values]
    if _width([["", *labels], *rows]) <= WIDEST_TABLE:
        say(f"  {line.label}")
        say_table(("", *labels), rows, indent=4)
        return
    for value in line.values:
        say(f"  {line.label}: {value.text}")
        say_pairs(((inner.label, _in_one(inner)) for inner in value.lines), indent=4)


def _width(rows: list[list[str]]) -> int:
    """Give how wide a table would be that folds nothing."""
    return sum(max(map(len, column)) + BETWEEN_COLUMNS for column in zip(*rows, strict=True))


def _cells(value: Value, labels: list[str]) -> Iterator[str]:
    filled = {inner.label: _in_one(inner) for inner in value.lines}
    yield value.text
    yield from (filled.get(label, "") for label in labels)


def history(
    name: Name,
    *,
    compare: Annotated[
        tuple[int, int] | None,
        typer.Option("--compare", metavar="A B", help="Say in words what changed from revision A to B."),
    ] = None,
    as_json: AsJson = False,
    public: AsPublic = False,
    data: Data = None,
) -> None:
    """Show who saved a record when, what for, and what changed."""
    with opened(viewer(public=public), folder_or_default(data)) as access:
        iri = access.resolve(name)
        changes = compare_revisions(access, iri, *compare) if compare else None
        revisions = record_history(access, iri)
    if as_json:
        say_json(revisions if changes is None else {"changes": changes})
    elif changes is not None:
        say(*(changes or ("Nothing changed.",)))
    else:
        _print_history(revisions)


def _print_history(revisions: Iterable[Revision]) -> None:
    rows = [
        (
            str(found.number),
            f"{found.when:%Y-%m-%d %H:%M}",
            found.who,
            f"Taken out: {found.what_for}" if found.tombstone else found.what_for,
        )
        for found in revisions
    ]
    say_table(("Revision", "Saved", "By", "What for"), rows)
