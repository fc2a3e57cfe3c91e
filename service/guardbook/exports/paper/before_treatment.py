"""The part of an owner's report on what was found: the volume, its pieces in place, what was examined."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from guardbook.binding.ordering import is_planned
from guardbook.binding.pieces import PieceTold
from guardbook.binding.stays import Stay
from guardbook.exports.paper.blocks import Block, facts, section, table
from guardbook.exports.paper.matter import Matter
from guardbook.exports.paper.photographs import BEFORE, photographs
from guardbook.exports.paper.places import places_told
from guardbook.exports.paper.said import (
    date_said,
    label_of,
    language_of_text,
    listed,
    millimetres,
    size,
    term,
)
from guardbook.exports.paper.treatment import received_stage
from guardbook.records.fragment import Fragment
from guardbook.records.host import HostVolume
from guardbook.records.separation import Separation
from guardbook.wording import _


def before_treatment(matter: Matter) -> tuple[Block, ...]:
    """Tell what was found before anything was done."""
    pieces = _pieces(matter)
    return (
        *section(_("The volume"), facts(volume_facts(matter.host)) if matter.host else ()),
        *_the_piece(matter),
        *section(_("Found before treatment"), (*pieces, *_examined(matter), *photographs(matter, BEFORE))),
    )


def _the_piece(matter: Matter) -> tuple[Block, ...]:
    if not isinstance(matter.subject, Fragment):
        return ()
    return section(_("The piece"), facts(piece_facts(matter.subject)))


def volume_facts(host: HostVolume) -> Iterator[tuple[str, str | None]]:
    """Give what is known of a volume as facts, in the order of a description."""

    def label(name: str) -> str:
        return label_of("HostVolume", name)

    yield label("content"), host.content
    yield label("textDate"), _reasoned(host.text_date, host.text_date_reason)
    yield label("textPlace"), host.text_place
    yield label("bindingKind"), term("binding-kind", host.binding_kind) if host.binding_kind else None
    yield label("bindingDate"), _reasoned(host.binding_date, host.binding_date_reason)
    yield label("bookFormat"), term("format", host.book_format) if host.book_format else None
    yield _("Height × width"), size(host.height, host.width)
    yield label("thickness"), millimetres(host.thickness) if host.thickness is not None else None
    yield label("spineWidth"), millimetres(host.spine_width) if host.spine_width is not None else None
    yield label("panels"), str(host.panels) if host.panels is not None else None
    yield label("gatherings"), str(len(host.gatherings)) if host.gatherings else None
    yield label("condition"), host.condition
    yield label("note"), host.note


def piece_facts(piece: Fragment) -> Iterator[tuple[str, str | None]]:
    """Give what is known of a piece as facts, in the order of a description."""

    def label(name: str) -> str:
        return label_of("Fragment", name)

    yield label("extent"), _term("extent", piece.extent)
    yield label("material"), listed([_term("material", piece.material), _term("animal", piece.animal)])
    yield _("Height × width"), size(piece.height, piece.width)
    yield label("thickness"), millimetres(piece.thickness) if piece.thickness is not None else None
    yield label("condition"), piece.condition
    yield label("script"), _term("script", piece.script)
    yield label("notation"), _term("notation", piece.notation)
    yield label("lines"), str(piece.lines) if piece.lines is not None else None
    yield label("columns"), str(piece.columns) if piece.columns is not None else None
    yield label("linePitch"), millimetres(piece.line_pitch) if piece.line_pitch is not None else None
    yield label("ruling"), piece.ruling
    yield label("decoration"), piece.decoration
    yield label("watermark"), piece.watermark
    yield label("textIdentified"), piece.text_identified
    yield label("textLanguages"), listed(language_of_text(code) for code in piece.text_languages)
    yield label("firstWords"), piece.first_words
    yield label("hiddenFace"), piece.hidden_face
    yield label("dateMade"), _reasoned(piece.date_made, piece.date_reason)
    yield label("placeMade"), _reasoned(piece.place_made, piece.place_reason, is_date=False)
    yield label("note"), piece.note


def _term(scheme: str, slug: str | None) -> str:
    return term(scheme, slug) if slug else ""


def _reasoned(value: str | None, reason: str | None, *, is_date: bool = True) -> str | None:
    if not value:
        return None
    said = date_said(value) if is_date else value
    return _("{statement} ({reason})").format(statement=said, reason=reason.rstrip(".")) if reason else said


def _pieces(matter: Matter) -> Sequence[Block]:
    rows = tuple(_piece_row(matter, one) for one in matter.pieces)
    head = (_("Piece"), _("What it was"), _("Where"), _("How it was held"), _("Condition"))
    return table(head, rows, (2.9, 2.0, 3.8, 2.1, 2.4))


def _piece_row(matter: Matter, one: PieceTold) -> tuple[str, ...]:
    stay = _found_in(matter, one)
    lying = stay.lyings[-1] if stay and stay.lyings else None
    piece = matter.dossier.piece(one.piece)
    function = stay.said("function") if stay else None
    fixings = stay.said("fixings") or () if stay else ()
    told = (
        _term("function", function),
        places_told(stay, lying) if stay and lying else "",
        listed(term("fixing", slug) for slug in fixings),
        (piece.condition if piece else None) or "",
    )
    return (matter.piece(one.piece), *(words or _("not recorded") for words in told))


def _found_in(matter: Matter, one: PieceTold) -> Stay | None:
    """Give the stay in which a piece was found: that at the stage as received, or else the first."""
    received = received_stage(matter.host)
    there = [stay for stay in one.stays if received is not None and stay.holds_at(received)]
    return next(iter([*there, *one.stays]), None)


def _examined(matter: Matter) -> tuple[Block, ...]:
    """Give what was examined while the pieces were lifted, as their removals note it."""
    removals = [
        event
        for one in matter.pieces
        for event in matter.dossier.events_of_piece(one.piece)
        if isinstance(event, Separation) and not is_planned(event)
    ]
    rows: dict[tuple[str, str], dict[str, None]] = {}
    for event in removals:
        named = listed(term("examination", slug) for slug in event.examinations)
        if named or event.examinations_note:
            pieces = rows.setdefault((named, event.examinations_note or ""), {})
            pieces[matter.piece(event.piece)] = None
    told = [(";\n".join(pieces), *examined) for examined, pieces in rows.items()]
    head = (_("Piece"), _("Examined"), _("Noted"))
    return section(_("What was examined"), table(head, told, (3.4, 4.0, 3.6)), 2)
