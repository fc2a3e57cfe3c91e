"""The demonstration laid out as manifests: every volume at every stage and at all, every carrier."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager, suppress
from functools import cache
from typing import Any

from guardbook.actions.collection_of import collection_of
from guardbook.actions.load_demo import demo_records
from guardbook.actions.manifest_of import manifest_of_host, manifest_of_leaf, manifest_of_piece
from guardbook.binding.ordering import stages_of
from guardbook.catalogue.access import Access, Viewer
from guardbook.catalogue.catalogue import open_catalogue
from guardbook.errors import NotFound
from guardbook.records.base import Record
from guardbook.records.carrier import Carrier
from guardbook.records.host import HostVolume
from tests.catalogue.shelf import save

Json = dict[str, Any]


@contextmanager
def catalogue_of(*records: Record, viewer: Viewer = Viewer.WORKSHOP) -> Iterator[Access]:
    """Open a catalogue in memory that holds some records, as a viewer sees it."""
    with open_catalogue(None) as catalogue:
        save(catalogue.access(Viewer.WORKSHOP), *records)
        yield catalogue.access(viewer)


@cache
def manifests(viewer: Viewer = Viewer.WORKSHOP) -> tuple[Json, ...]:
    """Give the manifests of the whole demonstration, as a viewer sees it."""
    with catalogue_of(*demo_records(), viewer=viewer) as access:
        return tuple(_manifests(access))


@cache
def piece_manifests(viewer: Viewer = Viewer.WORKSHOP) -> tuple[Json, ...]:
    """Give the manifest of every piece of the demonstration that has a size or a picture."""
    found = []
    with catalogue_of(*demo_records(), viewer=viewer) as access:
        for iri in access.iris("fragment"):
            with suppress(NotFound):
                found.append(manifest_of_piece(access, iri))
    return tuple(found)


@cache
def collections(viewer: Viewer = Viewer.WORKSHOP) -> tuple[Json, ...]:
    """Give all collections of the demonstration, the one of all first."""
    with catalogue_of(*demo_records(), viewer=viewer) as access:
        top = collection_of(access)
        names = [item["id"].partition("/collection/")[2].removesuffix(".json") for item in top["items"]]
        return top, *(collection_of(access, name) for name in names)


def _manifests(access: Access) -> Iterator[Json]:
    for iri in access.iris():
        match record := access.record(iri).record:
            case HostVolume():
                yield manifest_of_host(access, iri)
                for stage in stages_of(record):
                    yield manifest_of_host(access, iri, stage.number)
            case Carrier():
                yield manifest_of_leaf(access, iri)
            case _:
                continue


def canvases(*of: Json) -> Iterator[Json]:
    """Give all canvases of manifests."""
    yield from (canvas for manifest in of for canvas in manifest["items"])


def paintings(canvas: Json) -> list[Json]:
    """Give what is painted on a canvas, from below upwards."""
    return [annotation for page in canvas["items"] for annotation in page["items"]]


def notes(canvas: Json) -> list[Json]:
    """Give what is told about a canvas."""
    return [annotation for page in canvas.get("annotations", ()) for annotation in page["items"]]


def box_of(painting: Json) -> tuple[int, int, int, int]:
    """Give the place of a painting on its canvas: x, y, width, height."""
    x, y, width, height = map(int, painting["target"].partition("#xywh=")[2].split(","))
    return x, y, width, height


def pictures_of(painting: Json) -> list[Json]:
    """Give the pictures of a painting without what is cut off them: one, or all to choose from."""
    body = painting["body"]
    bodies = body["items"] if body["type"] == "Choice" else [body]
    return [one.get("source", one) for one in bodies]
