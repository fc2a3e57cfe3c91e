"""A piece in the frame of the leaf it was cut from, and the volumes it came out of."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from guardbook.binding.dossier import Dossier
from guardbook.binding.image_ways import image_of_face, image_way
from guardbook.binding.leaf_parts import CameFrom, LeafPiece
from guardbook.binding.ordering import stages_of
from guardbook.binding.outlines import shape_of
from guardbook.binding.replay import life_of
from guardbook.binding.scene_facts import stage_words
from guardbook.binding.transforms import Affine, of_frame
from guardbook.records import terms
from guardbook.records.base import natural_order
from guardbook.records.carrier import Carrier
from guardbook.records.fragment import CarrierPlace, Fragment
from guardbook.records.image import Image
from guardbook.wording import _, decimal


class Cut(NamedTuple):
    """A piece and one of its places on a carrier."""

    piece: Fragment
    place: CarrierPlace


def cuts_of(dossier: Dossier, carrier: str) -> Iterator[Cut]:
    """Give every piece that says it was cut from a carrier, in a fixed order."""
    pieces = [record for record in dossier.records.values() if isinstance(record, Fragment)]
    for piece in sorted(pieces, key=lambda one: (natural_order(one.display_title), one.id)):
        for place in piece.carrier_places:
            if place.carrier == carrier:
                yield Cut(piece, place)


def piece_on_leaf(dossier: Dossier, cut: Cut, carrier: Carrier, *, side: str | None) -> LeafPiece:
    """Make a piece on the leaf as one looks at its `side`."""
    piece, place = cut
    turned = side is not None and place.leaf_side not in {None, side}
    width = float(carrier.width) if turned and carrier.width is not None else None
    way = way_on_leaf(cut, turned_width=width)
    polygon = shape_of(piece).polygon
    front = None if place.mirrored is None else place.mirrored == turned
    images = [i for i in dossier.records.values() if isinstance(i, Image) and piece.id in i.depicts]
    image = image_of_face(piece, images, front=front)
    on_piece = image_way(image, piece, front=front) if image else None
    return LeafPiece(
        piece=piece.id,
        name=dossier.name(piece.id),
        words=_words(place),
        outline=None if way is None or polygon is None else way.shape(polygon),
        leaf_side=place.leaf_side,
        certainty=place.certainty,
        front_towards_viewer=front,
        way=way,
        image=image.id if image else None,
        image_way=None if way is None or on_piece is None else way.after(on_piece),
        first_line=place.first_line,
        last_line=place.last_line,
        hosts=tuple(_hosts(dossier, piece.id)),
    )


def way_on_leaf(cut: Cut, turned_width: float | None = None) -> Affine | None:
    """Give the way from the piece's own frame to the leaf's, or None; `turned_width` mm turns it over."""
    piece, place = cut
    polygon = shape_of(piece).polygon
    if place.x is None or place.y is None or (place.mirrored and polygon is None):
        return None
    mirror = float(polygon.bounds[0] + polygon.bounds[2]) if place.mirrored and polygon is not None else None
    there = of_frame(
        float(place.x), float(place.y), rotation=float(place.rotation or 0), mirrored_width=mirror
    )
    return there if turned_width is None else Affine(-1, 0, 0, 1, turned_width, 0).after(there)


def _words(place: CarrierPlace) -> str:
    """Say where on the leaf a piece was cut: `recto, 62 mm from the left, 19 mm from the tail, line 5`."""
    said = [terms.label("leaf-side", place.leaf_side)] if place.leaf_side else []
    if place.x is not None and place.y is not None:
        said.append(_("{length} mm from the left").format(length=decimal(f"{place.x:f}")))
        said.append(_("{length} mm from the tail").format(length=decimal(f"{place.y:f}")))
    if place.first_line is not None and place.last_line is not None:
        same = place.first_line == place.last_line
        lines = _("line {first}") if same else _("lines {first} to {last}")
        said.append(lines.format(first=place.first_line, last=place.last_line))
    if place.certainty:
        said.append(terms.label("certainty", place.certainty))
    return ", ".join(said) or _("in a place that is not described")


def _hosts(dossier: Dossier, piece: str) -> Iterator[CameFrom]:
    seen = set()
    for stay in life_of(dossier, piece).stays:
        if stay.host in seen:
            continue
        seen.add(stay.host)
        host = dossier.host(stay.host)
        stage = next((one for one in stages_of(host) if one.number == stay.from_stage), None)
        yield CameFrom(
            host=stay.host,
            name=dossier.name(stay.host),
            shelfmark=host.shelfmark if host else None,
            stage_words=stage_words(stage) if stage else None,
        )
