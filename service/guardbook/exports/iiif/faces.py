"""What is to be laid out on each canvas: the pieces on one plane of a volume, or on a leaf."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

import shapely
from shapely.geometry.base import BaseGeometry

from guardbook.binding.dossier import Dossier
from guardbook.binding.image_ways import affine_through, image_way, images_of_face
from guardbook.binding.leaf_parts import LeafPiece, RejoinedLeaf
from guardbook.binding.outlines import shape_of
from guardbook.binding.plane_keys import plane_key
from guardbook.binding.scene import Scene
from guardbook.binding.scene_parts import SceneItem
from guardbook.binding.scene_planes import ScenePlane
from guardbook.binding.transforms import Affine
from guardbook.exports.iiif.space import Bounds
from guardbook.records import terms
from guardbook.records.fragment import Fragment
from guardbook.records.image import Image


@dataclass(frozen=True)
class Pictured:
    """A picture that is shown as it was taken: its record, and where its file is to be had."""

    image: Image
    address: str


_AS_IT_LIES = Affine(1, 0, 0, 1, 0, 0)


@dataclass(frozen=True)
class Picture:
    """A picture: its record, where its file is to be had, and the way from its pixels to the plane."""

    image: Image
    address: str
    way: Affine


@dataclass(frozen=True, kw_only=True)
class Part:
    """Something to be seen on a face; `piece` is None for the face itself, and for what is missing."""

    name: str
    words: str
    outline: BaseGeometry
    piece: str | None = None
    measured: bool = True
    pictures: tuple[Picture, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Face:
    """What one canvas shows: `key` ends its address, `parts` lie from the farthest to the nearest.

    The first part is the face itself, so that no face is empty. `missing` are places where something is
    known to have been.
    """

    key: str
    words: str
    bounds: Bounds
    parts: tuple[Part, ...]
    missing: tuple[Part, ...] = ()
    seen_reversed: bool = False

    @property
    def is_flat(self) -> bool:
        """Say whether it has no area: then there is nothing to lay anything out on."""
        left, bottom, right, top = self.bounds
        return not (right > left and top > bottom)


@dataclass(frozen=True)
class Pictures:
    """The pictures there are: `address` gives where one is to be had, None where it is not."""

    dossier: Dossier
    address: Callable[[Image], str | None]

    def all(self) -> list[Pictured]:
        """Give all pictures that can be had."""
        found = ((image, self.address(image)) for image in self._all())
        return [Pictured(image, address) for image, address in found if address]

    def placed(self, images: Iterable[Image], way: Callable[[Image], Affine | None]) -> tuple[Picture, ...]:
        """Give those that can be had, and whose pixels have a way to the plane."""
        found = ((image, self.address(image), way(image)) for image in images)
        return tuple(Picture(image, address, on) for image, address, on in found if address and on)

    def of_piece(self, iri: str, *, front: bool | None, way: Affine | None) -> tuple[Picture, ...]:
        """Give the pictures of a face of a piece that lies on a plane by `way`, the best first."""
        piece = self.dossier.piece(iri)
        if piece is None or way is None:
            return ()

        def to_plane(image: Image) -> Affine | None:
            on_piece = image_way(image, piece, front=front)
            return on_piece and way.after(on_piece)

        return self.placed(images_of_face(piece, self._all(), front=front), to_plane)

    def of_plane(self, plane: ScenePlane, scene: Scene) -> tuple[Picture, ...]:
        """Give the pictures of a whole plane, taken at the stage of a scene."""
        host = self.dossier.host(scene.host)
        stages = {
            f"{scene.host}{one.id}" for one in (host.stages if host else ()) if one.number == scene.stage
        }
        taken = [one for one in self._all() if one.stage in stages and one.plane == plane.plane.plane]
        shown = [one for one in taken if _the_only_plane(one, scene) == plane.plane]
        return self.placed(shown, lambda image: affine_through(image.tie_points))

    def _all(self) -> Iterator[Image]:
        return (record for record in self.dossier.records.values() if isinstance(record, Image))


def faces_of_scene(scene: Scene, pictures: Pictures) -> list[Face]:
    """Give the faces of a volume at a stage."""
    return [_of_plane(plane, scene, pictures) for plane in scene.planes]


def faces_of_piece(piece: Fragment, pictures: Pictures) -> list[Face]:
    """Give the front of a piece by itself, and its back where there is a picture; none without a size."""
    outline = shape_of(piece).polygon
    return [] if outline is None else [*_faces_of_piece(piece, outline, pictures)]


def _faces_of_piece(piece: Fragment, outline: BaseGeometry, pictures: Pictures) -> Iterator[Face]:
    for key, words, front in (("front", "The front", True), ("back", "The back", False)):
        shown = pictures.of_piece(piece.id, front=front, way=_AS_IT_LIES)
        if shown or front:
            part = Part(
                name=piece.display_title, words=words, outline=outline, piece=piece.id, pictures=shown
            )
            yield Face(key=key, words=words, bounds=outline.bounds, parts=(part,), seen_reversed=not front)


def face_of_leaf(leaf: RejoinedLeaf, pictures: Pictures) -> Face:
    """Give the face of a leaf with the known pieces, and what is missing."""
    title = f"Leaf {leaf.leaf}" + (f", {terms.label('leaf-side', leaf.side)}" if leaf.side else "")
    edges = (leaf.left, leaf.bottom, leaf.right, leaf.top)
    ground = Part(
        name=title, words="the whole leaf", outline=shapely.box(*edges), measured=leaf.size_from == "stated"
    )
    pieces = (_part(piece, piece.outline, pictures) for piece in leaf.pieces if piece.outline is not None)
    return Face(
        key=leaf.side or "side-not-known",
        words=title,
        bounds=edges,
        parts=(ground, *pieces),
        missing=tuple(
            Part(name="Missing", words="no piece of this part of the leaf is known", outline=part)
            for part in leaf.missing
        ),
    )


def _of_plane(plane: ScenePlane, scene: Scene, pictures: Pictures) -> Face:
    ground = Part(
        name=plane.words,
        words="the whole face",
        outline=shapely.box(plane.left, plane.bottom, plane.right, plane.top),
        measured=plane.limits_from != "pieces",
        pictures=pictures.of_plane(plane, scene),
    )
    items = (_part(item, item.outline, pictures) for item in plane.items if item.outline is not None)
    return Face(
        key=plane_key(plane.plane),
        words=plane.words,
        bounds=plane.extent,
        parts=(ground, *items),
        missing=tuple(
            Part(name=gap.name, words=gap.words, outline=gap.outline)
            for gap in plane.gaps
            if gap.outline is not None and gap.is_open
        ),
        seen_reversed=plane.plane.is_seen_reversed,
    )


def _part(item: SceneItem | LeafPiece, outline: BaseGeometry, pictures: Pictures) -> Part:
    return Part(
        name=item.name,
        words=item.words,
        outline=outline,
        piece=item.piece,
        measured=item.measured if isinstance(item, SceneItem) else True,
        pictures=pictures.of_piece(item.piece, front=item.front_towards_viewer, way=item.way),
    )


def _the_only_plane(image: Image, scene: Scene) -> object:
    """Give the plane a picture shows: of several of its kind, the one that what it depicts lies on."""
    of_kind = [plane for plane in scene.planes if plane.plane.plane == image.plane]
    holding = [plane for plane in of_kind if any(item.piece in image.depicts for item in plane.items)]
    found = holding or of_kind
    return found[0].plane if len(found) == 1 else None
