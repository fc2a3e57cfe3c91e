"""One face as a canvas: sized in tenths of a millimetre, each piece painted at its place and told about."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, NamedTuple

from iiif_prezi3 import (
    Annotation,
    AnnotationBody,
    AnnotationPage,
    Canvas,
    SpecificResource,
    SVGSelector,
    TextualBody,
)

from guardbook.binding.dossier import Dossier
from guardbook.exports.iiif.addresses import Addresses, type_of
from guardbook.exports.iiif.bodies import outline_body, page_of, painted
from guardbook.exports.iiif.crops import Crop, crop_of
from guardbook.exports.iiif.faces import Face, Part
from guardbook.exports.iiif.outlines import outline_names
from guardbook.exports.iiif.space import Bounds, Box, Space, physical_dimensions, space_around

# pictures whose places differ by no more than this (mm) show the same place, and one chooses between them
SAME_PLACE_MM = 0.5


class _Shown(NamedTuple):
    """A part, the pictures that lie in one place on it, those that do not, the name of its outline."""

    part: Part
    crops: list[Crop]
    others: list[Crop]
    outline_name: str

    @property
    def bounds(self) -> Bounds:
        bounds: Bounds = self.crops[0].bounds if self.crops else self.part.outline.bounds
        return bounds


@dataclass(frozen=True)
class FaceCanvas:
    """Makes the canvas of a face at an address, for a manifest."""

    face: Face
    address: str
    manifest: str
    dossier: Dossier
    addresses: Addresses

    def made(self) -> Any:
        """Make the canvas."""
        shown = list(self._shown())
        bounds = [self.face.bounds, *(one.bounds for one in shown)]
        space = space_around(bounds, seen_reversed=self.face.seen_reversed)
        paintings = [self._painting(at, one, space) for at, one in enumerate(shown, 1)]
        notes = [self._note(at, one, space) for at, one in enumerate(self._told(), 1)]
        return Canvas(
            id=self.address,
            label={"en": [self.face.words]},
            width=space.width,
            height=space.height,
            service=[physical_dimensions(self.manifest)],
            items=[AnnotationPage(id=f"{self.address}/painting", items=paintings)],
            annotations=[AnnotationPage(id=f"{self.address}/notes", items=notes)] if notes else None,
        )

    def _shown(self) -> Iterator[_Shown]:
        names = {id(part): name for name, part in outline_names(self.face).items()}
        for part in self.face.parts:
            crops = [crop for picture in part.pictures if (crop := crop_of(picture, part.outline))]
            near = [crop for crop in crops if _same_place(crop.bounds, crops[0].bounds)]
            others = [crop for crop in crops if crop not in near]
            yield _Shown(part, near, others, names[id(part)])

    def _told(self) -> list[Part]:
        return [*(part for part in self.face.parts if part.piece), *self.face.missing]

    def _painting(self, at: int, shown: _Shown, space: Space) -> Any:
        box = space.box(shown.bounds)
        return Annotation(
            id=f"{self.address}/painting/{at}",
            label={"none": [shown.part.name]},
            motivation="painting",
            body=self._body(shown, space, box),
            target=f"{self.address}#{box.fragment}",
            rendering=[self._rendering(crop) for crop in shown.others] or None,
        )

    def _body(self, shown: _Shown, space: Space, box: Box) -> Any:
        if shown.crops:
            return painted(shown.crops, space.way, self.dossier, self.addresses)
        return outline_body(f"{self.address}/outlines/{shown.outline_name}", shown.part.name, box)

    def _rendering(self, crop: Crop) -> dict[str, Any]:
        """Link to a further picture of a piece, which lies otherwise and so cannot be chosen in its place."""
        image = crop.picture.image
        found = {
            "id": crop.picture.address,
            "type": "Image",
            "label": {"none": [image.display_title]},
            "format": type_of(image),
        }
        return {key: value for key, value in found.items() if value}

    def _note(self, at: int, part: Part, space: Space) -> Any:
        words = TextualBody(
            value=f"{part.name}: {part.words}", format="text/plain", language="en", purpose="describing"
        )
        page = (
            [AnnotationBody(**_body_link(page_of(part.piece, part.name, self.addresses)))]
            if part.piece
            else []
        )
        outline = SVGSelector(value=space.outline(part.outline))
        return Annotation(
            id=f"{self.address}/notes/{at}",
            motivation=["describing", "linking"] if page else "describing",
            body=[words, *page],
            target=SpecificResource(source=self.address, selector=outline),
        )


def _body_link(page: dict[str, Any]) -> dict[str, Any]:
    """Give a link as the body of an annotation, whose language is text and not a list in prezi3."""
    return {key: value for key, value in page.items() if key != "language"}


def _same_place(one: Bounds, other: Bounds) -> bool:
    return all(abs(a - b) <= SAME_PLACE_MM for a, b in zip(one, other, strict=True))
