"""Tell what was found in a few words each: what it is, of what and when, where it sat, where it is now."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from guardbook.actions.event_dossier import dossier_of_piece
from guardbook.actions.kind_words import kind_in_words
from guardbook.actions.pictures_shown import PictureShown, pictures_shown
from guardbook.binding.dossier import Dossier
from guardbook.binding.drawing.small import draw_small
from guardbook.binding.now import Now, now_of
from guardbook.binding.replay import life_of
from guardbook.binding.stays import Stay
from guardbook.catalogue.access import Access, Hit
from guardbook.catalogue.facets import DATE_FIELDS, span
from guardbook.records import terms
from guardbook.records.base import Record
from guardbook.records.date_words import date_words
from guardbook.records.event import Event
from guardbook.records.fragment import Fragment
from guardbook.records.host import HostVolume
from guardbook.records.placing import Placing
from guardbook.wording import _, language, ngettext


@dataclass(frozen=True, kw_only=True)
class Sat:
    """That a piece sat in a volume: the volume, and the sentence that says so."""

    host: str
    words: str


@dataclass(frozen=True, kw_only=True)
class HitTold:
    """One record found: its kind; what it is made of, or how many pieces it had; its date; where it was, is.

    `days` are the bounds of its date (see `catalogue.facets.span`). `picture` is one that is kept here,
    `drawing` its outline as SVG where there is none; both only where they were asked for.
    """

    hit: Hit
    kind: str
    said: tuple[str, ...]
    days: tuple[int, int] | None
    sat: tuple[Sat, ...] = ()
    now: str = ""
    picture: PictureShown | None = None
    drawing: str = ""

    @property
    def in_short(self) -> str:
        """Give what is said of it and its workshop number, on one line."""
        number = (self.hit.workshop_number,) if self.hit.workshop_number else ()
        return " · ".join((*self.said, *number))


def tell_hits(access: Access, hits: Iterable[Hit], *, with_pictures: bool = False) -> tuple[HitTold, ...]:
    """Tell of each record found, as this viewer may see it; with pictures, or drawings, where asked for."""
    told = (_told(access, hit) for hit in hits)
    return tuple(_pictured(access, one) if with_pictures else one for one in told)


def _told(access: Access, hit: Hit) -> HitTold:
    record = access.record(hit.iri).record
    sat, now = _whereabouts(access, record)
    # the index calls it in English, as the record says nothing of how it is called
    called = record.in_short(language()) if isinstance(record, Event) and not record.title else ""
    return HitTold(
        hit=replace(hit, title=called or hit.title),
        kind=kind_in_words(type(record)),
        said=tuple(_said(access, record)),
        days=span(record),
        sat=sat,
        now=now,
    )


def _pictured(access: Access, told: HitTold) -> HitTold:
    record = access.record(told.hit.iri).record
    if not isinstance(record, Fragment | HostVolume):
        return told
    if picture := next((one for one in pictures_shown(access, record.id) if one.is_here), None):
        return replace(told, picture=picture)
    return replace(told, drawing=draw_small(record)) if isinstance(record, Fragment) else told


def _said(access: Access, record: Record) -> Iterator[str]:
    if isinstance(record, Fragment) and record.material:
        yield terms.label("material", record.material, language())
    if date := next((text for name in DATE_FIELDS if (text := getattr(record, name, None))), None):
        yield date_words(date)
    if isinstance(record, HostVolume) and (count := len(_pieces_in(access, record))):
        yield ngettext("{count} piece", "{count} pieces", count).format(count=count)


def _pieces_in(access: Access, host: HostVolume) -> set[str]:
    events = (access.record(iri).record for iri in access.linked(host.id, "host"))
    return {one.piece for one in events if isinstance(one, Placing) and one.status != "planned"}


def _whereabouts(access: Access, record: Record) -> tuple[tuple[Sat, ...], str]:
    if isinstance(record, Fragment):
        dossier = dossier_of_piece(access, record)
        life = life_of(dossier, record.id)
        # what was taken off and put back is told once
        sat = dict.fromkeys(Sat(host=stay.host, words=_stay_words(stay, dossier)) for stay in life.stays)
        return tuple(sat), _now_words(now_of(life, dossier), dossier)
    if isinstance(record, HostVolume) and record.keeper and access.has(record.keeper):
        keeper = access.record(record.keeper).record.display_title
        if record.shelfmark:
            return (), _("kept by {keeper}, {shelfmark}").format(keeper=keeper, shelfmark=record.shelfmark)
        return (), _("kept by {keeper}").format(keeper=keeper)
    return (), ""


def _stay_words(stay: Stay, dossier: Dossier) -> str:
    host, function = dossier.name(stay.host), stay.said("function")
    if not function:
        return _("in {volume}").format(volume=host)
    label = terms.label("function", function, language())
    return _("{function} in {volume}").format(function=label, volume=host)


def _now_words(now: Now, dossier: Dossier) -> str:
    keeper, volume = dossier.name(now.keeper), dossier.name(now.host)
    match now.state:
        case "in-volume":
            return _("in its place in {volume}").format(volume=volume)
        case "kept-with-volume":
            return _("kept with {volume}").format(volume=volume)
        case "kept" if now.keeper:
            return _("kept by {keeper}").format(keeper=keeper)
        case "kept":
            return _("kept apart")
        case "lost":
            return _("lost")
        case "destroyed":
            return _("destroyed")
        case _:
            return _("not known")
