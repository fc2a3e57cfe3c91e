"""From a filled-in form to records that can be saved, and what is wrong with it, input by input."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from typing import Any

from guardbook.actions.form_doubts import doubts_among
from guardbook.actions.form_meanings import Meanings
from guardbook.actions.named_records import NamedRecords
from guardbook.actions.save_records import faults_among, structure_faults_of
from guardbook.catalogue.access import Access
from guardbook.errors import Fault, InvalidRecord
from guardbook.intake.drafts import Findings
from guardbook.intake.form_records import FormReader
from guardbook.intake.form_texts import Texts, one_text, rows_in
from guardbook.records.base import Record
from guardbook.records.documents import from_document, to_document

Document = dict[str, Any]
Together = Callable[[dict[str, Document]], Iterable[Document]]
_AT = re.compile(r"([\w.]+)\[(\d+)\]")
_PLACE = re.compile(r"(?P<short>[a-z]+/[^\s#]+)(?P<part>#[\w.-]+)?\s*(?P<path>\S*)")


@dataclass(frozen=True, kw_only=True)
class Role:
    """What a record is in a form: the word its inputs begin with, its model, its IRI, what it starts from.

    `base` is the document over which the form is laid, `started_from` its revision (None: it is new).
    """

    name: str
    model: type[Record]
    iri: str
    base: Mapping[str, Any]
    started_from: int | None = None

    @property
    def is_new(self) -> bool:
        """Tell whether the record is not in the catalogue yet."""
        return self.started_from is None


@dataclass(frozen=True, kw_only=True)
class Read:
    """What a form comes to: records with the revisions they started from, and what is wrong.

    `unknown` are the inputs that name somebody who is not in the catalogue yet.
    """

    drafts: tuple[tuple[Record, int | None], ...]
    faults: tuple[Fault, ...]
    unknown: frozenset[str] = frozenset()

    @property
    def is_right(self) -> bool:
        """Tell whether it can be saved."""
        return not self.faults


def role_of(access: Access, name: str, model: type[Record], iri: str, started_from: int | None) -> Role:
    """Give a role with the document of the revision it started from; a new one says nothing yet.

    A new record that is here already in its first revision came by an earlier sending of the same form, and
    is replaced as a whole. Raises NotFound and Gone.
    """
    empty = {"id": iri, "type": model.__name__}
    if started_from is None:
        return Role(name=name, model=model, iri=iri, base=empty, started_from=_arrived(access, iri))
    kept = access.record(iri)
    if 1 <= started_from < kept.revision:
        kept = access.at_revision(iri, started_from)
    base = to_document(kept.record)
    return Role(name=name, model=model, iri=iri, base=base, started_from=started_from)


def read_form(access: Access, texts: Texts, roles: Sequence[Role], together: Together | None = None) -> Read:
    """Read what the form says of each role's record, and check all of it together.

    `together` is given the documents by role, may change them before they become records, and gives more of
    them. What the person said to be sure of is not asked again.
    """
    findings = Findings()
    reader = FormReader(texts, findings)
    documents = {role.name: reader.read(role.model, role.name, role.base) for role in roles}
    made, unknown = _settled(access, roles, documents, reader)
    more = list(together(documents)) if together and not findings.faults else []
    records, faults = _records({**documents, **_numbered([*made, *more])}, reader.rows)
    told = {fault.where for fault in findings.faults}
    faults = [*findings.faults, *(fault for fault in faults if fault.where not in told)]
    whole = all(fault.doubt for fault in faults)
    saved = list(records.values())
    found = (
        [*faults_among(access, saved), *doubts_among(access, saved)] if whole else structure_faults_of(saved)
    )
    told |= {fault.where for fault in faults}
    at_inputs = (_at_input(fault, records, texts) for fault in found)
    faults += [fault for fault in at_inputs if whole or fault.where not in told]
    left = dict.fromkeys(fault for fault in faults if not (fault.doubt and _is_sure(fault, texts)))
    starts = {role.iri: role.started_from for role in roles}
    drafts = tuple((one, starts.get(one.id, _arrived(access, one.id))) for one in records.values())
    return Read(drafts=drafts, faults=tuple(left), unknown=unknown)


def refused(read: Read, error: InvalidRecord, roles: Sequence[Role], texts: Texts) -> Read:
    """Tell what the catalogue refused when it was saved at the inputs it came from."""
    made = {record.id: record for record, _started in read.drafts}
    records = {role.name: made[role.iri] for role in roles if role.iri in made}
    return replace(read, faults=tuple(_at_input(fault, records, texts) for fault in error.faults))


def _settled(
    access: Access, roles: Sequence[Role], documents: Mapping[str, Document], reader: FormReader
) -> tuple[list[Document], frozenset[str]]:
    """Put records in for what the documents mention; give those made on the way, and who is unknown."""
    named = NamedRecords(access)
    for document in documents.values():
        named.add(document["id"], document.get("workshopNumber"), None)
    meanings = Meanings(access, named, reader.texts, reader.findings, reader.rows)
    for role in roles:
        meanings.settle(documents[role.name], role.model, role.name)
    return list(meanings.made.values()), frozenset(meanings.unknown)


def _arrived(access: Access, iri: str) -> int | None:
    """Give the revision to start from where an earlier sending of the same form made the record already."""
    return 1 if access.has(iri) and access.record(iri).revision == 1 else None


def _numbered(documents: Sequence[Document]) -> dict[str, Document]:
    return {f"more.{at}": document for at, document in enumerate(documents)}


def _records(
    documents: Mapping[str, Document], rows: Mapping[str, Sequence[int]]
) -> tuple[dict[str, Record], list[Fault]]:
    """Make the records by role; what is wrong with a document is told at the inputs it came from.

    A record with a fault is made without the fields that are at fault.
    """
    records, faults = {}, []
    for role, document in documents.items():
        try:
            records[role] = from_document(document, role)
        except InvalidRecord as error:
            faults += [replace(fault, where=_input_at(fault.where, rows)) for fault in error.faults]
            # what is left is looked at too, so that not each mend brings up the next fault
            with suppress(InvalidRecord):
                records[role] = from_document(_without(document, role, error.faults), role)
    return records, faults


def _without(document: Document, role: str, faults: Iterable[Fault]) -> Document:
    wrong = {re.split(r"[.\[]", fault.where.removeprefix(f"{role}."))[0] for fault in faults}
    return {name: value for name, value in document.items() if name not in wrong}


def _input_at(path: str, rows: Mapping[str, Sequence[int]]) -> str:
    """Give the name of the input that a path in a document, `placing.positions[0].x`, came from."""
    while found := _AT.match(path):
        name, at = found[1], int(found[2])
        known = rows.get(name)
        row = f".{known[at]}" if known and at < len(known) else ""
        path = name + row + path[found.end() :]
    return path


def _at_input(fault: Fault, records: Mapping[str, Record], texts: Texts) -> Fault:
    """Say at which input a fault of a record lies; where there is none, it is left as it stands."""
    found = _PLACE.match(fault.where)
    role = next((name for name, one in records.items() if found and one.short == found["short"]), None)
    if not found or role is None:
        return fault
    path = re.sub(r"\[\d+\]", "", found["path"])
    row = _row_of(found["part"], role, texts) if found["part"] else role
    return replace(fault, where=f"{row}.{path}" if row and path else row or fault.where)


def _row_of(part: str, role: str, texts: Texts) -> str:
    for key in texts:
        if key.startswith(f"{role}.") and key.endswith(".id") and one_text(texts, key) == part:
            return key.removesuffix(".id")
    return ""


def _is_sure(fault: Fault, texts: Texts) -> bool:
    typed = "|".join(texts.get(fault.where, ()))
    return f"{fault.where}={typed}" in texts.get("sure", ())


def lists_in(texts: Texts, role: str) -> Iterator[str]:
    """Give the names of the lists of parts that a role shows in the form."""
    for key, some in texts.items():
        if key.startswith(f"{role}.") and some == ("rows",) and key.count(".") == 1:
            yield key


def with_row(texts: Texts, name: str, prefix: str) -> dict[str, tuple[str, ...]]:
    """Give the texts with one more empty row in a list of parts, whose name in the record is free."""
    rows = rows_in(texts, name)
    taken = {one for some in texts.values() for one in some}
    number = next(n for n in range(1, len(taken) + 2) if f"#{prefix}-{n}" not in taken)
    return {**texts, f"{name}.{max(rows, default=-1) + 1}.id": (f"#{prefix}-{number}",)}


def without_row(texts: Texts, row: str) -> dict[str, tuple[str, ...]]:
    """Give the texts without one row, `placing.positions.0`."""
    return {key: some for key, some in texts.items() if not key.startswith(f"{row}.")}
