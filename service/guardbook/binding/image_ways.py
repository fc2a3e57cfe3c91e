"""Which picture shows a face of a piece, and where each of its pixels lies on the piece."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from guardbook.binding.traces import is_on_front
from guardbook.binding.transforms import Affine
from guardbook.records.fragment import Fragment
from guardbook.records.image import Image, TiePoint


def image_of_face(piece: Fragment, images: Iterable[Image], *, front: bool | None) -> Image | None:
    """Choose the best of the pictures of a face (see `images_of_face`), or None where there is none."""
    return next(iter(images_of_face(piece, images, front=front)), None)


def images_of_face(piece: Fragment, images: Iterable[Image], *, front: bool | None) -> tuple[Image, ...]:
    """Give the pictures of the front or the back of a piece by itself: in plain light, the sharpest first.

    A picture that does not say its face is taken for the front. One that shows other pieces too is left out:
    nothing says which part of it is this piece.
    """
    wanted = front is not False
    of_face = [
        image
        for image in images
        if image.plane is None
        and image.depicts == (piece.id,)
        and (is_on_front(image.face, piece.front_face) is not False) == wanted
    ]
    return tuple(sorted(of_face, key=_preference))


def _preference(image: Image) -> tuple[object, ...]:
    plain = image.technique in {None, "visible-light"}
    return image.technique is None, not plain, -(image.pixels_per_mm or 0), image.id


def image_way(image: Image, piece: Fragment, *, front: bool | None) -> Affine | None:
    """Give the way from pixels (from the top left, y down) to the piece's own frame, or None.

    By three tie points or more; else by its scale, the picture upright and centred on the piece.
    """
    by_ties = affine_through(image.tie_points)
    if by_ties is not None:
        return by_ties
    sizes = image.pixel_width, image.pixel_height, piece.width, piece.height
    if image.pixels_per_mm is None or None in sizes:
        return None
    scale = 1 / float(image.pixels_per_mm)
    wide, high, width, height = (float(size or 0) for size in sizes)
    x, y = (width - wide * scale) / 2, (height + high * scale) / 2
    seen = Affine(scale, 0, 0, -scale, x, y)
    return seen if front is not False else Affine(-1, 0, 0, 1, width, 0).after(seen)


def affine_through(ties: Sequence[TiePoint]) -> Affine | None:
    """Give the affine mapping of pixels to mm that fits tie points best (least squares).

    None for fewer than three, or where all lie on one line.
    """
    if len(ties) < 3:
        return None
    rows = [(float(tie.pixel_x), float(tie.pixel_y), 1.0) for tie in ties]
    x = _least_squares(rows, [float(tie.x) for tie in ties])
    y = _least_squares(rows, [float(tie.y) for tie in ties])
    return None if x is None or y is None else Affine(x[0], x[1], y[0], y[1], x[2], y[2])


Row = tuple[float, float, float]


def _least_squares(rows: Sequence[Row], values: Sequence[float]) -> Row | None:
    """Solve the normal equations by Cramer's rule, about the middle of the points so that it stays exact."""
    middle = [sum(row[at] for row in rows) / len(rows) for at in (0, 1)]
    mean = sum(values) / len(values)
    moved = [(row[0] - middle[0], row[1] - middle[1]) for row in rows]
    xx, xy, yy = (sum(row[i] * row[j] for row in moved) for i, j in ((0, 0), (0, 1), (1, 1)))
    xv, yv = (
        sum(row[at] * (value - mean) for row, value in zip(moved, values, strict=True)) for at in (0, 1)
    )
    area = xx * yy - xy * xy
    if area <= 1e-9 * max(xx, yy) ** 2:
        return None
    a, b = (xv * yy - yv * xy) / area, (yv * xx - xv * xy) / area
    return a, b, mean - a * middle[0] - b * middle[1]
