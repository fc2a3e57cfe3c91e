"""A piece in place as it is seen on a plane of its volume: outline, way round, picture, traces, folds."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from types import MappingProxyType

from shapely.geometry.base import BaseGeometry

from guardbook.binding.dossier import Dossier
from guardbook.binding.folds import folds_seen
from guardbook.binding.host_states import InPlace
from guardbook.binding.image_ways import image_of_face, image_way
from guardbook.binding.limits import Limits
from guardbook.binding.named_areas import area_named, drawn_in, plane_meant
from guardbook.binding.place_words import certainty_words, place_words
from guardbook.binding.planes import PlaneName
from guardbook.binding.replay import Life
from guardbook.binding.scene_parts import SceneItem
from guardbook.binding.stays import Lying, Stay
from guardbook.binding.traces import is_on_front, traces_on
from guardbook.binding.transforms import Affine
from guardbook.binding.uses import standing_of
from guardbook.records.fragment import Fragment
from guardbook.records.host import HostVolume
from guardbook.records.image import Image
from guardbook.records.placing import Position
from guardbook.wording import _

# what a plane is a face of: these are seen on both of its faces
SHEETS: MappingProxyType[str, frozenset[str]] = MappingProxyType(
    {
        "cover-outside": frozenset({"cover", "covering", "wrapper", "flap"}),
        "cover-inside": frozenset({"cover", "covering", "wrapper", "flap"}),
        "board-outside": frozenset({"board", "board-laminate"}),
        "board-inside": frozenset({"board", "board-laminate"}),
        "leaf": frozenset({"flyleaf"}),
    }
)
# where what looks outwards looks at the viewer
OUTER_PLANES = frozenset({"cover-outside", "board-outside", "textblock-spine"})


@dataclass(frozen=True)
class Setting:
    """What the pieces of one volume are set into: its record, the stage, and what is known of the pieces."""

    dossier: Dossier
    host_iri: str
    stage: int
    lives: Mapping[str, Life]

    @cached_property
    def host(self) -> HostVolume | None:
        """Give the record of the volume, if it is here."""
        return self.dossier.host(self.host_iri)

    @cached_property
    def images(self) -> Mapping[str, tuple[Image, ...]]:
        """Give the pictures of each piece."""
        found: dict[str, list[Image]] = defaultdict(list)
        for record in self.dossier.records.values():
            if isinstance(record, Image):
                for shown in record.depicts:
                    found[shown].append(record)
        return {iri: tuple(images) for iri, images in found.items()}


@dataclass(frozen=True)
class Laid:
    """One position of a piece in place, and the plane that it is on, where it names or implies one."""

    place: InPlace
    position: Position | None
    plane: PlaneName | None

    @property
    def stay(self) -> Stay:
        """Give the stay it belongs to."""
        return self.place.stay

    @property
    def lying(self) -> Lying:
        """Give how the piece lies."""
        return self.place.lying

    @cached_property
    def way(self) -> Affine | None:
        """Give the way from the piece's own frame to its plane, or None where it is not measured."""
        if self.position is None or self.position.plane is None or self.plane is None:
            return None
        return self.lying.shape.mapping(self.position)

    @cached_property
    def outline(self) -> BaseGeometry | None:
        """Give the outline on its plane, or None where it has no measures."""
        return None if self.way is None or self.position is None else self.lying.outline(self.position)

    @property
    def goes_over_an_edge(self) -> bool:
        """Say whether it may reach past the edge of its plane: it is folded, or lies on another plane too."""
        folded = str(self.stay.said("folded") or "").casefold()
        return len(self.lying.positions) > 1 or bool(folded and not folded.startswith("not "))

    @property
    def is_sheet(self) -> bool:
        """Say whether it is what its plane is a face of: the cover, a board, a leaf."""
        functions = SHEETS.get(self.plane.plane, frozenset()) if self.plane else frozenset()
        return self.stay.said("function") in functions


def laid_out(place: InPlace, host: HostVolume | None) -> Iterator[Laid]:
    """Give every position of a piece in place; one without any is given once, on no plane."""
    function = place.stay.said("function")
    for position in place.lying.positions:
        yield Laid(place, position, plane_meant(position, function, host))
    if not place.lying.positions:
        yield Laid(place, None, None)


