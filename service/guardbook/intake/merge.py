"""Lay what a row says over what is known of a record already: what it leaves empty stays as it is."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from decimal import Decimal, InvalidOperation
from typing import Any

from guardbook.intake.drafts import Findings, RowDraft
from guardbook.wording import _

Document = dict[str, Any]
Part = Mapping[str, Any]


def laid_over(
    document: Document, draft: RowDraft, values: Document, parts: Document, findings: Findings
) -> Document:
    """Give the record's JSON document with what a row says of it.

    `values` and `parts` are those of the draft with every mention resolved. A part that a row cannot tell
    from others, or a list that says something else than the one already there, is a fault: nothing is lost.
    """
    merged = {**document, **values}
    for name, said in parts.items():
        _one_part(merged, name, said, draft, findings)
    for name, listed in draft.lists.items():
        _list(merged, name, listed, draft, findings)
    _answers(merged, draft, findings)
    return merged


def _one_part(merged: Document, name: str, said: Part, draft: RowDraft, findings: Findings) -> None:
    known = merged.get(name, [])
    if len(known) > 1:
        found = _("one of {name}").format(name=name)
        expected = _("none, since the record has {count} of them").format(count=len(known))
        mend = _("Change them in JSON or Turtle, where each has its name.")
        findings.fault(draft.cells[name], found, expected, mend)
        return
    merged[name] = [{**(known[0] if known else {}), **said}]


def _list(merged: Document, name: str, listed: tuple[Part, ...], draft: RowDraft, findings: Findings) -> None:
    known = merged.get(name, [])
    kinds = {part.get("featureKind") for part in listed}
    same_kind = [part for part in known if part.get("featureKind") in kinds]
    if not same_kind:
        added = in_series(merged, listed) if name == "features" else [dict(part) for part in listed]
        merged[name] = [*known, *added]
    elif not _same(same_kind, listed):
        found = _("{count} other {name}").format(count=len(listed), name=name)
        expected = _("the same {count} as the record has already").format(count=len(same_kind))
        mend = _("Change them in JSON or Turtle, so that what is noted of each is kept.")
        findings.fault(draft.cells[name], found, expected, mend)


def _same(known: list[Part], listed: tuple[Part, ...]) -> bool:
    """Tell whether the parts known already say all that the listed ones say, whatever their order."""
    names = dict.fromkeys(name for part in listed for name in part if name != "inSeries")

    def said(part: Part) -> tuple[str, ...]:
        return tuple(_comparable(part.get(name)) for name in names)

    return sorted(map(said, known)) == sorted(map(said, listed))


def _comparable(value: Any) -> str:
    try:
        return str(Decimal(str(value)).normalize())
    except InvalidOperation:
        return str(value)


def in_series(merged: Document, listed: tuple[Part, ...]) -> list[Document]:
    """Give the holes, those of each row in a series of their own that is added to the record."""
    taken = {str(part.get("id", "")).rpartition("#")[2] for part in merged.get("series", [])}
    names: dict[tuple[Any, Any], str] = {}
    next_free = free_names("series", taken)
    holes = []
    for part in listed:
        row = (part["featureKind"], part["inSeries"])
        if row not in names:
            names[row] = next_free()
        holes.append({**part, "inSeries": f"#{names[row]}"})
    merged["series"] = [*merged.get("series", []), *({"id": f"#{name}"} for name in names.values())]
    return holes


def free_names(prefix: str, taken: set[str]) -> Callable[[], str]:
    """Give names for parts, `series-1` and so on, that are not taken yet."""

    def next_free() -> str:
        number = 1
        while (name := f"{prefix}-{number}") in taken:
            number += 1
        taken.add(name)
        return name

    return next_free


def _answers(merged: Document, draft: RowDraft, findings: Findings) -> None:
    """Keep one answer for a field; one that has a value needs none, and the other way round."""
    for name in draft.answers:
        if name in merged:
            found = _("the answer {answer}").format(answer=repr(draft.answers[name]))
            mend = _("Leave the cell empty, or take the value away in JSON or Turtle first.")
            findings.fault(draft.cells[name], found, _("no answer beside a value"), mend)
    said = {*draft.answers, *draft.values, *draft.parts, *draft.lists}
    kept = [answer for answer in merged.get("answers", []) if answer.get("asked") not in said]
    same = [answer for answer in merged.get("answers", []) if _says(answer, draft.answers)]
    new = draft.answers.keys() - {answer["asked"] for answer in same}
    added = [{"asked": name, "answer": draft.answers[name]} for name in sorted(new)]
    if answers := [*kept, *same, *added]:
        merged["answers"] = answers
    else:
        merged.pop("answers", None)


def _says(answer: Part, said: Mapping[str, str]) -> bool:
    return said.get(str(answer.get("asked"))) == answer.get("answer")
