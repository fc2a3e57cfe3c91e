"""Pictures that cannot be laid out to scale, each as it was taken."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from iiif_prezi3 import Annotation, AnnotationPage, Canvas

from guardbook.binding.dossier import Dossier
from guardbook.exports.iiif.addresses import Addresses
from guardbook.exports.iiif.bodies import picture_body
from guardbook.exports.iiif.faces import Pictured
from guardbook.records.base import Record


def plain_canvases(
    subject: Record, pictures: Iterable[Pictured], dossier: Dossier, addresses: Addresses
) -> list[Any]:
    """Give a canvas for each picture whose size in pixels is known, one unit a pixel."""
    sized = (one for one in pictures if one.image.pixel_width and one.image.pixel_height)
    return [
        _canvas(one, addresses.view(subject, "pictures", one.image.identifier), dossier, addresses)
        for one in sized
    ]


def _canvas(pictured: Pictured, address: str, dossier: Dossier, addresses: Addresses) -> Any:
    image = pictured.image
    painting = Annotation(
        id=f"{address}/painting/1",
        motivation="painting",
        body=picture_body(image, pictured.address, dossier, addresses),
        target=address,
    )
    return Canvas(
        id=address,
        label={"none": [image.display_title]},
        width=image.pixel_width,
        height=image.pixel_height,
        items=[AnnotationPage(id=f"{address}/painting", items=[painting])],
    )
