"""What the pages of records are made of: drawings, sentences and lists, each from its action."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup
from starlette.requests import Request

from guardbook.actions.check_record import check_record
from guardbook.actions.date_record import date_record
from guardbook.actions.draw_in_place import draw_in_place, places_to_draw
from guardbook.actions.draw_piece import draw_piece_faces
from guardbook.actions.draw_stage import StageDrawn, draw_stage
from guardbook.actions.pictures_shown import pictures_shown
from guardbook.actions.pieces_of_host import pieces_of_host
from guardbook.actions.stages_of_host import stages_of_host
from guardbook.actions.weigh_evidence import weigh_evidence
from guardbook.actions.where_it_sat import where_it_sat
from guardbook.binding.pieces import HostPieces
from guardbook.binding.replay import life_of
from guardbook.binding.scene import Scene
from guardbook.catalogue.access import Access
from guardbook.completeness.report import Missing, Report
from guardbook.errors import NothingToDraw, WrongUse
from guardbook.evidence.dated import Dating
from guardbook.evidence.evidence import Evidence, claim_lines
from guardbook.pages.rendering import short
from guardbook.records.base import Record
from guardbook.records.fragment import Fragment
from guardbook.wording import _

# how much of a long list stands on the page of a record; the rest is a link away
MOST_MISSING, MOST_TO_SETTLE, MOST_READINGS = 5, 6, 4

Both = tuple[Markup, Markup]
Shown = dict[str, Any]


def to_record(request: Request) -> Callable[[str], str]:
    """Give what makes the address of a record's page from its IRI."""
    root = request.scope.get("root_path", "")
    return lambda iri: f"{root}/{short(iri)}"


def drawn(svg: str) -> Markup:
    """Let a drawing stand in a page: it is ours, with every text escaped."""
    return Markup(svg)  # noqa: S704


def both(wide: StageDrawn) -> Both:
    """Give a drawing for a wide screen and for a narrow one."""
    return drawn(wide.svg), drawn(wide.narrow("narrow"))


def number_asked(request: Request, name: str) -> int | None:
    """Give a number from the address, None where there is none. Raises WrongUse for what is no number."""
    text = request.query_params.get(name) or ""
    if text and not (text.isascii() and text.isdigit() and len(text) < 9):
        raise WrongUse(
            message=_("Expected a number in {name}, found {found}.").format(name=name, found=repr(text))
        )
    return int(text) if text else None


@dataclass(frozen=True)
class PieceRow:
    """A piece beside the drawing: its letter, whether it is there at this stage, and where it is now.

    `now` is None for a piece that is in this volume still.
    """

    letter: str
    iri: str
    name: str
    is_in_place: bool
    has_been: bool
    stays: str
    now: str | None


def binding_parts(request: Request, access: Access, iri: str) -> Shown:
    """Give a volume at the stage and in the drawing that the address asks for, and its pieces by letter."""
    asked = request.query_params
    told = pieces_of_host(access, iri)
    stages = stages_of_host(access, iri)
    found: Shown = {
        "told": told,
        "stages": stages,
        "shared": list(_shared(told)),
        "binding": None,
        "pieces": list(_rows(told, None)),
    }
    try:
        wide = draw_stage(
            access,
            iri,
            number_asked(request, "stage"),
            asked.get("plane") or None,
            like=asked.get("like"),
            link=to_record(request),
            id_prefix="wide",
        )
    except NothingToDraw:
        return found
    return {**found, "binding": wide, "drawings": both(wide), "pieces": list(_rows(told, wide))}


def _rows(told: HostPieces, wide: StageDrawn | None) -> Iterator[PieceRow]:
    for piece in told.pieces:
        here, gone = _at_stage(wide.scene, piece.piece) if wide else (False, False)
        still_there = piece.now.state == "in-volume" and piece.now.host == told.host
        yield PieceRow(
            letter=wide.look.letters.get(piece.piece, "") if wide else "",
            iri=piece.piece,
            name=told.dossier.name(piece.piece),
            is_in_place=here,
            has_been=gone,
            stays=piece.stays_words(told.dossier),
            now=None if still_there else piece.now_words(told.dossier),
        )


