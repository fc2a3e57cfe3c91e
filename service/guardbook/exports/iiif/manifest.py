"""A volume at its stages, or a carrier by its leaves, as a manifest: a canvas a face, a range a group.

Source: IIIF Presentation API 3.0. The models of prezi3 refuse what its schema does not know; what they let
through all the same (a canvas without height, another motivation, a target elsewhere) the tests look for.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any
from urllib.parse import quote

from iiif_prezi3 import CanvasRef, Manifest, Range

from guardbook import settings
from guardbook.binding.dossier import Dossier
from guardbook.errors import NotFound
from guardbook.exports.iiif.addresses import COLLECTED, CONTEXT, MANIFEST, Addresses
from guardbook.exports.iiif.bodies import page_of
from guardbook.exports.iiif.canvas import FaceCanvas
from guardbook.exports.iiif.plain import plain_canvases
from guardbook.exports.iiif.rights import rights_of, statement
from guardbook.exports.iiif.told import Group, Told
from guardbook.records.agent import Agent, Institution
from guardbook.records.base import Record
from guardbook.wording import _, said_later

_NOTHING = said_later(
    "Nothing of {label} can be laid out: no face of it is known with its size. Say on which face a piece "
    "lies and where, or give the edges of a face or the size of the leaf."
)
DOCUMENTS = {".ttl": ("Turtle", "text/turtle"), ".jsonld": ("JSON-LD", "application/ld+json")}


def manifest(told: Told, groups: Sequence[Group], dossier: Dossier, addresses: Addresses) -> dict[str, Any]:
    """Write the manifest of some groups of faces.

    Raises NotFound where no face of any has a size: then there is nothing to lay out.
    """
    parts = (told.part, MANIFEST) if told.part else (MANIFEST,)
    address = addresses.view(told.subject, *parts)
    words = {group.key: group.words for group in groups}
    canvases = {
        group.key: [
            FaceCanvas(
                face, addresses.view(told.subject, group.key, face.key), address, dossier, addresses
            ).made()
            for face in group.faces
            if not face.is_flat
        ]
        for group in groups
    }
    if plain := plain_canvases(told.subject, told.pictures, dossier, addresses):
        words["pictures"], canvases["pictures"] = "Pictures", plain
    if not any(canvases.values()):
        raise NotFound(message=_(_NOTHING).format(label=told.label))
    made = Manifest(
        id=address,
        **_about(told, groups, dossier, addresses),
        items=[canvas for found in canvases.values() for canvas in found],
        structures=_ranges(address, words, canvases),
    )
    return document(made)


def document(made: Any) -> dict[str, Any]:
    """Give a resource of prezi3 as plain data with the context of Presentation 3."""
    written = made.model_dump(mode="json", by_alias=True, exclude_none=True, serialize_as_any=True)
    return {"@context": CONTEXT, **written}


def _about(told: Told, groups: Iterable[Group], dossier: Dossier, addresses: Addresses) -> dict[str, Any]:
    subject = told.subject
    licence = getattr(subject, "licence", None)
    faces = (face for group in groups for face in group.faces)
    images = [picture.image for face in faces for part in face.parts for picture in part.pictures]
    images += [picture.image for picture in told.pictures]
    holders = [getattr(subject, "rights_holder", None), *(image.rights_holder for image in images)]
    facts = {**told.facts, "Record": [subject.id], "Licence": [None if rights_of(licence) else licence]}
    found = {
        "label": {"en": [told.label]},
        "summary": {"en": [told.summary]},
        "metadata": _metadata(facts),
        "rights": rights_of(licence),
        "requiredStatement": statement(holders, images, dossier),
        "provider": _providers(told.keepers, dossier, addresses),
        "homepage": [page_of(subject.id, subject.display_title, addresses)],
        "seeAlso": _documents(subject, addresses),
        "partOf": _collections(told, addresses),
    }
    return {key: value for key, value in found.items() if value}


def _metadata(facts: Mapping[str, Iterable[str | None]]) -> list[dict[str, Any]]:
    said = {label: [value for value in values if value] for label, values in facts.items()}
    return [{"label": {"en": [label]}, "value": {"none": values}} for label, values in said.items() if values]


def _providers(keepers: Iterable[str | None], dossier: Dossier, addresses: Addresses) -> list[dict[str, Any]]:
    found = (dossier.records.get(iri) for iri in dict.fromkeys(filter(None, keepers)))
    return [_provider(record, addresses) for record in found if isinstance(record, Institution | Agent)]


def _provider(record: Institution | Agent, addresses: Addresses) -> dict[str, Any]:
    page = page_of(record.id, record.display_title, addresses)
    return {
        "id": addresses.record(record.id),
        "type": "Agent",
        "label": {"none": [record.display_title]},
        "homepage": [page | {"id": record.address} if record.address else page],
    }


def _documents(subject: Record, addresses: Addresses) -> list[dict[str, Any]]:
    return [
        {
            "id": addresses.record(subject.id) + ending,
            "type": "Dataset",
            "label": {"en": [f"The record in {name}"]},
            "format": media_type,
            "profile": settings.NAMESPACE,
        }
        for ending, (name, media_type) in DOCUMENTS.items()
    ]


def _collections(told: Told, addresses: Addresses) -> list[dict[str, Any]]:
    """Name the collections that a volume or carrier as a whole is in."""
    if told.part:
        whole = addresses.view(told.subject, MANIFEST)
        return [{"id": whole, "type": "Manifest", "label": {"none": [told.subject.display_title]}}]
    found = [addresses.collection(kind) for kind in (COLLECTED.get(told.subject.kind),) if kind]
    keeper = getattr(told.subject, "keeper", None)
    found += [addresses.collection_of(keeper)] if keeper and found else []
    return [{"id": address, "type": "Collection"} for address in found]


def _ranges(address: str, words: Mapping[str, str], canvases: Mapping[str, list[Any]]) -> list[Any]:
    """Give a range for every stage or leaf, with one for each of its faces, as readers show only ranges."""
    return [
        Range(
            id=f"{address}#{quote(key)}",
            label={"en": [words[key]]},
            items=[_range(address, key, canvas) for canvas in found],
        )
        for key, found in canvases.items()
        if found
    ]


def _range(address: str, key: str, canvas: Any) -> Any:
    canvas_address = str(canvas.id)
    face = canvas_address.rpartition("/")[2]
    return Range(
        id=f"{address}#{quote(key)}-{face}",
        label=canvas.label,
        items=[CanvasRef(id=canvas_address, type="Canvas")],
    )
