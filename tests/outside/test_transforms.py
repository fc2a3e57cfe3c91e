"""Our mapping of a position against `shapely.affinity`.

Source: the functions `scale`, `rotate` and `translate` of `shapely.affinity` (PyPI `shapely` 2), each done on
its own, in the order of the formula t + s R(rotation) M p.
"""

from __future__ import annotations

import numpy as np
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely import affinity

from guardbook.binding.transforms import PLANE_MIRROR, of_frame

lengths = st.floats(-1000, 1000)
OUTLINE = shapely.Polygon([(0, 0), (41.5, 3), (40, 118.25), (7, 120), (0, 60)])


def step_by_step(
    x: float, y: float, rotation: float, scale: float, width: float | None
) -> shapely.geometry.base.BaseGeometry:
    """Mirror about the mid-line, turn about the origin, scale from the origin, then move."""
    shape: shapely.geometry.base.BaseGeometry = OUTLINE
    if width is not None:
        shape = affinity.scale(shape, -1, 1, origin=(width / 2, 0, 0))
    turned = affinity.rotate(shape, rotation, origin=(0, 0))
    return affinity.translate(affinity.scale(turned, scale, scale, origin=(0, 0, 0)), x, y)


@given(
    x=lengths,
    y=lengths,
    rotation=st.floats(-360, 360) | st.sampled_from([-270.0, -90.0, 0.0, 90.0, 180.0, 270.0, 360.0]),
    scale=st.floats(0.5, 2),
    width=st.none() | st.floats(0, 500),
)
def test_a_position_maps_an_outline_as_shapely_does_step_by_step(
    x: float, y: float, rotation: float, scale: float, width: float | None
) -> None:
    ours = of_frame(x, y, rotation=rotation, scale=scale, mirrored_width=width).shape(OUTLINE)
    theirs = step_by_step(x, y, rotation, scale, width)
    assert np.abs(shapely.get_coordinates(ours) - shapely.get_coordinates(theirs)).max() < 1e-9


def test_the_inside_of_the_cover_is_its_outside_scaled_by_minus_one_across_the_spine() -> None:
    theirs = affinity.scale(OUTLINE, -1, 1, origin=(0, 0, 0))
    assert shapely.equals_exact(PLANE_MIRROR.shape(OUTLINE), theirs, tolerance=0)
