"""Records that inputs suggest: people and bodies by name, pieces and volumes by number, the newest first."""

from __future__ import annotations

from collections.abc import Sequence

from guardbook import settings
from guardbook.actions.form_parts import Choice
from guardbook.actions.kind_words import kind_in_words
from guardbook.catalogue.access import Access
from guardbook.records.base import Record
from guardbook.records.kinds import KINDS

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


def _choice(record: Record) -> Choice:
    name = getattr(record, "name", None) if record.kind in _BY_NAME else None
    value = name or record.workshop_number or record.id.removeprefix(settings.current().base)
    label = kind_in_words(KINDS[record.kind]) if name else record.display_title
    shelfmark = getattr(record, "shelfmark", None)
    return Choice(value=value, label=f"{label} · {shelfmark}" if shelfmark and not name else label)
