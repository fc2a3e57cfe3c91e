"""One file in, drafts out: what it is, is told by its ending, or by how it begins."""

from __future__ import annotations

from collections.abc import Iterator

from guardbook.errors import Fault, UnreadableFile, WrongUse
from guardbook.intake import json_documents, sheet_rows, triples
from guardbook.intake.csv_table import read_csv
from guardbook.intake.drafts import Draft, Findings, Intake
from guardbook.intake.sheet_rows import Progress
from guardbook.intake.tables import Table
from guardbook.intake.words import sheet_kind as kind_named
from guardbook.intake.words import sheet_kinds
from guardbook.intake.xlsx_table import read_xlsx
from guardbook.wording import _

LARGEST_BYTES = 50_000_000
ENDINGS = ("json", *triples.FORMATS, "csv", "tsv", "xlsx")


def read_file(
    data: bytes, name: str, *, sheet_kind: str | None = None, progress: Progress | None = None
) -> Intake:
    """Read a file into drafts, with everything found wrong in it.

    `name` is the file's name, `sheet_kind` says what the rows of its sheets are where their names do not
    (`pieces` otherwise), `progress` is told (rows done, rows in all) now and then. Raises UnreadableFile
    where the file as a whole cannot be read, WrongUse for an unknown ending or kind of sheet.
    """
    if len(data) > LARGEST_BYTES:
        found = f"{len(data) / 1_000_000:.0f} MB"
        expected = _("at most {size} MB").format(size=LARGEST_BYTES // 1_000_000)
        fault = Fault(where=name, found=found, expected=expected, mend=_("Split it."))
        message = _("{name} is too large to be read at once.").format(name=name)
        raise UnreadableFile(message=message, faults=(fault,))
    if sheet_kind is not None and kind_named(sheet_kind) is None:
        message = _("{word} is no kind of sheet. Kinds: {kinds}.")
        raise WrongUse(message=message.format(word=repr(sheet_kind), kinds=", ".join(sheet_kinds())))
    findings = Findings()
    drafts = tuple(_drafts(data, name, sheet_kind, findings, progress))
    if not drafts and not findings.faults:
        mend = _("A sheet needs headings and a row below them.")
        findings.fault(name, _("nothing"), _("at least one record"), mend)
    return Intake(drafts, tuple(findings.faults), findings.notes, frozenset(findings.broken))


def _drafts(
    data: bytes, name: str, kind: str | None, findings: Findings, progress: Progress | None
) -> Iterator[Draft]:
    ending = _ending(data, name)
    if ending == "json":
        found = json_documents.parse(data, name)
        if json_documents.is_own_form(found):
            yield from json_documents.drafts_of(found, name, findings)
        else:
            yield from triples.drafts_of(data, name, "jsonld", findings)
    elif ending == "jsonld" and json_documents.is_own_form(found := json_documents.parse(data, name)):
        yield from json_documents.drafts_of(found, name, findings)
    elif ending in triples.FORMATS:
        yield from triples.drafts_of(data, name, ending, findings)
    else:
        found = read_xlsx(data, name, findings) if ending == "xlsx" else [read_csv(data, name, findings)]
        tables = [table for table in found if table]
        for table in tables:
            if chosen := _kind(table, kind, alone=len(tables) == 1, findings=findings):
                yield from sheet_rows.drafts_of(table, chosen, findings, progress)


def _ending(data: bytes, name: str) -> str:
    ending = name.rpartition(".")[2].lower() if "." in name else ""
    if ending in ENDINGS:
        return ending
    if data.startswith(b"PK"):
        return "xlsx"
    if data.lstrip()[:1] in {b"{", b"["}:
        return "json"
    message = _("{name} has an ending that is not known here. Known: {endings}.")
    raise WrongUse(message=message.format(name=name, endings=", ".join(ENDINGS)))


def _kind(table: Table, stated: str | None, *, alone: bool, findings: Findings) -> str | None:
    """Choose what the rows of a sheet are: as stated, or by its name; pieces where neither says it."""
    named = kind_named(table.name)
    if stated and (alone or not named):
        return kind_named(stated)
    if named:
        return named
    if alone:
        sentence = _("The rows were taken as pieces, since no other kind of sheet was named")
        findings.note(sentence, table.where)
        return "pieces"
    mend = _("Name it as one of {kinds}, or begin its name with # to leave it out.")
    mend = mend.format(kinds=", ".join(sheet_kinds()))
    findings.fault(table.where, repr(table.name), _("a sheet whose name says what its rows are"), mend)
    return None
