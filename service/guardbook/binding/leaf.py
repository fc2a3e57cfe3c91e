"""Pieces cut from one carrier set out in the frames of the leaves they came from, with what is missing."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from statistics import fmean

import shapely
from shapely.geometry.base import BaseGeometry

from guardbook.binding.dossier import Dossier
from guardbook.binding.leaf_parts import LeafPiece, Rejoined, RejoinedLeaf
from guardbook.binding.leaf_pieces import Cut, cuts_of, piece_on_leaf
from guardbook.binding.leaf_space import missing_parts, overlaps_of
from guardbook.binding.limits import EDGES
from guardbook.binding.missing_lines import Written, missing_lines
from guardbook.binding.surviving_lines import letters, lines_on, located
from guardbook.errors import NotFound
from guardbook.records.base import natural_order
from guardbook.records.carrier import Carrier
from guardbook.wording import _


def rejoined(dossier: Dossier, carrier: str) -> Rejoined:
    """Set the known pieces of a carrier out on its leaves.

    Where its record gives its text as known from elsewhere, missing lines are estimated from that too (see
    `missing_lines`). Pieces are known as far as they are in the dossier. Raises NotFound where the carrier
    is not.
    """
    record = dossier.records.get(carrier)
    if not isinstance(record, Carrier):
        told = _("There is no record of the carrier {record} here.")
        raise NotFound(message=told.format(record=carrier))
    leaves: dict[tuple[str, str | None], list[Cut]] = defaultdict(list)
    unplaced = []
    for cut in cuts_of(dossier, carrier):
        if cut.place.carrier_leaf is None:
            unplaced.append(piece_on_leaf(dossier, cut, record, side=cut.place.leaf_side))
        else:
            leaves[cut.place.carrier_leaf, _side_shown(record, cut)].append(cut)
    text = letters(record.known_text or "")
    ordered = sorted(leaves, key=lambda key: (natural_order(key[0]), key[1] or ""))
    return Rejoined(
        carrier=carrier,
        name=dossier.name(carrier),
        leaves=tuple(_leaf(dossier, record, key, leaves[key], text) for key in ordered),
        unplaced=tuple(unplaced),
    )


def _side_shown(carrier: Carrier, cut: Cut) -> str | None:
    """Show every piece on the recto, where the width of the leaf says how a verso place falls there."""
    if cut.place.leaf_side == "verso" and carrier.width is not None:
        return "recto"
    return cut.place.leaf_side


def _leaf(
    dossier: Dossier, carrier: Carrier, key: tuple[str, str | None], cuts: Sequence[Cut], text: str
) -> RejoinedLeaf:
    name, side = key
    pieces = [piece_on_leaf(dossier, cut, carrier, side=side) for cut in cuts]
    outlines = [piece.outline for piece in pieces if piece.outline is not None]
    edges, size_from = _edges(carrier, outlines)
    missing, share = missing_parts(
        shapely.box(edges["left"], edges["bottom"], edges["right"], edges["top"]), outlines
    )
    pitches = _pitches(carrier, cuts)
    return RejoinedLeaf(
        carrier=carrier.id,
        leaf=name,
        side=side,
        **edges,
        size_from=size_from,
        pieces=tuple(pieces),
        missing=missing,
        known_share=share,
        line_pitch=fmean(pitches) if pitches else None,
        lines=carrier.lines,
        missing_lines=missing_lines(_written(carrier, cuts, pieces, text), pitches),
        overlaps=overlaps_of(pieces),
    )


def _edges(carrier: Carrier, outlines: Sequence[BaseGeometry]) -> tuple[dict[str, float], str]:
    """Give the edges of a leaf by the size of the carrier, else those of the pieces, and which it is."""
    bounds = [float(edge) for edge in shapely.total_bounds(list(outlines))] if outlines else [0.0] * 4
    edges = dict(zip(EDGES, bounds, strict=True))
    if carrier.width is not None:
        edges |= {"left": 0.0, "right": float(carrier.width)}
    if carrier.height is not None:
        edges |= {"bottom": 0.0, "top": float(carrier.height)}
    return edges, "pieces" if carrier.width is None or carrier.height is None else "stated"


def _pitches(carrier: Carrier, cuts: Iterable[Cut]) -> list[float]:
    """Give the line pitches measured on the pieces, or the carrier's where there are none."""
    measured = [float(cut.piece.line_pitch) for cut in cuts if cut.piece.line_pitch]
    return measured or ([float(carrier.line_pitch)] if carrier.line_pitch else [])


def _written(carrier: Carrier, cuts: Sequence[Cut], pieces: Sequence[LeafPiece], text: str) -> list[Written]:
    width = float(carrier.written_width) / (carrier.columns or 1) if carrier.written_width else None
    return [
        Written(
            piece=piece,
            lines=located(lines_on(cut.piece.reading_text, piece.first_line, piece.last_line), text),
            left_in_lines=float(piece.outline.bounds[0]) / width
            if width and piece.outline is not None
            else None,
        )
        for cut, piece in zip(cuts, pieces, strict=True)
    ]
