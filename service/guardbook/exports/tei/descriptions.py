"""The description of each kind of record: a piece, a volume, a carrier with the pieces known of it."""

from __future__ import annotations

from xml.etree.ElementTree import Element

from guardbook.exports.surroundings import Surroundings
from guardbook.exports.tei.additional import additional
from guardbook.exports.tei.elements import XML_ID, Child, element, some
from guardbook.exports.tei.history import events_of, history, keeping, origin
from guardbook.exports.tei.identified import head, identified
from guardbook.exports.tei.physical import (
    condition,
    dimensions,
    hand,
    layout,
    music,
    object_described,
    support,
)
from guardbook.exports.tei.telling import Teller
from guardbook.exports.tei.volumes import bound, bound_in, collation
from guardbook.records.base import Record
from guardbook.records.carrier import Carrier
from guardbook.records.fragment import Fragment
from guardbook.records.host import HostVolume

_MADE = ("dateMade", "dateReason", "placeMade", "placeReason")
_WRITTEN = (
    "material", "height", "width", "writtenHeight", "writtenWidth", "columns", "lines", "linePitch", "ruling",
    "script", "textLanguages", "textIdentified", *_MADE,
)  # fmt: skip
# the fields of each that have an element of their own
PIECE = (
    *_WRITTEN, "extent", "animal", "thickness", "condition", "features", "chainLines", "watermark",
    "notation", "decoration", "firstWords", "readingText", "hiddenFace",
)  # fmt: skip
VOLUME = (
    "content", "textDate", "textDateReason", "textPlace", "height", "width", "thickness", "condition",
    "stages", "gatherings", "bindingKind", "bindingDate", "bindingDateReason", "spineWidth", "panels",
    "stations",
)  # fmt: skip
CARRIER = (*_WRITTEN, "carrierKind", "content")
KINDS = frozenset({Fragment.kind, HostVolume.kind, Carrier.kind})


def described(record: Record, around: Surroundings) -> Element | None:
    """Give the description of a piece, volume or carrier; None for any other record."""
    match record:
        case Fragment():
            made = _piece(record, Teller(record, around))
        case HostVolume():
            made = _volume(record, Teller(record, around))
        case Carrier():
            made = _carrier(record, Teller(record, around))
        case _:
            return None
    made.set(XML_ID, record.short.replace("/", "-"))
    made.set("type", record.kind)
    return made


def _piece(record: Fragment, teller: Teller) -> Element:
    events = events_of(teller)
    features = some("list", *(teller.part(one) for one in record.features), type="features")
    supported = support(
        teller,
        some("extent", dimensions("piece", height=record.height, width=record.width, depth=record.thickness)),
        condition(record.condition, features),
    )
    return element(
        "msDesc",
        identified(teller),
        head(teller, record.place_made, record.date_made),
        _contents(
            record,
            some("incipit", record.first_words),
            some("note", record.reading_text, type="reading"),
            some("note", record.hidden_face, type="hidden-face"),
        ),
        some(
            "physDesc",
            object_described(record.extent, supported, layout(record)),
            hand(teller, record.script),
            music(teller, record.notation),
            some("decoDesc", some("decoNote", record.decoration)),
        ),
        history(teller, _made(record), events),
        additional(teller, keeping(teller, events), told=PIECE),
    )


def _volume(record: HostVolume, teller: Teller) -> Element:
    events = [event for event in events_of(teller) if event.kind not in {"placing", "separation"}]
    supported = support(
        teller,
        some("extent", dimensions("leaf", height=record.height, width=record.width, depth=record.thickness)),
        collation(teller, record),
        condition(record.condition),
    )
    made = origin(record.text_date, record.text_date_reason, record.text_place)
    return element(
        "msDesc",
        identified(teller),
        head(teller, record.text_place, record.text_date),
        some("msContents", some("msItem", some("title", record.content))),
        some("physDesc", object_described("codex", supported), bound(teller, record), bound_in(teller)),
        history(teller, made, events, record.stages),
        additional(teller, keeping(teller, events), told=VOLUME),
    )


def _carrier(record: Carrier, teller: Teller) -> Element:
    supported = support(teller, some("extent", dimensions("leaf", height=record.height, width=record.width)))
    return element(
        "msDesc",
        identified(teller),
        head(teller, record.place_made, record.date_made),
        _contents(record, some("note", record.content)),
        some(
            "physDesc",
            object_described(record.carrier_kind, supported, layout(record)),
            hand(teller, record.script),
        ),
        history(teller, _made(record), ()),
        additional(teller, None, told=CARRIER),
        *_known_pieces(teller),
    )


def _known_pieces(teller: Teller) -> list[Element]:
    """Give each piece that is known of a former whole, with its place in it, as a fragment of it."""
    linked = teller.around.linked(teller.record.id, "carrier")
    found = (teller.around.record(iri) for iri in linked)
    return [_known_piece(piece, teller) for piece in found if isinstance(piece, Fragment)]


def _known_piece(piece: Fragment, teller: Teller) -> Element:
    own = Teller(piece, teller.around)
    places = [place for place in piece.carrier_places if place.carrier == teller.record.id]
    address = element("ref", piece.short, target=piece.id)
    told = element("p", address, element("list", *(own.part(place) for place in places)))
    return element("msFrag", identified(own), told)


def _contents(record: Fragment | Carrier, *further: Child) -> Element | None:
    languages = record.text_languages
    said = {"mainLang": languages[0]} if len(languages) == 1 else {"otherLangs": " ".join(languages)}
    return some(
        "msContents",
        element("textLang", ", ".join(languages), **said) if languages else None,
        some("msItem", some("title", record.text_identified), *further),
    )


def _made(record: Fragment | Carrier) -> Element | None:
    return origin(record.date_made, record.date_reason, record.place_made, record.place_reason)
