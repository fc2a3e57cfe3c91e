"""Which drawings there are of a volume at a stage, what each is called, and how it is drawn.

A drawing is called as its plane is (`cover-inside`, `fold-3`), `section-` and the plane for a cut across it,
`gatherings`, or `closed`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from guardbook.binding.drawing.bands import faces_of, telling_height
from guardbook.binding.drawing.closed import draw_closed
from guardbook.binding.drawing.closed_planes import can_be_closed
from guardbook.binding.drawing.gatherings import draw_gatherings
from guardbook.binding.drawing.look import PLAIN, Look
from guardbook.binding.drawing.plane import draw_plane
from guardbook.binding.drawing.section import draw_section
from guardbook.binding.plane_keys import plane_called, plane_key
from guardbook.binding.scene import Scene
from guardbook.binding.scene_planes import ScenePlane
from guardbook.errors import NothingToDraw, WrongUse
from guardbook.wording import _

CLOSED, GATHERINGS, _SECTION = "closed", "gatherings", "section-"


@dataclass(frozen=True)
class DrawingName:
    """What a drawing is called, what it shows in words, and how many pieces are there to be shown."""

    key: str
    words: str
    pieces: int


def drawings_of(scene: Scene) -> tuple[DrawingName, ...]:
    """Give the drawings there are of a scene: planes, cuts across them, gatherings, the closed volume."""
    return tuple(_drawings(scene))


def _drawings(scene: Scene) -> Iterator[DrawingName]:
    yield from _planes(scene)
    yield from _sections(scene)
    yield from _whole(scene)


def _planes(scene: Scene) -> Iterator[DrawingName]:
    for plane in scene.planes:
        yield DrawingName(plane_key(plane.plane), plane.words, len(plane.items) + len(plane.gaps))


def _sections(scene: Scene) -> Iterator[DrawingName]:
    for plane in scene.planes:
        faces = faces_of(scene, plane)
        if telling_height(faces) is not None:
            of_plane = f"{plane.words[:1].lower()}{plane.words[1:]}"
            words = _("A cut across: {plane}").format(plane=of_plane)
            yield DrawingName(_SECTION + plane_key(plane.plane), words, len(faces.items))


def _whole(scene: Scene) -> Iterator[DrawingName]:
    folds = [plane for plane in scene.planes if plane.plane.gathering is not None]
    if scene.gatherings or folds:
        count = sum(len(plane.items) + len(plane.gaps) for plane in folds)
        yield DrawingName(GATHERINGS, _("The gatherings as sewn"), count)
    if can_be_closed(scene):
        outer = [plane for plane in scene.planes if plane.plane.plane.startswith(("cover-", "board-"))]
        pieces = {item.piece for plane in outer for item in plane.items}
        yield DrawingName(CLOSED, _("Closed, face by face"), len(pieces))


def most_telling(scene: Scene) -> str:
    """Name the plane with most pieces, of equals the first. Raises NothingToDraw if no plane is known."""
    planes = list(_planes(scene))
    if not planes:
        told = _("Nothing can be drawn of {volume}: no plane is recorded, and no piece has a place.")
        raise NothingToDraw(message=told.format(volume=scene.name))
    return max(planes, key=lambda name: name.pieces).key


def telling_of(scene: Scene, piece: str) -> str | None:
    """Name the plane that shows most of a piece, or else of where it lay; None where none shows it."""

    def shown(plane: ScenePlane) -> tuple[bool, bool, bool, float]:
        items = [one for one in plane.items if one.piece == piece and one.outline is not None]
        best = max(items, key=lambda one: (one.measured, not one.from_other_face), default=None)
        if best is not None and best.outline is not None:
            return True, best.measured, not best.from_other_face, best.outline.area
        gaps = [one.outline.area for one in plane.gaps if one.piece == piece and one.outline is not None]
        return False, bool(gaps), False, max(gaps, default=0.0)

    best = max(scene.planes, key=shown, default=None)
    return plane_key(best.plane) if best and any(shown(best)) else None


def there_is(scene: Scene, key: str) -> str:
    """Give the name of a drawing back if there is one of it. Raises WrongUse naming those there are."""
    if not any(one.key == key for one in _drawings(scene)):
        there = ", ".join(one.key for one in _drawings(scene))
        told = (
            _("There is no drawing called {name} of {volume} at this stage. There are: {names}.")
            if there
            else _("There is no drawing called {name} of {volume} at this stage. There are: none.")
        )
        raise WrongUse(message=told.format(name=repr(key), volume=scene.name, names=there))
    return key


def draw(scene: Scene, key: str | None = None, look: Look = PLAIN, cut_at: float | None = None) -> str:
    """Draw a scene as SVG by the name of the drawing (None: the plane with most pieces).

    `cut_at` is the height of a cut in mm from the tail. Raises WrongUse for a drawing that there is not.
    """
    name = there_is(scene, key or most_telling(scene))
    if name == CLOSED:
        return draw_closed(scene, look)
    if name == GATHERINGS:
        return draw_gatherings(scene, look)
    if name.startswith(_SECTION):
        return draw_section(scene, plane_called(name.removeprefix(_SECTION)), cut_at, look)
    return draw_plane(scene, plane_called(name), look)