def item_of(laid: Laid, limits: Limits | None, setting: Setting) -> SceneItem:
    """Make the item of a position: measured, or drawn in the area it names, or without place (no limits).

    What is seen of its face, `with_its_face` adds.
    """
    stay, position, plane = laid.stay, laid.position, laid.plane
    outline, measured = None, False
    if position is not None and plane is not None and limits is not None:
        outline, measured = _outline(laid, position, plane, limits, setting)
    piece = setting.dossier.piece(stay.piece)
    return SceneItem(
        piece=stay.piece,
        name=setting.dossier.name(stay.piece),
        words=_words(laid, measured=measured),
        outline=outline,
        function=stay.said("function"),
        measured=measured,
        certainty=position.certainty if position else None,
        layer=position.layer if position else None,
        visible_in_place=position.visible_in_place if position else None,
        is_sheet=laid.is_sheet,
        front_towards_viewer=_front_towards_viewer(laid, piece),
        thickness=float(piece.thickness) if piece and piece.thickness is not None else None,
        way=laid.way,
        placing=stay.placing.id if stay.placing else None,
        position=_position_iri(laid),
    )


def on_other_face(item: SceneItem, laid: Laid, setting: Setting) -> tuple[PlaneName, SceneItem] | None:
    """Give a cover, board or leaf as seen on its other face, with the plane of that; None for others."""
    back = laid.plane.other_face if item.is_sheet and laid.plane else None
    if back is None or item.outline is None:
        return None
    front = item.front_towards_viewer
    turned = replace(
        item,
        outline=back.way.shape(item.outline),
        way=item.way and back.way.after(item.way),
        from_other_face=True,
        front_towards_viewer=None if front is None else not front,
    )
    return back.plane, with_its_face(turned, laid.stay, setting)


def _outline(
    laid: Laid, position: Position, plane: PlaneName, limits: Limits, setting: Setting
) -> tuple[BaseGeometry, bool]:
    if laid.outline is not None:
        return laid.outline, True
    if position.plane is None:
        # distances on a plane that is not said are distances from nothing
        position = position.model_copy(update={"x": None, "y": None, "plane": plane.plane})
    area = area_named(position, plane, limits, setting.host, setting.stage)
    return drawn_in(area, limits, laid.lying.shape, position), False


def _words(laid: Laid, *, measured: bool) -> str:
    if laid.position is None:
        return _("in a place that is not described")
    said = place_words(laid.position, laid.lying)
    if measured:
        return f"{said}, {certainty_words(laid.position)}"
    return _("{place} (its place is not measured)").format(place=said)


def with_its_face(item: SceneItem, stay: Stay, setting: Setting) -> SceneItem:
    """Add what is seen of the face of a piece that is turned to the viewer."""
    piece = setting.dossier.piece(item.piece)
    if piece is None or item.way is None:
        return item
    front = item.front_towards_viewer
    image = image_of_face(piece, setting.images.get(item.piece, ()), front=front)
    on_piece = image_way(image, piece, front=front) if image else None
    standing = standing_of(piece, setting.lives.get(item.piece), stay)
    traces = traces_on(piece, item.way, front_towards_viewer=front, standing=standing)
    there = tuple(trace for trace in traces if trace.made != "later")
    shown = replace(
        item,
        image=image.id if image else None,
        image_way=on_piece and item.way.after(on_piece),
        features=there,
    )
    folds = folds_seen(shown)
    return replace(shown, folds=folds) if folds else shown


def _front_towards_viewer(laid: Laid, piece: Fragment | None) -> bool | None:
    """Say whether one sees the piece's front, by its position, or by its outward face on an outer plane."""
    if laid.position is not None and laid.position.mirrored is not None:
        return not laid.position.mirrored
    if piece is None or laid.plane is None or laid.plane.plane not in OUTER_PLANES:
        return None
    return is_on_front(laid.stay.said("outward_face"), piece.front_face)


def _position_iri(laid: Laid) -> str | None:
    if laid.position is None:
        return None
    said = (placing.id for placing in laid.stay.described if laid.position in placing.positions)
    event = laid.lying.event if isinstance(laid.lying.event, str) else None
    return f"{next(said, event)}{laid.position.id}"
