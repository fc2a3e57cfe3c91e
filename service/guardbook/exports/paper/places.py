"""Where a piece sat, in a few words that fit on one line, in the language now spoken."""

from __future__ import annotations

from collections.abc import Iterator

from guardbook.binding.contradictions import sentence
from guardbook.binding.dossier import Dossier
from guardbook.binding.place_words import place_words
from guardbook.binding.replay import life_of
from guardbook.binding.stays import Lying, Stay
from guardbook.exports.paper.said import term
from guardbook.exports.surroundings import Surroundings
from guardbook.records.base import Record
from guardbook.records.fragment import Fragment
from guardbook.records.host import HostVolume
from guardbook.records.placing import Position
from guardbook.wording import _

BETWEEN = "\u00a0· "


def around_piece(piece: Fragment, around: Surroundings) -> Dossier:
    """Gather what a viewer may see of a piece's life: its events, and their volumes."""
    events = [record for iri in around.linked(piece.id, "piece") if (record := around.record(iri))]
    hosts = {getattr(event, "host", None) for event in events}
    found: list[Record] = [
        piece,
        *events,
        *(host for iri in sorted(filter(None, hosts)) if (host := around.record(iri))),
    ]
    return Dossier.of(found)


def last_stay(piece: Fragment, dossier: Dossier) -> Stay | None:
    """Give the stay a piece is in, or the last it was in, or None where none is recorded."""
    stays = life_of(dossier, piece.id).stays
    return stays[-1] if stays else None


def stay_line(stay: Stay, dossier: Dossier) -> str:
    """Say in one line as what and where a piece sat, and in which volume."""
    function = stay.said("function")
    positions = stay.lyings[-1].positions if stay.lyings else ()
    places = [place_line(position) for position in positions[:1]]
    host = dossier.host(stay.host)
    said = [term("function", function) if function else "", *places, volume_line(host) if host else ""]
    line = BETWEEN.join(part for part in said if part)
    return line[:1].upper() + line[1:]


def volume_line(host: HostVolume) -> str:
    """Name a volume with its shelfmark."""
    return f"{host.display_title} ({host.shelfmark})" if host.shelfmark else host.display_title


def places_told(stay: Stay, lying: Lying) -> str:
    """Say where a piece lay, with distances, in the words that are used everywhere, a place a line."""
    angle = stay.said("writing_angle")
    told = (sentence(place_words(position, lying, angle)) for position in lying.positions)
    return "\n".join(dict.fromkeys(told))


def place_line(position: Position) -> str:
    """Say where a position is, without distances: plane, side, panel, gathering, leaf."""
    return ", ".join(_areas(position))


def _areas(position: Position) -> Iterator[str]:
    # a numbered gathering or leaf says which fold or leaf it is
    if position.plane and position.gathering is None and position.leaf is None:
        yield term("plane", position.plane)
    if position.side:
        yield term("side", position.side)
    if position.panel is not None:
        yield _("panel {number}").format(number=position.panel)
    if position.gathering is not None:
        yield _("gathering {number}").format(number=position.gathering)
    if position.leaf is not None:
        yield _("leaf {number}").format(number=position.leaf)
    if position.leaf_side:
        yield term("leaf-side", position.leaf_side)
    if position.edge and position.panel is None:
        yield term("edge", position.edge)
