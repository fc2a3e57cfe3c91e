"""What is painted on a canvas: a picture cut and turned, several to choose from, or a drawn outline."""

from __future__ import annotations

from typing import Any

from iiif_prezi3 import AnnotationBody, Choice, FragmentSelector, ImageAPISelector, SpecificResource
from iiif_prezi3.skeleton import Homepages, KeyValueString, Rights

from guardbook.binding.dossier import Dossier
from guardbook.binding.transforms import Affine
from guardbook.exports.iiif.addresses import SVG_TYPE, Addresses, type_of
from guardbook.exports.iiif.crops import Crop
from guardbook.exports.iiif.rights import rights_of, statement
from guardbook.exports.iiif.space import Box
from guardbook.records import terms
from guardbook.records.image import Image


class PictureBody(AnnotationBody):  # type: ignore[misc]  # prezi3 says nothing of its types
    """A picture with its rights and its record, which IIIF lets any resource have and prezi3 does not."""

    rights: Rights | None = None
    requiredStatement: KeyValueString | None = None  # noqa: N815  # as IIIF spells it
    homepage: Homepages | None = None


def page_of(iri: str, name: str, addresses: Addresses) -> dict[str, Any]:
    """Link to the page of a record."""
    return {
        "id": addresses.page(iri),
        "type": "Text",
        "label": {"none": [name]},
        "format": "text/html",
        "language": ["en"],
    }


def painted(crops: list[Crop], to_canvas: Affine, dossier: Dossier, addresses: Addresses) -> Any:
    """Give the body of pictures that lie in one place: the picture, or all of them to choose from."""
    bodies = [_cut(crop, to_canvas, dossier, addresses) for crop in crops]
    return bodies[0] if len(bodies) == 1 else Choice(items=bodies)


def _cut(crop: Crop, to_canvas: Affine, dossier: Dossier, addresses: Addresses) -> Any:
    body = picture_body(crop.picture.image, crop.picture.address, dossier, addresses)
    turn = crop.turn(to_canvas)
    if turn != "0":
        selector = ImageAPISelector(region=crop.region_words, rotation=turn)
        return SpecificResource(source=body, selector=selector)
    if crop.is_whole:
        return body
    return SpecificResource(source=body, selector=FragmentSelector(value=f"xywh={crop.region_words}"))


def picture_body(image: Image, address: str, dossier: Dossier, addresses: Addresses) -> Any:
    """Give a picture: where it is, how it was made, its size in pixels, its rights and its record."""
    technique = f" ({terms.label('technique', image.technique)})" if image.technique else ""
    return PictureBody(
        id=address,
        type="Image",
        label={"en": [image.display_title + technique]},
        format=type_of(image),
        width=image.pixel_width,
        height=image.pixel_height,
        rights=rights_of(image.licence),
        requiredStatement=statement([image.rights_holder], [image], dossier),
        homepage=[page_of(image.id, image.display_title, addresses)],
    )


def outline_body(address: str, name: str, box: Box) -> Any:
    """Give the drawn outline of a piece that has no picture."""
    return AnnotationBody(
        id=address,
        type="Image",
        label={"en": [f"{name} (outline)"]},
        format=SVG_TYPE,
        width=box.width,
        height=box.height,
    )