@dataclass(frozen=True)
class Shared:
    """Another volume that held a piece of this one, which therefore can be laid over it."""

    iri: str
    name: str
    piece: str


def _shared(told: HostPieces) -> Iterator[Shared]:
    """Give the other volumes that held a piece of this one, each once."""
    given = {told.host}
    for piece in told.pieces:
        for stay in life_of(told.dossier, piece.piece).stays:
            if stay.host not in given and told.dossier.host(stay.host):
                given.add(stay.host)
                name, of_piece = (told.dossier.name(iri) for iri in (stay.host, piece.piece))
                yield Shared(stay.host, name, of_piece)


def _at_stage(scene: Scene, piece: str) -> tuple[bool, bool]:
    """Say whether a piece is in place at a stage, and whether it was there before and is gone."""
    gaps = (*scene.unplaced_gaps, *(gap for plane in scene.planes for gap in plane.gaps))
    return bool(scene.of_piece(piece)), any(gap.piece == piece for gap in gaps)


def piece_parts(request: Request, access: Access, iri: str) -> Shown:
    """Give a piece where it sat, by itself, and in its pictures."""
    told = where_it_sat(access, iri)
    placed = draw_in_place(
        access, told, number_asked(request, "stay"), link=to_record(request), id_prefix="wide"
    )
    return {
        "told": told,
        "places": places_to_draw(told),
        "place": placed[0] if placed else None,
        "drawings": both(placed[1]) if placed else None,
        "faces": [drawn(svg) for svg in draw_piece_faces(access, iri, narrow=True)],
        "pictures": pictures_shown(access, iri),
        "carriers": list(_carriers(access, access.record(iri).record)),
    }


def _carriers(access: Access, piece: Record) -> Iterator[tuple[str, str, str | None]]:
    """Give what a piece was cut from: the carrier, its name, the leaf."""
    for place in piece.carrier_places if isinstance(piece, Fragment) else ():
        if access.has(place.carrier):
            yield place.carrier, access.record(place.carrier).record.display_title, place.carrier_leaf


@dataclass(frozen=True)
class Known:
    """A sentence, and the sentences that prove it or go with it."""

    sentence: str
    reasons: tuple[str, ...]


def evidence_parts(access: Access, iri: str) -> Shown:
    """Give what is known of dates and history of a volume or piece, and what would settle the rest."""
    dates, weighed = date_record(access, iri), weigh_evidence(access, iri)
    settle = list(dict.fromkeys(_would_settle(weighed)))
    return {
        "dates": list(_dates(dates)),
        "cases": [case.words() for case in dates.cases],
        "clashes": [clash.words() for clash in dates.contradictions],
        "readings": [_known(list(claim_lines(claim))) for claim in weighed.claims[:MOST_READINGS]],
        "readings_more": max(len(weighed.claims) - MOST_READINGS, 0),
        "entered": [one.words() for one in weighed.entered],
        "settle": settle[:MOST_TO_SETTLE],
    }


def _dates(dates: Dating) -> Iterator[Known]:
    """Give the times of the record itself; those of what happened to its pieces are told with these."""
    for one in dates.times:
        if one.record == dates.record:
            yield _known(one.words().split("\n"))


def _known(lines: list[str]) -> Known:
    return Known(lines[0].strip(), tuple(line.strip() for line in lines[1:]))


def _would_settle(weighed: Evidence) -> Iterator[str]:
    for claim in weighed.claims:
        for reading in claim.readings:
            yield from reading.would_decide
    yield from weighed.to_look_for


def missing_parts(access: Access, iri: str) -> Shown:
    """Give what is missing, in short: what cannot be got later first."""
    report = check_record(access, iri)
    return {"report": report, "missing": [_of_kind(report, later=later) for later in (False, True)]}


def _of_kind(report: Report, *, later: bool) -> tuple[list[Missing], int]:
    found: dict[tuple[str, str], Missing] = {}
    for item in report.missing:
        if item.later == later:
            found.setdefault((item.label, item.message), item)
    shown = list(found.values())
    return shown[:MOST_MISSING], max(len(shown) - MOST_MISSING, 0)
