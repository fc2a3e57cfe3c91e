"""Rows of spreadsheets joined into records: which record each row means, and what it says in all."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from guardbook import settings
from guardbook.actions.named_records import NamedRecords, kind_of
from guardbook.actions.named_stages import one_stage
from guardbook.catalogue.access import Access, Kept
from guardbook.errors import InvalidRecord
from guardbook.intake.drafts import Findings, Mention, RowDraft, SameRow, StageMention, shown
from guardbook.intake.merge import laid_over
from guardbook.records import identifiers
from guardbook.records.base import Record
from guardbook.records.documents import from_document, to_document
from guardbook.records.fields import FieldPath, fields_of
from guardbook.records.host import HostVolume
from guardbook.records.kinds import KINDS
from guardbook.records.placing import Placing
from guardbook.records.separation import Separation
from guardbook.records.values import Reference
from guardbook.wording import _, either, said_later

# what the others speak of comes first
_THINGS = ("agent", "institution", "carrier", "host", "fragment")
_OTHERS = ("placing", "separation", "alteration", "move", "image", "reading", "decision")
_MEETINGS = {
    "placing": said_later("a placing of the piece in this volume"),
    "separation": said_later("a separation of the piece in this volume"),
}


@dataclass(frozen=True)
class Joined:
    """A record as the files want it, the one kept until now, and where in the files each field stood."""

    record: Record
    before: Kept | None
    started_from: int | None
    where: str
    cells: Mapping[str, str]

    @property
    def is_unchanged(self) -> bool:
        """Tell whether the files say nothing that is not kept already."""
        return self.before is not None and self.before.record == self.record


class RowsTogether:
    """The drafts of all rows of all files, seen with what the catalogue already has."""

    def __init__(
        self, access: Access, named: NamedRecords, whole: Mapping[str, Record], findings: Findings
    ) -> None:
        self._access = access
        self._named = named
        self._findings = findings
        self._iris: dict[tuple[str, str], str] = {}
        self._meetings: dict[tuple[str, ...], str] = {}
        self._documents: dict[str, dict[str, Any]] = {}
        self._before: dict[str, Kept | None] = {}
        self._started_from: dict[str, int | None] = {}
        self._cells: dict[str, dict[str, str]] = defaultdict(dict)
        self._where: dict[str, str] = {}
        self._said: dict[tuple[str, str], Any] = {}
        self._failed: dict[str, set[str]] = defaultdict(set)
        self._records: dict[str, Record | None] = dict(whole)

    def joined(self, drafts: Sequence[RowDraft]) -> Iterator[Joined]:
        """Give a record for all that the rows say of it; what is wrong goes to the findings."""
        for draft in drafts:
            if (iri := self._named_identity(draft)) or draft.kind in _THINGS:
                self._settle(draft, iri or self._nameless(draft))
        for kinds in (_THINGS, _OTHERS):
            wanted = [draft for kind in kinds for draft in drafts if draft.kind == kind]
            for draft in wanted:
                self._lay_over(draft)
            for iri in dict.fromkeys(self._iris.get((draft.row, draft.kind), "") for draft in wanted):
                if iri and (record := self._record(iri)):
                    yield Joined(
                        record, self._before[iri], self._started_from[iri], self._where[iri], self._cells[iri]
                    )

    @property
    def broken(self) -> frozenset[str]:
        """Give the records that rows describe, but that are not right yet."""
        return frozenset(iri for iri in self._documents if self._records.get(iri) is None)

    def _named_identity(self, draft: RowDraft) -> str | None:
        """Find the record that a row names: by identifier, workshop number, or a person's or body's name."""
        identifier, number, name = (draft.values.get(field) for field in ("id", "workshopNumber", "name"))
        try:
            if isinstance(identifier, Mention):
                return self._named.identified(identifier.text, draft.kind)
            if number and (iri := self._named.numbered(number)) and kind_of(iri) == draft.kind:
                return iri
            if name:
                return self._one_of_name(name, draft.kind)
        except ValueError as refusal:
            field = "id" if identifier else "workshopNumber" if number else "name"
            self._findings.refused(draft.cells[field], shown(_text(draft.values[field])), refusal)
        return _fresh(draft.kind) if number or name else None

    def _nameless(self, draft: RowDraft) -> str:
        sentence = _(
            "Rows without identifier, workshop number or name are new records each time they are added"
        )
        self._findings.note(sentence, draft.where)
        return _fresh(draft.kind)

    def _one_of_name(self, name: str, kind: str) -> str | None:
        found = self._named.by_name(name, (kind,))
        if len(found) > 1:
            message = _("a name that one {kind} has. Write the identifier: {records}.")
            raise ValueError(message.format(kind=kind, records=either(found)))
        return found[0] if found else None

    def _settle(self, draft: RowDraft, iri: str) -> None:
        """Let a draft be of this record, and make the record known by its number and name."""
        self._iris[draft.row, draft.kind] = iri
        self._named.add(iri, draft.values.get("workshopNumber"), draft.values.get("name"))
        if iri not in self._documents:
            kept = self._access.record(iri) if self._access.has(iri) else None
            self._before[iri] = kept
            self._documents[iri] = (
                to_document(kept.record) if kept else {"id": iri, "type": KINDS[draft.kind].__name__}
            )
            self._started_from[iri] = kept.revision if kept else None
            self._where[iri] = draft.where
        if draft.revision is not None:
            self._started_from[iri] = draft.revision

    def _lay_over(self, draft: RowDraft) -> None:
        fields = {field.json_name: field for field in fields_of(KINDS[draft.kind])}
        failed: set[str] = set()
        said = {name: value for name, value in draft.values.items() if name != "id"}
        values = self._resolved(said, fields, draft, "", failed)
        parts = {}
        for name, part in draft.parts.items():
            of_part = fields[name].part
            inner = {field.json_name: field for field in fields_of(of_part)} if of_part else {}
            parts[name] = self._resolved(part, inner, draft, f"{name}.", failed)
        if (draft.row, draft.kind) not in self._iris:
            iri = self._meeting(draft, values) if draft.kind in _MEETINGS else self._nameless(draft)
            if iri is None:
                return
            self._settle(draft, iri)
        iri = self._iris[draft.row, draft.kind]
        self._failed[iri] |= failed
        self._compare(iri, values, parts, draft)
        self._cells[iri] |= draft.cells
        self._documents[iri] = laid_over(self._documents[iri], draft, values, parts, self._findings)

    def _resolved(
        self,
        said: Mapping[str, Any],
        fields: Mapping[str, FieldPath],
        draft: RowDraft,
        prefix: str,
        failed: set[str],
    ) -> dict[str, Any]:
        """Find the records that values mention; stages last, since the volume they are of is named beside."""
        values: dict[str, Any] = {}
        for name, value in sorted(said.items(), key=lambda item: isinstance(item[1], StageMention)):
            if isinstance(value, StageMention) and "host" in failed:
                continue
            try:
                values[name] = (
                    [self._one(item, fields[name], draft, values) for item in value]
                    if isinstance(value, list)
                    else self._one(value, fields[name], draft, values)
                )
            except ValueError as refusal:
                failed.add(prefix + name)
                self._findings.refused(
                    draft.cells.get(prefix + name, draft.where), shown(_text(value)), refusal
                )
        return values

    def _one(self, value: Any, field: FieldPath, draft: RowDraft, values: dict[str, Any]) -> Any:
        kinds = field.marker.kinds if isinstance(field.marker, Reference) else ()
        match value:
            case SameRow(kind):
                return self._iris[draft.row, kind]
            case Mention(text):
                return self._named.meant(text, kinds)
            case StageMention(text):
                return self._stage(text, values)
            case _:
                return value

    def _stage(self, text: str, values: dict[str, Any]) -> str:
        """Find a stage of the row's volume, or of the one named before #."""
        named, sign, wanted = (piece.strip() for piece in text.rpartition("#"))
        hosts = [
            iri for iri in (values.get("host"), *values.get("depicts", ())) if iri and kind_of(iri) == "host"
        ]
        host = self._named.meant(named, ("host",)) if sign else hosts[0] if len(hosts) == 1 else None
        if host is None:
            raise ValueError(_("a stage after its volume, such as V-12 # 2"))
        record = self._record(host)
        stages = record.stages if isinstance(record, HostVolume) else ()
        return host + one_stage(stages, wanted).id

    def _meeting(self, draft: RowDraft, values: dict[str, Any]) -> str | None:
        """Find the placing or separation of this piece and volume that a row without identifier means."""
        piece, host, stage = (values.get(name) for name in ("piece", "host", "stage"))
        key = (draft.kind, str(piece), str(host), str(stage))
        if key not in self._meetings:
            known = [
                record.id
                for record in self._meetings_of(piece, draft.kind)
                if record.host == host and (stage is None or record.stage in {None, stage})
            ]
            if len(known) > 1:
                expected = _("the identifier of one of {records}, since there are {count}")
                expected = expected.format(records=", ".join(known), count=len(known))
                self._findings.fault(draft.where, _(_MEETINGS[draft.kind]), expected)
                return None
            self._meetings[key] = known[0] if known else _fresh(draft.kind)
        return self._meetings[key]

    def _meetings_of(self, piece: str | None, kind: str) -> Iterator[Placing | Separation]:
        named = self._access.linked(piece, "piece") if piece and self._access.has(piece) else ()
        for iri in named:
            record = self._access.record(iri).record
            if record.kind == kind and isinstance(record, Placing | Separation):
                yield record

    def _compare(
        self, iri: str, values: Mapping[str, Any], parts: Mapping[str, Any], draft: RowDraft
    ) -> None:
        """Name what one row says of a record and another row says otherwise."""
        inner = {f"{name}.{key}": value for name, part in parts.items() for key, value in part.items()}
        for name, value in {**values, **inner}.items():
            before = self._said.setdefault((iri, name), value)
            if before != value:
                where, other = (
                    draft.cells.get(name, draft.where),
                    self._cells[iri].get(name, self._where[iri]),
                )
                self._findings.fault(
                    where,
                    shown(value),
                    _("{value}, as in {place}").format(value=shown(before), place=other),
                    _("One record has one value: keep the right one."),
                )

    def _record(self, iri: str) -> Record | None:
        """Make the record once all rows of its kind are read; one of the catalogue is given as it is kept."""
        if iri not in self._records:
            document = self._documents.get(iri)
            if document is None:
                self._records[iri] = self._access.record(iri).record if self._access.has(iri) else None
            else:
                self._records[iri] = self._made(iri, document)
        return self._records[iri]

    def _made(self, iri: str, document: dict[str, Any]) -> Record | None:
        try:
            return from_document(document)
        except InvalidRecord as error:
            # what could not be found was named already, and is missing here only for that
            for fault in (
                one for one in error.faults if one.where.partition("[")[0] not in self._failed[iri]
            ):
                where = place_of(fault.where, self._where[iri], self._cells[iri])
                self._findings.fault(where, fault.found, fault.expected, fault.mend)
            return None


def place_of(path: str, where: str, cells: Mapping[str, str]) -> str:
    """Say where a path such as `height` or `positions[0].x` is: in its cell, or near the nearest."""
    names = [step.partition("[")[0] for step in path.split(".")]
    nearest = f"{cells.get(names[0], where)}, {path}" if path else where
    return cells.get(".".join(names)) or nearest


def _fresh(kind: str) -> str:
    return f"{settings.current().base}{kind}/{identifiers.new_identifier()}"


def _text(value: Any) -> str:
    match value:
        case Mention(text) | StageMention(text):
            return text
        case list():
            return "; ".join(map(_text, value))
        case _:
            return str(value)
