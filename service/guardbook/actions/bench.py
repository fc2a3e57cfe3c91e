"""The overview for the workshop: what is open, what is about to be lost, what clashes, what is away."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from guardbook.actions.bench_rows import count_in
from guardbook.actions.settle_standing import settle_standing
from guardbook.binding.contradictions import event_words
from guardbook.catalogue.access import Access, Viewer
from guardbook.errors import NotAllowed, WrongUse
from guardbook.evidence.situations import quoted, short
from guardbook.records.date_words import date_words
from guardbook.records.event import Event
from guardbook.records.separation import Separation
from guardbook.wording import _, ngettext

SHORT_LIST, LONG_LIST = 8, 200
PATIENCE_SECONDS = 0.5
PLANNED, NEVER_AGAIN, CONTRADICTIONS = "planned", "never-again", "contradictions"
PLACE_UNKNOWN, AWAY = "place-unknown", "away"


@dataclass(frozen=True, kw_only=True)
class BenchItem:
    """One piece or volume: what it is called, what there is to say of it, and the page that says more."""

    record: str
    title: str
    number: str | None
    words: str
    page: str

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            "record": self.record,
            "title": self.title,
            "workshopNumber": self.number,
            "words": self.words,
            "page": self.page,
        }


@dataclass(frozen=True, kw_only=True)
class BenchSection:
    """One list, the most urgent first: how many there are in all, and those that are shown."""

    name: str
    heading: str
    nothing: str
    count: int
    items: tuple[BenchItem, ...]

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            "name": self.name,
            "heading": self.heading,
            "count": self.count,
            "items": [one.as_json() for one in self.items],
        }


@dataclass(frozen=True, kw_only=True)
class Bench:
    """The lists of the overview; `waiting` counts the pieces and volumes that are still being looked at."""

    sections: tuple[BenchSection, ...]
    waiting: int

    def words(self) -> str:
        """Tell it line by line."""
        return "\n".join(self._lines())

    def _lines(self) -> Iterator[str]:
        if self.waiting:
            yield self.waiting_words()
        for section in self.sections:
            yield f"{section.heading} ({section.count})" if section.count else self.nothing_words(section)
            for one in section.items:
                number = f" {one.number}" if one.number else ""
                yield f"  {one.title} [{short(one.record)}{number}]: {one.words}"
            if section.count > len(section.items):
                yield "  " + more_words(section.count - len(section.items))

    def nothing_words(self, section: BenchSection) -> str:
        """Say that a list is empty, as far as is known."""
        if not self.waiting:
            return section.nothing
        return _("{list}: none among what has been looked at so far.").format(list=section.heading)

    def waiting_words(self) -> str:
        """Say that not everything has been looked at yet."""
        return ngettext(
            "{count} piece or volume has changed and is still being looked at.",
            "{count} pieces and volumes have changed and are still being looked at.",
            self.waiting,
        ).format(count=self.waiting)

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            "sections": [section.as_json() for section in self.sections],
            "waiting": self.waiting,
            "words": self.words(),
        }


def more_words(count: int) -> str:
    """Say how many more there are than are listed."""
    return ngettext("And {count} more.", "And {count} more.", count).format(count=count)


def bench(
    access: Access, only: str | None = None, *, patience_seconds: float | None = PATIENCE_SECONDS
) -> Bench:
    """Give the overview, each list short; `only` gives one of the lists as a long one.

    What changed is looked at for as long as the patience lasts (None: to the end). Raises NotAllowed for the
    public, and WrongUse for a list that there is not.
    """
    if access.viewer is not Viewer.WORKSHOP:
        raise NotAllowed(message=_("The overview is for the workshop only."))
    if only is not None and only not in _LISTS:
        raise WrongUse(
            message=_("There is no list {list}. The lists are: {lists}.").format(
                list=repr(only), lists=", ".join(_LISTS)
            )
        )
    waiting = settle_standing(access, patience_seconds)
    at_most = LONG_LIST if only else SHORT_LIST
    names = (only,) if only else tuple(_LISTS)
    return Bench(sections=tuple(_section(access, name, at_most) for name in names), waiting=waiting)


def _section(access: Access, name: str, at_most: int) -> BenchSection:
    rows_named, newest_first, told = _LISTS[name]
    rows: Sequence[tuple[str, str]] = access.standings(rows_named)
    if newest_first:
        rows = rows[::-1]
    shown = [(iri, value) for iri, value in rows[:at_most] if access.has(iri)]
    heading, nothing = _headings(name)
    return BenchSection(
        name=name,
        heading=heading,
        nothing=nothing,
        count=len(rows),
        items=tuple(_item(access, iri, *told(access, iri, value)) for iri, value in shown),
    )


def _item(access: Access, iri: str, words: str, page: str) -> BenchItem:
    record = access.record(iri).record
    return BenchItem(
        record=iri,
        title=record.display_title,
        number=record.workshop_number,
        words=words,
        page=page,
    )


def _headings(name: str) -> tuple[str, str]:
    return {
        PLANNED: (_("Open on the bench"), _("Nothing is planned.")),
        NEVER_AGAIN: (
            _("Incomplete, and cannot be got later"),
            _("Nothing that is about to be lost is missing."),
        ),
        CONTRADICTIONS: (_("Contradictions"), _("Nothing contradicts itself.")),
        PLACE_UNKNOWN: (
            _("Pieces whose place is not known"),
            _("Of every piece it is known where it is, and where it was."),
        ),
        AWAY: (_("Pieces away from their volume"), _("No piece is away from its volume.")),
    }[name]


def _planned(access: Access, piece: str, value: str) -> tuple[str, str]:
    _date, iri = json.loads(value)
    event = _event(access, iri)
    if event is None:
        return _("something that is not there any more"), f"{short(piece)}.html"
    host = getattr(event, "host", None)
    words = event_words(event)
    if host and access.has(host):
        name = quoted(access.record(host).record.display_title)
        words = _("{event}, {volume}").format(event=words, volume=name)
    return words, f"{event.short}/before-lifting" if isinstance(event, Separation) else f"{event.short}.html"


def _never_again(_access: Access, piece: str, value: str) -> tuple[str, str]:
    count = count_in(value)
    told = ngettext(
        "{count} thing cannot be recorded later", "{count} things cannot be recorded later", count
    )
    return told.format(count=count), f"{short(piece)}/before-lifting"


def _contradictions(_access: Access, record: str, value: str) -> tuple[str, str]:
    count = count_in(value)
    told = ngettext("{count} contradiction", "{count} contradictions", count)
    return told.format(count=count), f"{short(record)}.html"


def _unknown(access: Access, piece: str, value: str) -> tuple[str, str]:
    page = f"{short(piece)}.html"
    _date, what, iri = json.loads(value)
    event = _event(access, iri)
    told = {
        "unknown": _("where it is now is not recorded"),
        "lost": _("lost"),
        "volume-unknown": _("which volume it comes from is not known"),
    }[what]
    if event is None:
        return told, page
    words = _("{state}; the last that is known is {event}")
    return words.format(state=told, event=event_words(event)), page


def _away(access: Access, piece: str, value: str) -> tuple[str, str]:
    _date, keeper, iri = json.loads(value)
    event = _event(access, iri)
    by = access.record(keeper).record.display_title if keeper and access.has(keeper) else ""
    since = date_words(event.when) if event and event.when else ""
    return _away_words(by, since), f"{short(piece)}.html"


def _away_words(by: str, since: str) -> str:
    if by and since:
        return _("since {date}, with {keeper}").format(date=since, keeper=by)
    if by:
        return _("with {keeper}").format(keeper=by)
    return _("since {date}").format(date=since) if since else _("since an unknown date")


def _event(access: Access, iri: str) -> Event | None:
    record = access.record(iri).record if iri and access.has(iri) else None
    return record if isinstance(record, Event) else None


_Told = Callable[[Access, str, str], tuple[str, str]]
# for each list: the rows it is made of, whether the newest comes first, and how a row is told
_LISTS: Mapping[str, tuple[str, bool, _Told]] = MappingProxyType(
    {
        PLANNED: ("benchPlanned", False, _planned),
        NEVER_AGAIN: ("benchNeverAgain", False, _never_again),
        CONTRADICTIONS: ("benchContradictions", False, _contradictions),
        PLACE_UNKNOWN: ("benchPlaceUnknown", True, _unknown),
        AWAY: ("benchAway", True, _away),
    }
)
LISTS = tuple(_LISTS)
