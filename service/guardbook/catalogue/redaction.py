"""What the public may see of a record: the one place where private things are taken out.

Rules (common practice, no published source): private owners are named only with consent; shelf and box
locations, valuations and contacts are never public; a record may be for the workshop or its partners only.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, TypeVar

from guardbook.catalogue.withheld import Withheld
from guardbook.records.agent import Agent, Institution
from guardbook.records.base import Answer, Model, Part, Record
from guardbook.records.fields import FieldPath, all_models, fields_of
from guardbook.records.values import XSD, Datatype, Reference

_Model = TypeVar("_Model", bound=Model)


def public_by_itself(record: Record) -> bool:
    """Say whether a record's own visibility lets the public see it; an agent must also be nameable."""
    if record.visibility not in {None, "public"}:
        return False
    return not isinstance(record, Agent) or record.may_be_named is True


def names_held_by(record: Record) -> frozenset[str]:
    """Give the names that are not told while the public may not see this record: of people and bodies."""
    if not isinstance(record, (Agent, Institution)):
        return frozenset()
    return frozenset(name for name in (record.name, record.title) if name)


@lru_cache(maxsize=1)
def private_fields() -> frozenset[str]:
    """Give the JSON names of the fields that the public never sees."""
    fields = (field for model in all_models() for field in fields_of(model))
    return frozenset(field.json_name for field in fields if field.visible != "public")


@dataclass(frozen=True)
class Redaction:
    """Takes private things out of records: `may_see` judges record IRIs, `withheld` finds names in texts."""

    may_see: Callable[[str], bool]
    withheld: Withheld

    def of(self, record: Record) -> Record | None:
        """Give what the public may see of a record, or None where too little is left to be one."""
        return self._model(record, record.id)

    def _model(self, model: _Model, record_iri: str) -> _Model | None:
        changed: dict[str, Any] = {}
        for field in fields_of(type(model)):
            value = getattr(model, field.name)
            if value is None or value == ():
                continue
            items = value if field.many else (value,)
            seen = tuple(s for item in items if (s := self._item(item, field, record_iri)) is not None)
            if not seen and field.required:
                return None
            if seen != items:
                changed[field.name] = seen if field.many else next(iter(seen), None)
        return model.model_copy(update=changed) if changed else model

    def _item(self, item: Any, field: FieldPath, record_iri: str) -> Any:
        if field.visible != "public":
            return None
        if isinstance(item, Answer) and item.asked in private_fields():
            return None
        if isinstance(item, Part):
            return self._model(item, record_iri)
        match field.marker:
            case Reference():
                target = item.partition("#")[0]
                return item if target == record_iri or self.may_see(target) else None
            case Datatype(iri) if isinstance(item, str):
                return self._text(item, iri)
            case _:
                return item

    def _text(self, text: str, datatype: str) -> str | None:
        """Replace names in words; leave out an address that holds one, since half an address is none."""
        seen = self.withheld.removed_from(text)
        return seen if seen == text or datatype == XSD + "string" else None
