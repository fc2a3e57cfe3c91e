"""Volumes and leaves for IIIF readers, with the pictures and outlines that their manifests name."""

from __future__ import annotations

import json
from typing import Annotated, Any, Literal

from fastapi import APIRouter, Path, Query
from starlette.requests import Request
from starlette.responses import FileResponse, Response

from guardbook.actions.collection_of import ALL, collection_of
from guardbook.actions.image_file import image_file
from guardbook.actions.manifest_of import (
    manifest_of_host,
    manifest_of_leaf,
    manifest_of_piece,
    outline_of_piece,
    outline_on_host,
    outline_on_leaf,
)
from guardbook.api.addresses import Identifier, reached_at, record_at
from guardbook.api.descriptions import files
from guardbook.api.reply import Asked
from guardbook.exports.iiif.addresses import MEDIA_TYPE, SVG_TYPE
from guardbook.imaging.smaller import MEDIA_TYPE as SMALLER_TYPE
from guardbook.records.identifiers import example

router = APIRouter(tags=["IIIF"])

Stage = Annotated[int, Path(ge=1, le=2**53, description="The number of a stage.", examples=[1])]
Leaf = Annotated[str, Path(description="The leaf, as the records call it.", examples=["12"])]
FaceKey = Annotated[str, Path(description="The face.", examples=["cover-inside"])]
OutlineName = Annotated[
    str, Path(description="The piece by its identifier, or `face`.", examples=[f"{example()}.svg"])
]
PictureName = Annotated[
    str, Path(description="The identifier of a picture, with any ending.", examples=[f"{example()}.jpg"])
]
CollectionName = Annotated[
    Literal["volumes", "carriers"], Path(description="What is listed.", examples=["volumes"])
]
KeeperKind = Annotated[Literal["institution", "agent"], Path(description="A body or a person.")]
Page = Annotated[int, Path(ge=1, le=2**31, description="The number of a part.", examples=[1])]
COLLECTION = files("An IIIF Presentation 3 collection.", "application/ld+json", schema="Collection")
MANIFEST = files("An IIIF Presentation 3 manifest.", "application/ld+json", schema="Manifest")
DRAWING = files("A drawn outline.", SVG_TYPE)


@router.get("/iiif/collection.json", operation_id="collectionOfAll", responses=COLLECTION)
def everything(request: Request, access: Asked) -> Response:
    """Get the list of lists: of all volumes, of all books that were cut up, and of those of each keeper."""
    return _reply(collection_of(access, ALL, at=reached_at(request)))


@router.get("/iiif/collection/{name}.json", operation_id="collectionOfKind", responses=COLLECTION)
def all_of_kind(request: Request, access: Asked, name: CollectionName) -> Response:
    """Get the list of all volumes, or of all books that were cut up, that can be laid out."""
    return _reply(collection_of(access, name, at=reached_at(request)))


@router.get("/iiif/collection/{name}/page-{page}.json", operation_id="pageOfCollection", responses=COLLECTION)
def page_of_kind(request: Request, access: Asked, name: CollectionName, page: Page) -> Response:
    """Get a part of a long list."""
    return _reply(collection_of(access, name, page, at=reached_at(request)))


@router.get(
    "/iiif/collection/{kind}/{identifier}.json", operation_id="collectionOfKeeper", responses=COLLECTION
)
def all_of_keeper(request: Request, access: Asked, kind: KeeperKind, identifier: Identifier) -> Response:
    """Get the list of all that a library, archive or person keeps and that can be laid out."""
    record_at(access, kind, identifier)
    return _reply(collection_of(access, f"{kind}/{identifier}", at=reached_at(request)))


@router.get(
    "/iiif/collection/{kind}/{identifier}/page-{page}.json",
    operation_id="pageOfKeeper",
    responses=COLLECTION,
)
def page_of_keeper(
    request: Request, access: Asked, kind: KeeperKind, identifier: Identifier, page: Page
) -> Response:
    """Get a part of a long list of what somebody keeps."""
    record_at(access, kind, identifier)
    return _reply(collection_of(access, f"{kind}/{identifier}", page, at=reached_at(request)))


@router.get("/iiif/fragment/{identifier}/manifest.json", operation_id="manifestOfPiece", responses=MANIFEST)
def piece(request: Request, access: Asked, identifier: Identifier) -> Response:
    """Get a piece by itself: its faces to scale, and every picture of it."""
    return _reply(
        manifest_of_piece(access, record_at(access, "fragment", identifier), at=reached_at(request))
    )


