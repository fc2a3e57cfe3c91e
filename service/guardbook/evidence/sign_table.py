"""The signs that a row of evidence can ask for, by name, with what they are about."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any

from guardbook.evidence import cover_signs, edge_signs, hole_signs, trace_signs, worm_signs, written_signs
from guardbook.evidence.signs import Sign

# a sign looks at a subject of one kind, with the measures its row gives
See = Callable[..., Sign]

SIGNS: Mapping[str, Mapping[str, See]] = MappingProxyType(
    {
        "binding": {
            "unused-rows": hole_signs.unused_rows,
            "few-unused-holes": hole_signs.few_unused_holes,
            "rows-as-wide-as-text-block": hole_signs.rows_as_wide_as_text_block,
            "former-sewing-there": hole_signs.former_sewing_there,
            "sewing-off-centre": hole_signs.sewing_off_centre,
            "spine-narrower": cover_signs.spine_narrower,
            "cover-shorter": cover_signs.shorter,
            "folds-without-purpose": cover_signs.folds_without_purpose,
        },
        "side": {
            "edge-without-turn-in": cover_signs.edge_without_turn_in,
            "no-fore-edge-turn-in": cover_signs.no_fore_edge_turn_in,
            "no-tackets": cover_signs.no_tackets,
            "other-narrower": cover_signs.other_narrower,
            "fastening-holes-on-other": cover_signs.fastening_holes_on_other,
            "fastening-without-counterpart": cover_signs.fastening_without_counterpart,
        },
        "piece": {
            "edge-straight": edge_signs.edge_straight,
            "edge-irregular": edge_signs.edge_irregular,
            "straight-edge-not-cut": edge_signs.straight_edge_not_cut,
            "irregular-edge-not-torn": edge_signs.irregular_edge_not_torn,
            "goes-on-across": trace_signs.goes_on_across,
            "runs-under": trace_signs.runs_under,
        },
        "together": {
            "wormholes-in-register": worm_signs.in_register,
            "not-by-accident": worm_signs.not_by_accident,
            "both-measured": worm_signs.both_measured,
            "placed-by-traces": worm_signs.placed_by_traces,
            "wormholes-stopping": worm_signs.stopping,
        },
        "written": {
            "same-line-pitch": written_signs.same_line_pitch,
            "same-ruling": written_signs.same_ruling,
            "same-script": written_signs.same_script,
            "text-goes-on": written_signs.text_goes_on,
            "letters-go-on": written_signs.letters_go_on,
            "same-lines-twice": written_signs.same_lines_twice,
        },
    }
)


def look(subject: Any, sign: str, measures: Mapping[str, Any]) -> Sign:
    """Look for a sign on a subject. Raises KeyError for a sign that is not known for its kind."""
    return SIGNS[subject.about][sign](subject, **measures)
