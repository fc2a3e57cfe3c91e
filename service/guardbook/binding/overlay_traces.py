"""Which of two uses accounts for each trace of the piece that both held: by the record, and by measure."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from guardbook.binding.dossier import Dossier
from guardbook.binding.expected_traces import LEFT_BY_BINDING, matches
from guardbook.binding.overlay_parts import Fit, OverlayFeature
from guardbook.binding.overlay_sides import Used, moved_trace
from guardbook.binding.replay import life_of
from guardbook.binding.scene_parts import SceneFeature, SceneItem
from guardbook.binding.traces import traces_on
from guardbook.binding.uses import Standing, standing_of


def traces_of(dossier: Dossier, item: SceneItem, used: Used) -> tuple[SceneFeature, ...]:
    """Give all traces of the shared piece on the plane of one side, those of later uses too."""
    piece = dossier.piece(item.piece)
    if piece is None or item.way is None:
        return ()
    front = item.front_towards_viewer
    standing = _standing(dossier, item.piece, used)
    return traces_on(piece, item.way, front_towards_viewer=front, standing=standing)


def judged(
    dossier: Dossier, iri: str, traces: Iterable[SceneFeature], both: Sequence[Used]
) -> Iterator[OverlayFeature]:
    """Hold each trace against the record and against what either volume is expected to have left."""
    piece, seen = dossier.piece(iri), tuple(traces)
    series = {f"{iri}{one.id}": one for one in piece.series} if piece else {}
    standings = {used.key: _standing(dossier, iri, used) for used in both}
    fits_by_side = [_fits(seen, used) for used in both]
    for at, trace in enumerate(seen):
        made = series.get(trace.series or "")
        stated = tuple(key for key, standing in standings.items() if standing(made) == "now")
        fits = tuple(fit for side in fits_by_side for fit in side[at])
        if trace.kind in LEFT_BY_BINDING or stated or fits:
            yield OverlayFeature(feature=trace, stated=stated, fits=fits)


def _fits(traces: Sequence[SceneFeature], used: Used) -> list[list[Fit]]:
    """Give, for each trace, what of a volume it lies at."""
    back, expected = used.way.inverse(), used.expected
    there = [moved_trace(trace, back) for trace in traces]
    holes = [trace.points[0] for trace in there if len(trace.points) == 1]
    return [
        [
            Fit(side=used.key, words=match.words, off_mm=match.off_mm)
            for match in matches(trace, expected, holes)
        ]
        for trace in there
    ]


def _standing(dossier: Dossier, iri: str, used: Used) -> Standing:
    piece, life, scene = dossier.piece(iri), life_of(dossier, iri), used.scene
    stay = next((s for s in life.stays if s.host == scene.host and s.holds_at(scene.stage)), None)
    return standing_of(piece, life, stay) if piece and stay else lambda _series: None
