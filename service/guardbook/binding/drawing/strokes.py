"""Line weights and dashes, and the hatches that tell pieces apart: all in parts of the text size.

How well a place is known is in the dash of its outline, never in a colour. Weights and dashes differ
enough to outlive a photocopier.
"""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType

from guardbook.binding.drawing.svg import Mark, Value, mark, number
from guardbook.wording import said_later

INK, GREY, PAPER = "#111", "#555", "#fff"


@dataclass(frozen=True)
class Stroke:
    """One kind of line: its weight and dashes in parts of the text size, and what it means in the legend."""

    words: str
    weight: float
    dashes: tuple[float, ...] = ()
    is_round: bool = False
    ink: str = INK

    def attributes(self, unit: float) -> dict[str, Value | None]:
        """Give its SVG attributes for a text size of `unit` mm."""
        return {
            "stroke": self.ink,
            "stroke_width": self.weight * unit,
            "stroke_dasharray": " ".join(f"{dash * unit:.2f}" for dash in self.dashes) or None,
            "stroke_linecap": "round" if self.is_round else None,
        }


_FROM_PICTURE_OR_TRACES = Stroke(said_later("outline from a photograph or from traces"), 0.14, (1.3, 0.35))
OUTLINES: MappingProxyType[str, Stroke] = MappingProxyType(
    {
        "measured": Stroke(said_later("outline measured"), 0.14),
        "from-photograph": _FROM_PICTURE_OR_TRACES,
        "from-traces": _FROM_PICTURE_OR_TRACES,
        "inferred": Stroke(said_later("outline inferred"), 0.14, (0.45, 0.3)),
        "unknown": Stroke(said_later("outline, not known how well"), 0.16, (0.02, 0.34), is_round=True),
    }
)
NOT_MEASURED = Stroke(
    said_later("place not measured: only the area is known"), 0.16, (0.02, 0.34), is_round=True
)
LINES: MappingProxyType[str, Stroke] = MappingProxyType(
    {
        "hidden": Stroke(said_later("hidden edge"), 0.06, (0.3, 0.22), ink=GREY),
        "plane": Stroke(said_later("edge"), 0.07),
        "gap": Stroke(said_later("a piece lay here and is gone"), 0.1, (0.02, 0.24), is_round=True),
        "gap-filled": Stroke(
            said_later("a piece lay under or over what is here, and is gone"),
            0.1,
            (0.02, 0.24),
            is_round=True,
        ),
        "cut-later": Stroke(
            said_later("a part that was cut off later: its outline is not known"),
            0.12,
            (0.02, 0.4),
            is_round=True,
        ),
        "fold": Stroke(said_later("fold"), 0.1, (0.9, 0.22, 0.15, 0.22)),
        "fold-hidden": Stroke(said_later("fold, hidden"), 0.05, (0.9, 0.22, 0.15, 0.22), ink=GREY),
        "fold-reckoned": Stroke(
            said_later("fold, worked out from the size of the volume"), 0.05, (0.9, 0.2, 0.3, 0.2)
        ),
        "station": Stroke(said_later("level of a sewing station"), 0.05, (0.5, 0.35), ink=GREY),
        "marked": Stroke(said_later("the piece that is asked about"), 0.32),
        "marked-gone": Stroke(
            said_later("where the piece that is asked about lay"), 0.34, (0.02, 0.65), is_round=True
        ),
        "leader": Stroke("", 0.05),
        "axis": Stroke("", 0.05),
        "zero": Stroke("", 0.04, (0.15, 0.3), ink=GREY),
    }
)

# angle in degrees, distance in parts of the text size, and what is drawn at that distance
_HATCHES: tuple[tuple[int, float, str], ...] = (
    (45, 0.85, "line"),
    (-45, 0.85, "line"),
    (45, 1.1, "cross"),
    (90, 0.7, "line"),
    (45, 1.3, "pair"),
    (0, 1.0, "plus"),
    (0, 0.7, "line"),
    (0, 1.0, "ring"),
    (-45, 1.3, "pair"),
    (0, 1.1, "wave"),
    (0, 1.0, "cross"),
    (45, 1.0, "plus"),
    (90, 1.2, "pair"),
)
HATCH_COUNT = len(_HATCHES)


def hatch(at: int, unit: float, name: str) -> Mark:
    """Give the pattern of one hatch on white paper, named `name`, for a text size of `unit` mm."""
    angle, distance, kind = _HATCHES[at % HATCH_COUNT]
    side = distance * unit
    turned = f"rotate({angle})" if angle else None
    ground = mark("rect", width=side, height=side, fill=PAPER)
    return mark(
        "pattern",
        ground,
        *_strokes(kind, side, unit),
        id=name,
        width=side,
        height=side,
        patternUnits="userSpaceOnUse",
        patternTransform=turned,
    )


def open_hatch(angle: int, unit: float, name: str) -> Mark:
    """Give a pattern of wide thin lines with nothing between them."""
    side = 1.9 * unit
    line = mark("path", d=f"M0 {number(side / 2)}H{number(side)}", stroke="#888", stroke_width=0.05 * unit)
    return mark(
        "pattern",
        line,
        id=name,
        width=side,
        height=side,
        patternUnits="userSpaceOnUse",
        patternTransform=f"rotate({angle})",
    )


def _strokes(kind: str, side: float, unit: float) -> tuple[Mark, ...]:
    middle = side / 2
    line: dict[str, Value] = {"fill": "none", "stroke": GREY, "stroke_width": 0.05 * unit}
    if kind == "ring":
        return (mark("circle", cx=middle, cy=middle, r=0.2 * unit, **line),)
    return (mark("path", d=_path(kind, number(side), number(middle), side), **line),)


def _path(kind: str, whole: str, half: str, side: float) -> str:
    quarter, three = number(side / 4), number(side * 3 / 4)
    paths = {
        "line": f"M0 {half}H{whole}",
        "cross": f"M0 {half}H{whole}M{half} 0V{whole}",
        "pair": f"M0 {quarter}H{whole}M0 {half}H{whole}",
        "plus": f"M{quarter} {half}H{three}M{half} {quarter}V{three}",
        "wave": f"M0 {half}Q{quarter} {quarter} {half} {half}T{whole} {half}",
    }
    return paths[kind]
