"""Lay a volume at its stages, the leaves of a carrier, or a piece by itself, out as an IIIF manifest."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from guardbook import settings
from guardbook.actions.binding_dossier import dossier_of_carrier, dossier_of_hosts, host_called, pictures_of
from guardbook.actions.event_dossier import seen
from guardbook.actions.image_file import file_for, kept_file
from guardbook.binding.dossier import Dossier
from guardbook.binding.leaf import rejoined
from guardbook.binding.leaf_parts import Rejoined, RejoinedLeaf
from guardbook.binding.ordering import stages_of
from guardbook.binding.outlines import shape_of
from guardbook.binding.scene import Scene, scene_of
from guardbook.catalogue.access import Access
from guardbook.errors import WrongUse
from guardbook.exports.iiif.addresses import Addresses
from guardbook.exports.iiif.faces import Pictures, face_of_leaf, faces_of_piece, faces_of_scene
from guardbook.exports.iiif.outlines import drawn_outline
from guardbook.exports.iiif.told import Group, Told, told_of_carrier, told_of_host, told_of_piece
from guardbook.records.base import Record
from guardbook.records.carrier import Carrier
from guardbook.records.fragment import Fragment
from guardbook.records.host import HostVolume
from guardbook.records.image import Image


def manifest_of_host(
    access: Access, name: str, stage: int | None = None, *, at: str | None = None
) -> dict[str, Any]:
    """Lay out a volume, by an identifier or workshop number, at a stage by number, or at all (None).

    `at` is where this instance is reached, ending in a slash (None: the base of its IRIs). What this viewer
    may not see is left out. Raises NotFound, Gone, and WrongUse for a record that is no volume, or a stage
    that it does not have; NotFound too where nothing has a size.
    """
    host = host_called(access, name)
    dossier = _dossier_of_host(access, host)
    addresses = _addresses(at)
    scenes = _scenes(dossier, host, stage)
    pictures = _pictures(access, dossier, addresses)
    groups = [
        Group(
            key=stage_key(scene.stage),
            words=f"Stage {scene.stage}: {scene.stage_words}",
            faces=faces_of_scene(scene, pictures),
        )
        for scene in scenes
    ]
    part = None if stage is None else stage_key(stage)
    return _written(told_of_host(host, scenes, dossier, part), groups, dossier, addresses)


def manifest_of_leaf(
    access: Access, carrier: str, leaf: str | None = None, *, at: str | None = None
) -> dict[str, Any]:
    """Lay out the known pieces of a carrier on a leaf by its name, or on all of them (None).

    As `manifest_of_host`; raises WrongUse for a record that is no carrier, or a leaf of which no piece is
    known.
    """
    record = _carrier_called(access, carrier)
    dossier = _dossier_of_carrier(access, record)
    addresses = _addresses(at)
    found = rejoined(dossier, record.id)
    leaves = _leaves(found, leaf)
    pictures = _pictures(access, dossier, addresses)
    groups = [
        Group(
            key=leaf_key(name),
            words=f"Leaf {name}",
            faces=[face_of_leaf(one, pictures) for one in leaves if one.leaf == name],
        )
        for name in dict.fromkeys(one.leaf for one in leaves)
    ]
    part = None if leaf is None else leaf_key(leaf)
    return _written(told_of_carrier(record, leaves, dossier, part), groups, dossier, addresses)


def manifest_of_piece(access: Access, name: str, *, at: str | None = None) -> dict[str, Any]:
    """Lay out a piece by itself: its faces to scale, and its further pictures as they were taken.

    As `manifest_of_host`; raises WrongUse for a record that is no piece, NotFound where it has neither a size
    nor a picture whose size in pixels is known.
    """
    piece = _piece_called(access, name)
    dossier = _dossier_of_piece(access, piece)
    addresses = _addresses(at)
    pictures = _pictures(access, dossier, addresses)
    faces = faces_of_piece(piece, pictures)
    painted = {picture.image.id for face in faces for part in face.parts for picture in part.pictures}
    others = [one for one in pictures.all() if one.image.id not in painted and piece.id in one.image.depicts]
    groups = [Group(key="faces", words="To scale", faces=faces)] if faces else []
    return _written(told_of_piece(piece, others, dossier), groups, dossier, addresses)


def outline_of_piece(access: Access, name: str, face: str, outline: str) -> str:
    """Draw the outline that a manifest names by face and name, as SVG. Raises as `manifest_of_piece`."""
    piece = _piece_called(access, name)
    pictures = _pictures(access, _dossier_of_piece(access, piece), _addresses(None))
    return drawn_outline(faces_of_piece(piece, pictures), face, outline)


def manifest_of_any(access: Access, iri: str, *, at: str | None = None) -> dict[str, Any]:
    """Lay out a volume, a carrier or a piece as a whole. Raises as these do."""
    kind = iri.rsplit("/", 2)[-2]
    makers: dict[str, Callable[..., dict[str, Any]]] = {
        "host": manifest_of_host,
        "carrier": manifest_of_leaf,
        "fragment": manifest_of_piece,
    }
    if kind not in makers:
        raise WrongUse(message=f"{iri} is neither volume nor carrier nor piece, and is not laid out.")
    return makers[kind](access, iri, at=at)


def can_be_laid_out(access: Access, iri: str) -> bool:
    """Say whether there is a manifest of a volume, carrier or piece: whether any face of it has an area."""
    record = access.record(iri).record
    if isinstance(record, Fragment):
        images = (one for one in pictures_of(access, [iri]) if isinstance(one, Image))
        return shape_of(record).polygon is not None or any(
            one.pixel_width and one.pixel_height for one in images
        )
    if isinstance(record, Carrier):
        return bool(rejoined(_dossier_of_carrier(access, record), iri).leaves)
    if not isinstance(record, HostVolume):
        return False
    dossier = dossier_of_hosts(access, [record])
    pictures = _pictures(access, dossier, _addresses(None))
    stages = (scene_of(dossier, iri, number) for number in _numbers(record))
    return any(not face.is_flat for scene in stages for face in faces_of_scene(scene, pictures))


def outline_on_host(access: Access, name: str, stage: int, face: str, outline: str) -> str:
    """Draw the outline that a manifest names by face and name, as SVG. Raises as `manifest_of_host`."""
    host = host_called(access, name)
    dossier = _dossier_of_host(access, host)
    scene = scene_of(dossier, host.id, stage)
    return drawn_outline(faces_of_scene(scene, _pictures(access, dossier, _addresses(None))), face, outline)


def outline_on_leaf(access: Access, carrier: str, leaf: str, face: str, outline: str) -> str:
    """Draw the outline that a manifest names by side and name, as SVG. Raises as `manifest_of_leaf`."""
    record = _carrier_called(access, carrier)
    dossier = _dossier_of_carrier(access, record)
    pictures = _pictures(access, dossier, _addresses(None))
    faces = [face_of_leaf(one, pictures) for one in _leaves(rejoined(dossier, record.id), leaf)]
    return drawn_outline(faces, face, outline)


def stage_key(stage: int) -> str:
    """Name a stage in an address."""
    return f"stage-{stage}"


def leaf_key(leaf: str) -> str:
    """Name a leaf in an address."""
    return f"leaf-{leaf}"


def _written(told: Told, groups: list[Group], dossier: Dossier, addresses: Addresses) -> dict[str, Any]:
    # prezi3 takes up to a second to load: only those who ask for a manifest wait for it
    from guardbook.exports.iiif.manifest import manifest  # noqa: PLC0415

    return manifest(told, groups, dossier, addresses)


def _addresses(at: str | None) -> Addresses:
    return Addresses(at or settings.current().base)


def _pictures(access: Access, dossier: Dossier, addresses: Addresses) -> Pictures:
    """Give the pictures: those kept here are served from here, others stay where they are."""

    def address(image: Image) -> str | None:
        if kept_file(image) is None:
            return image.address
        return addresses.picture(image) if file_for(access.viewer, image) else None

    return Pictures(dossier, address)


def _scenes(dossier: Dossier, host: HostVolume, stage: int | None) -> list[Scene]:
    return [scene_of(dossier, host.id, number) for number in (_numbers(host) if stage is None else [stage])]


def _numbers(host: HostVolume) -> list[int]:
    return [one.number for one in stages_of(host)] or [1]


def _leaves(found: Rejoined, leaf: str | None) -> list[RejoinedLeaf]:
    leaves = [one for one in found.leaves if leaf in {None, one.leaf}]
    if leaf is not None and not leaves:
        known = ", ".join(dict.fromkeys(one.leaf for one in found.leaves)) or "none"
        raise WrongUse(
            message=f"No piece is known of a leaf {leaf!r} of {found.name}. "
            f"Leaves with known pieces: {known}."
        )
    return leaves


def _carrier_called(access: Access, name: str) -> Carrier:
    record = access.record(access.resolve(name)).record
    if not isinstance(record, Carrier):
        raise WrongUse(message=f"{record.short} is no carrier, and has no leaves to lay pieces out on.")
    return record


def _piece_called(access: Access, name: str) -> Fragment:
    record = access.record(access.resolve(name)).record
    if not isinstance(record, Fragment):
        raise WrongUse(message=f"{record.short} is no piece.")
    return record


def _dossier_of_piece(access: Access, piece: Fragment) -> Dossier:
    dossier = Dossier.of([piece, *pictures_of(access, [piece.id])])
    keepers = seen(access, filter(None, [piece.keeper]))
    return _with(dossier, [*keepers, *_makers(access, dossier)])


def _dossier_of_host(access: Access, host: HostVolume) -> Dossier:
    dossier = dossier_of_hosts(access, [host])
    return _with(dossier, [*pictures_of(access, [host.id]), *_makers(access, dossier)])


def _dossier_of_carrier(access: Access, carrier: Carrier) -> Dossier:
    dossier = dossier_of_carrier(access, carrier)
    pieces = (record for record in dossier.records.values() if isinstance(record, Fragment))
    keepers = {carrier.keeper, *(piece.keeper for piece in pieces)}
    return _with(dossier, [*seen(access, filter(None, keepers)), *_makers(access, dossier)])


def _makers(access: Access, dossier: Dossier) -> Iterable[Record]:
    images = (record for record in dossier.records.values() if isinstance(record, Image))
    return seen(access, {image.by for image in images if image.by})


def _with(dossier: Dossier, more: Iterable[Record]) -> Dossier:
    return Dossier.of([*dossier.records.values(), *more], dossier.withheld)
