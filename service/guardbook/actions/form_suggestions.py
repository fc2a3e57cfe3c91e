"""Records that inputs suggest: people and bodies by name, pieces and volumes by number, the newest first."""

from __future__ import annotations

from collections.abc import Sequence

from guardbook import settings
from guardbook.actions.form_parts import Choice
from guardbook.actions.kind_words import kind_in_words
from guardbook.actions.named_records import NamedRecords
from guardbook.catalogue.access import Access
from guardbook.intake.form_texts import rows_in
from guardbook.records.base import Model, Record
from guardbook.records.fields import fields_of
from guardbook.records.kinds import KINDS
from guardbook.records.values import Reference

_BY_NAME = frozenset({"agent", "institution"})
_MOST_NAMED, _MOST_OTHERS = 200, 30


def suggestions(access: Access, kinds: Sequence[str], words: str = "") -> tuple[Choice, ...]:
    """Give records of some kinds that an input can name, by what can be typed for them.

    With `words`, those that are found by them; else the newest.
    """
    found: list[Choice] = []
    for kind in kinds:
        most = _MOST_NAMED if kind in _BY_NAME else _MOST_OTHERS
        if words:
            iris = [hit.iri for hit in access.find(words, kind=kind, limit=_MOST_OTHERS).hits]
        else:
            iris = list(access.iris(kind))[: -most - 1 : -1]
        found += [_choice(access.record(iri).record) for iri in iris]
    return tuple(found)


def with_names(
    access: Access, texts: dict[str, tuple[str, ...]], model: type[Model], prefix: str
) -> dict[str, tuple[str, ...]]:
    """Give the texts with people and bodies by their names, where no other has that name too."""
    named = NamedRecords(access)
    found = dict(texts)
    for path in fields_of(model):
        name = f"{prefix}.{path.json_name}"
        if path.part:
            for at in rows_in(texts, name):
                found |= with_names(access, found, path.part, f"{name}.{at}")
        elif isinstance(path.marker, Reference) and _BY_NAME & set(path.marker.kinds) and texts.get(name):
            pieces = [_name(access, named, one) for one in texts[name][0].split("; ")]
            found[name] = ("; ".join(pieces),)
    return found


def _name(access: Access, named: NamedRecords, short: str) -> str:
    """Give the name of a person or body, or the identifier where the name alone could be misread."""
    iri = settings.current().base + short
    record = access.record(iri).record if short and access.has(iri) else None
    name = getattr(record, "name", None) or ""
    is_plain = bool(name) and ";" not in name and named.by_name(name, _BY_NAME) == (iri,)
    return name if is_plain and not access.numbered(name) else short


def _choice(record: Record) -> Choice:
    name = getattr(record, "name", None) if record.kind in _BY_NAME else None
    value = name or record.workshop_number or record.id.removeprefix(settings.current().base)
    label = kind_in_words(KINDS[record.kind]) if name else record.display_title
    shelfmark = getattr(record, "shelfmark", None)
    return Choice(value=value, label=f"{label} · {shelfmark}" if shelfmark and not name else label)
