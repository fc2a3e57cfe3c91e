"""What is meant by what stands in a form: which record a name stands for, how a number or date is read."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from guardbook import settings
from guardbook.actions.named_records import NamedRecords, kind_of
from guardbook.actions.named_stages import stage_meant
from guardbook.catalogue.access import Access
from guardbook.intake.columns import Holds, column_of
from guardbook.intake.drafts import Findings, Mention, StageMention, shown
from guardbook.intake.form_texts import Texts, one_text
from guardbook.intake.form_values import read_texts
from guardbook.records import identifiers
from guardbook.records.base import Model
from guardbook.records.fields import FieldPath, fields_of
from guardbook.records.kinds import KINDS
from guardbook.records.terms import folded
from guardbook.records.values import Datatype, Reference
from guardbook.wording import _, decimal

Document = dict[str, Any]
PEOPLE = frozenset({"agent", "institution"})
_MEASURED = {Holds.LENGTH: " mm", Holds.ANGLE: "°", Holds.NUMBER: "", Holds.COUNT: "", Holds.DATE: ""}


def understood(named: NamedRecords, model: type[Model], path: FieldPath, texts: Sequence[str]) -> str:
    """Say how what was typed is read: the title of a record, a length in mm; nothing where that is plain."""
    findings = Findings()
    if not isinstance(path.marker, Datatype | Reference) or not any(texts):
        return ""
    value = read_texts(texts, model, path, "", findings)
    if any(not fault.doubt for fault in findings.faults):
        return ""
    match value:
        case Mention(text):
            return _title(named, text, path)
        case list() if value and isinstance(value[0], Mention):
            return "; ".join(filter(None, (_title(named, one.text, path) for one in value)))
        case str() | int() if not isinstance(value, bool) and str(value) != texts[0].strip():
            holds = column_of(model, path.json_name).holds
            return f"{decimal(str(value))}{_MEASURED[holds]}" if holds in _MEASURED else ""
        case _:
            return ""


def _title(named: NamedRecords, text: str, path: FieldPath) -> str:
    kinds = path.marker.kinds if isinstance(path.marker, Reference) else ()
    try:
        title = named.title_of(named.meant(text, kinds))
    except ValueError:
        return ""
    return title if folded(title) != folded(text) else ""


@dataclass
class Meanings:
    """Puts records in for what the documents of a form mention; whom nobody knows can be added by name.

    `made` are the documents of the people and bodies that are new, `unknown` the inputs that name somebody
    whom the catalogue does not know and of whom it is not said whether it is a person or a body.
    """

    access: Access
    named: NamedRecords
    texts: Texts
    findings: Findings
    rows: Mapping[str, Sequence[int]]
    made: dict[str, Document] = field(default_factory=dict)
    unknown: set[str] = field(default_factory=set)

    def settle(self, document: Document, model: type[Model], prefix: str) -> None:
        """Put records and stages in for every mention in a document; faults go to the findings."""
        self._records(document, model, prefix)
        self._stages(document, model, prefix, _hosts(document))

    def _records(self, document: Document, model: type[Model], prefix: str) -> None:
        for path in fields_of(model):
            value, name = document.get(path.json_name), f"{prefix}.{path.json_name}"
            if path.part:
                for at, part in enumerate(value or ()):
                    self._records(part, path.part, self._row(name, at))
            elif isinstance(value, Mention):
                document[path.json_name] = self._meant(value, path, name)
            elif isinstance(value, list) and any(isinstance(one, Mention) for one in value):
                document[path.json_name] = [
                    self._meant(one, path, name) if isinstance(one, Mention) else one for one in value
                ]

    def _row(self, name: str, at: int) -> str:
        """Give the row of the form that a part came from."""
        rows = self.rows.get(name, ())
        return f"{name}.{rows[at] if at < len(rows) else at}"

    def _meant(self, mention: Mention, path: FieldPath, name: str) -> str:
        """Give the IRI; where there is none, a fault is noted, and what was typed is left standing."""
        kinds = path.marker.kinds if isinstance(path.marker, Reference) else ()
        try:
            return self.named.meant(mention.text, kinds)
        except ValueError as refusal:
            wanted = PEOPLE & set(kinds)
            if wanted and self._is_unknown_name(mention.text):
                if (kind := one_text(self.texts, f"new.{name}")) in wanted:
                    return self._add(kind, mention.text)
                self.unknown.add(name)
                expected = _("somebody who is in the catalogue")
                mend = _("Choose below what it is, and it is added; or correct the name.")
                self.findings.fault(name, shown(mention.text), expected, mend)
            else:
                self.findings.refused(name, shown(mention.text), refusal)
            return mention.text

    def _is_unknown_name(self, text: str) -> bool:
        looks_like_one = identifiers.is_valid(identifiers.normal_form(text.rpartition("/")[2]))
        return not looks_like_one and not self.named.by_name(text, PEOPLE) and not self.named.numbered(text)

    def _add(self, kind: str, name: str) -> str:
        """Add a person or body; sent twice, it is the same one, as its identifier comes from the form's."""
        seed = next((one_text(self.texts, key) for key in self.texts if key.startswith("id.")), "")
        iri = f"{settings.current().base}{kind}/{identifiers.identifier_from(f'{seed} {folded(name)}')}"
        self.made[iri] = {"id": iri, "type": KINDS[kind].__name__, "name": name}
        self.named.add(iri, None, name)
        return iri

    def _stages(self, document: Document, model: type[Model], prefix: str, hosts: Sequence[str]) -> None:
        for path in fields_of(model):
            value, name = document.get(path.json_name), f"{prefix}.{path.json_name}"
            if path.part:
                for at, part in enumerate(value or ()):
                    self._stages(part, path.part, self._row(name, at), hosts)
            elif isinstance(value, StageMention):
                try:
                    document[path.json_name] = stage_meant(self.access, value.text, hosts)
                except ValueError as refusal:
                    self.findings.refused(name, shown(value.text), refusal)
                    document[path.json_name] = value.text


def _hosts(document: Document) -> list[str]:
    """Give the volumes that a record is of, or about."""
    named = [document.get("id"), document.get("host"), *document.get("depicts", ())]
    return [iri for iri in named if isinstance(iri, str) and kind_of(iri) == "host"]
