"""Signs in traces that go on across a joint or under a label."""

from __future__ import annotations

from guardbook.evidence.signs import Sign, seen, unknown
from guardbook.evidence.situations import quoted
from guardbook.evidence.subjects import Piece
from guardbook.records import terms
from guardbook.records.fragment import Feature
from guardbook.wording import _, language


def goes_on_across(piece: Piece) -> Sign:
    """See whether writing, a stain or offset of the piece goes on across the joint."""
    found = [trace for trace in piece.piece.features if trace.continues_on]
    if not found:
        return unknown(_("Look along the joints for traces that go on."))
    told = _("{trace} ({id}) goes on across the joint on {others}")
    return seen(_listed(piece, told, found, "continues_on"), _named(piece, found))


def runs_under(piece: Piece) -> Sign:
    """See whether writing or another trace of the piece runs under a label or another piece."""
    found = [trace for trace in piece.piece.features if trace.runs_under]
    if not found:
        return unknown(_("Look along the edges of labels for traces that run under."))
    told = _("{trace} ({id}) runs under {others}")
    return seen(_listed(piece, told, found, "runs_under"), _named(piece, found))


def _listed(piece: Piece, told: str, found: list[Feature], field: str) -> str:
    return "; ".join(
        told.format(
            trace=terms.label("feature", trace.feature_kind, language()),
            id=trace.id.removeprefix("#"),
            others=", ".join(quoted(piece.dossier.name(iri)) for iri in getattr(trace, field)),
        )
        for trace in found
    )


def _named(piece: Piece, found: list[Feature]) -> tuple[str, ...]:
    return tuple(f"{piece.piece.id}{trace.id}" for trace in found)