@router.get(
    "/iiif/fragment/{identifier}/faces/{face}/outlines/{outline}",
    operation_id="outlineOfPiece",
    responses=DRAWING,
)
def piece_outline(access: Asked, identifier: Identifier, face: FaceKey, outline: OutlineName) -> Response:
    """Get the outline of a piece that has no picture, as its manifest names it."""
    iri = record_at(access, "fragment", identifier)
    return Response(outline_of_piece(access, iri, face, outline), media_type=SVG_TYPE)


@router.get("/iiif/host/{identifier}/manifest.json", operation_id="manifestOfVolume", responses=MANIFEST)
def volume(request: Request, access: Asked, identifier: Identifier) -> Response:
    """Get a volume at all its stages: a canvas a face, to scale, with every piece in its place."""
    return _reply(manifest_of_host(access, record_at(access, "host", identifier), at=reached_at(request)))


@router.get(
    "/iiif/host/{identifier}/stage-{stage}/manifest.json",
    operation_id="manifestOfStage",
    responses=MANIFEST,
)
def volume_at_stage(request: Request, access: Asked, identifier: Identifier, stage: Stage) -> Response:
    """Get a volume at one of its stages."""
    host = record_at(access, "host", identifier)
    return _reply(manifest_of_host(access, host, stage, at=reached_at(request)))


@router.get("/iiif/carrier/{identifier}/manifest.json", operation_id="manifestOfCarrier", responses=MANIFEST)
def carrier(request: Request, access: Asked, identifier: Identifier) -> Response:
    """Get the leaves of a book that was cut up, with the known pieces where each was cut."""
    return _reply(manifest_of_leaf(access, record_at(access, "carrier", identifier), at=reached_at(request)))


@router.get(
    "/iiif/carrier/{identifier}/leaf-{leaf:path}/manifest.json",
    operation_id="manifestOfLeaf",
    responses=MANIFEST,
)
def carrier_leaf(request: Request, access: Asked, identifier: Identifier, leaf: Leaf) -> Response:
    """Get one leaf of a book that was cut up."""
    iri = record_at(access, "carrier", identifier)
    return _reply(manifest_of_leaf(access, iri, leaf, at=reached_at(request)))


@router.get(
    "/iiif/host/{identifier}/stage-{stage}/{face}/outlines/{outline}",
    operation_id="outlineInVolume",
    responses=DRAWING,
)
def volume_outline(
    access: Asked, identifier: Identifier, stage: Stage, face: FaceKey, outline: OutlineName
) -> Response:
    """Get the outline of a piece that has no picture, as a manifest of a volume names it."""
    host = record_at(access, "host", identifier)
    return Response(outline_on_host(access, host, stage, face, outline), media_type=SVG_TYPE)


@router.get(
    "/iiif/carrier/{identifier}/leaf-{leaf:path}/{face}/outlines/{outline}",
    operation_id="outlineOnLeaf",
    responses=DRAWING,
)
def leaf_outline(
    access: Asked, identifier: Identifier, leaf: Leaf, face: FaceKey, outline: OutlineName
) -> Response:
    """Get the outline of a piece that has no picture, as a manifest of a leaf names it."""
    iri = record_at(access, "carrier", identifier)
    return Response(outline_on_leaf(access, iri, leaf, face, outline), media_type=SVG_TYPE)


@router.get("/images/{name}", operation_id="getPicture", responses=files("A picture.", "image/*"))
def picture(
    access: Asked,
    name: PictureName,
    width: Annotated[
        Literal["160", "320", "640", "1280"] | None,
        Query(
            description="As JPEG at most so many pixels wide; else the file as it is kept, for the public "
            "without what the camera wrote into it."
        ),
    ] = None,
) -> Response:
    """Get the file of a picture that is kept here, by the identifier of its record, or smaller."""
    found = image_file(access, record_at(access, "image", name.partition(".")[0]))
    small = found.smaller(int(width)) if width else None
    if small is not None:
        return Response(small, media_type=SMALLER_TYPE)
    if found.is_bare:
        return Response(found.opened().read(), media_type=found.media_type)
    return FileResponse(found.path, media_type=found.media_type)


def _reply(manifest: dict[str, Any]) -> Response:
    return Response(json.dumps(manifest, ensure_ascii=False), headers={"Content-Type": MEDIA_TYPE})
