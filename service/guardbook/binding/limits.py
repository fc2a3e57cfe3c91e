"""Where a plane of a volume ends: as stated for it or for the plane on its back, or worked out from sizes."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

import shapely
from shapely.geometry.base import BaseGeometry

from guardbook.binding.planes import PlaneName, plane_name
from guardbook.records.host import HostVolume, Plane

EDGES = ("left", "bottom", "right", "top")
# room round the pieces of a plane whose own size is not known, and its size where there is nothing at all
MARGIN_MM = 10.0
NOMINAL_MM = 100.0


class Limits(NamedTuple):
    """The edges of a plane in mm, and what they come from: stated, size, sheet, pieces or nothing."""

    left: float
    bottom: float
    right: float
    top: float
    source: str

    @property
    def box(self) -> BaseGeometry:
        """Give them as a rectangle."""
        return shapely.box(*self[:4])


def limits_of(
    host: HostVolume | None,
    plane: PlaneName,
    sheets: Iterable[BaseGeometry] = (),
    pieces: Iterable[BaseGeometry] = (),
) -> Limits:
    """Work out the edges of a plane; each that is not stated is taken from the next best source.

    That is the cover or board itself (`sheets`, on the plane), the size of the volume, then the pieces on
    the plane with a margin, then nothing but a rectangle to draw in.
    """
    sources = {
        "stated": stated_limits(host, plane),
        "sheet": _round(sheets, margin=0),
        "size": _by_size(host, plane),
        "pieces": _round(pieces, margin=MARGIN_MM),
        "nothing": dict(zip(EDGES, _nominal(plane), strict=True)),
    }
    found = {edge: next((name, by[edge]) for name, by in sources.items() if edge in by) for edge in EDGES}
    weakest = max((name for name, _ in found.values()), key=list(sources).index)
    left, bottom, right, top = (found[edge][1] for edge in EDGES)
    if left >= right or bottom >= top:
        return Limits(*_nominal(plane), "nothing")
    return Limits(left, bottom, right, top, weakest)


def stated_limits(host: HostVolume | None, plane: PlaneName) -> dict[str, float]:
    """Give the stated edges of a plane; what is stated only for the plane on its back, as it falls here."""
    parts = {plane_name(part): part for part in host.planes} if host else {}
    back = plane.other_face
    there = _stated(parts.get(back.plane)) if back else {}
    if back and back.way.a < 0:
        turned = {"left": "right", "right": "left"}
        there = {turned.get(e, e): -value if e in turned else value for e, value in there.items()}
    return {**there, **_stated(parts.get(plane))}


def _stated(part: Plane | None) -> dict[str, float]:
    values = {edge: getattr(part, edge, None) for edge in EDGES}
    return {edge: float(value) for edge, value in values.items() if value is not None}


def _round(shapes: Iterable[BaseGeometry], margin: float) -> dict[str, float]:
    bounds = [shape.bounds for shape in shapes]
    if not bounds:
        return {}
    left, bottom, right, top = zip(*bounds, strict=True)
    edges = (min(left) - margin, min(bottom) - margin, max(right) + margin, max(top) + margin)
    return dict(zip(EDGES, edges, strict=True))


def _by_size(host: HostVolume | None, plane: PlaneName) -> dict[str, float]:
    """Take leaf and board for as large as each other, and a cover for two of them and the spine.

    Squares and turn-ins, which no size tells, are left out.
    """
    if host is None:
        return {}
    width, half = host.width and float(host.width), half_spine(host)
    both = width + half if width and half else None
    reach = {"textblock-spine": half, "cover-outside": both, "cover-inside": both}.get(plane.plane, width)
    across = {"left": -reach if plane.axes.centred else 0.0, "right": reach} if reach else {}
    return {**across, **({"bottom": 0.0, "top": float(host.height)} if host.height else {})}


def half_spine(host: HostVolume | None) -> float | None:
    """Give half the width of the spine in mm, or of the text block where only its thickness is known."""
    width = host and (host.spine_width or host.thickness)
    return float(width) / 2 if width else None


def _nominal(plane: PlaneName) -> tuple[float, float, float, float]:
    return (-NOMINAL_MM / 2 if plane.axes.centred else 0.0, 0.0, NOMINAL_MM / 2, NOMINAL_MM)
