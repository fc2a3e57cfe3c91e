"""A reader of IIIF opens a volume of the demonstration over HTTP, and gets all that the manifest names."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest
from starlette.types import ASGIApp

from guardbook.__main__ import application
from guardbook.actions.load_demo import demo_records
from guardbook.catalogue.access import Viewer
from guardbook.catalogue.catalogue import open_catalogue
from guardbook.exports.pictures.bare import bare
from tests.api.client import Client
from tests.catalogue.shelf import made, save
from tests.exports.laid_out import canvases, paintings, pictures_of
from tests.exports.taken_pictures import SECRETS, jpeg

LAW_BOOK = "N6Y9VM-C"
GRAMMAR = "YSF07N-H"
PSALTER = "1NE28B-M"
STRIP = "T1C252-5"
STRIP_PIECE = "B89RYC-6"
LIBRARY = "6TWC6H-P"


@pytest.fixture(scope="module")
def demo() -> Iterator[ASGIApp]:
    """Serve the demonstration."""
    with open_catalogue(None) as catalogue:
        views = {viewer: catalogue.access(viewer) for viewer in Viewer}
        save(views[Viewer.WORKSHOP], *demo_records())
        yield application(views.__getitem__)


@pytest.fixture
def reader(demo: ASGIApp) -> Client:
    """Give a reader on another machine."""
    return Client(demo, base_url="https://catalogue.example", address="203.0.113.7")


def own_path(address: str) -> str:
    """Give the path of an address, which must be on the host that was asked."""
    parts = urlsplit(address)
    assert f"{parts.scheme}://{parts.netloc}" == "https://catalogue.example"
    return parts.path


@pytest.mark.parametrize(
    "path",
    [
        f"/iiif/host/{LAW_BOOK}/manifest.json",
        f"/iiif/host/{LAW_BOOK}/stage-2/manifest.json",
        f"/iiif/carrier/{PSALTER}/manifest.json",
        f"/iiif/carrier/{PSALTER}/leaf-1/manifest.json",
        f"/iiif/fragment/{STRIP_PIECE}/manifest.json",
        "/iiif/collection.json",
        "/iiif/collection/volumes.json",
        "/iiif/collection/carriers.json",
        f"/iiif/collection/institution/{LIBRARY}.json",
    ],
)
def test_a_manifest_is_found_at_its_own_address_by_readers_of_other_sites(reader: Client, path: str) -> None:
    answer = reader.get(path)
    assert answer.status_code == 200
    assert answer.headers["content-type"].startswith("application/ld+json;profile=")
    assert answer.headers["access-control-allow-origin"] == "*"
    assert own_path(answer.json()["id"]) == path


@pytest.mark.parametrize(
    "path",
    [
        f"/iiif/host/{GRAMMAR}/stage-2",
        f"/iiif/carrier/{PSALTER}/leaf-1",
    ],
)
def test_everything_that_is_painted_can_be_had_as_what_it_is_said_to_be(reader: Client, path: str) -> None:
    manifest = reader.get(f"{path}/manifest.json").json()
    shown = [body for canvas in canvases(manifest) for one in paintings(canvas) for body in pictures_of(one)]
    assert {body["format"] for body in shown} == {"image/jpeg", "image/svg+xml"}
    for body in shown:
        answer = reader.get(own_path(body["id"]))
        assert answer.status_code == 200
        assert answer.headers["content-type"] == body["format"]


def test_every_manifest_and_collection_that_is_listed_is_there(reader: Client) -> None:
    waiting, seen = ["/iiif/collection.json"], set()
    while waiting:
        path = waiting.pop()
        if path not in seen:
            seen.add(path)
            answer = reader.get(path)
            assert (answer.status_code, own_path(answer.json()["id"])) == (200, path)
            named = answer.json()["items"] if answer.json()["type"] == "Collection" else []
            waiting += [own_path(item["id"]) for item in named]
            waiting += [own_path(item["id"]) for item in answer.json().get("partOf", ())]
    assert len(seen) > 20


def test_the_outline_of_a_piece_by_itself_is_served(reader: Client) -> None:
    manifest = reader.get("/iiif/fragment/A5569E-7/manifest.json").json()
    (body,) = (
        found for canvas in canvases(manifest) for one in paintings(canvas) for found in pictures_of(one)
    )
    answer = reader.get(own_path(body["id"]))
    assert (answer.status_code, answer.headers["content-type"]) == (200, "image/svg+xml")


def test_the_page_and_the_records_that_a_manifest_names_are_there(reader: Client) -> None:
    manifest = reader.get(f"/iiif/host/{LAW_BOOK}/manifest.json").json()
    linked: list[dict[str, Any]] = [*manifest["homepage"], *manifest["seeAlso"]]
    assert len(linked) == 3
    for link in linked:
        answer = reader.get(own_path(link["id"]))
        assert answer.status_code == 200
        assert answer.headers["content-type"].startswith(link["format"])


@pytest.mark.parametrize(
    ("path", "status"),
    [
        (f"/iiif/host/{LAW_BOOK}/stage-9/manifest.json", 400),
        (f"/iiif/host/{PSALTER}/manifest.json", 404),
        (f"/iiif/carrier/{PSALTER}/leaf-no-such/leaf/manifest.json", 400),
        (f"/iiif/host/{LAW_BOOK}/stage-2/cover-inside/outlines/none.svg", 404),
        (f"/iiif/fragment/{LAW_BOOK}/manifest.json", 404),
        (f"/iiif/fragment/{STRIP_PIECE}/faces/front/outlines/none.svg", 404),
        (f"/iiif/collection/institution/{LAW_BOOK}.json", 404),
        ("/iiif/collection/volumes/page-9.json", 404),
        ("/images/..%2f..%2fsecret.jpg", 404),
        (f"/images/{LAW_BOOK}.jpg", 404),
        (f"/images/..%2f{STRIP}.jpg", 404),
    ],
)
def test_what_is_not_there_is_said_not_to_be(reader: Client, path: str, status: int) -> None:
    answer = reader.get(path)
    assert answer.status_code == status
    assert answer.headers["content-type"] == "application/problem+json"


def test_a_picture_that_the_public_may_not_see_is_not_served_to_it() -> None:
    records = [
        record.model_copy(update={"visibility": "workshop"}) if record.identifier == STRIP else record
        for record in demo_records()
    ]
    with open_catalogue(None) as catalogue:
        views = {viewer: catalogue.access(viewer) for viewer in Viewer}
        save(views[Viewer.WORKSHOP], *records)
        here = Client(application(views.__getitem__))
        assert here.get(f"/images/{STRIP}.jpg").content[:3] == b"\xff\xd8\xff"
        assert here.get(f"/images/{STRIP}.jpg?as=public").status_code == 404
        told = here.get(f"/iiif/carrier/{PSALTER}/manifest.json?as=public").text
        assert STRIP not in told
        assert STRIP in here.get(f"/iiif/carrier/{PSALTER}/manifest.json").text


def test_the_public_is_served_the_picture_without_what_its_camera_noted(own_data: Path) -> None:
    (own_data / "images").mkdir(parents=True)
    (own_data / "images" / "p.jpg").write_bytes(jpeg())
    image = made("image", "photo", file="images/p.jpg", mediaType="image/jpeg")
    with open_catalogue(None) as catalogue:
        views = {viewer: catalogue.access(viewer) for viewer in Viewer}
        save(views[Viewer.WORKSHOP], image)
        here = Client(application(views.__getitem__))
        kept = here.get(f"/images/{image.identifier}.jpg")
        given = here.get(f"/images/{image.identifier}.jpg?as=public")
        small = here.get(f"/images/{image.identifier}.jpg?width=160")
    assert kept.content == jpeg()
    assert (given.status_code, given.headers["content-type"]) == (200, "image/jpeg")
    assert any(word.encode() in kept.content for word in SECRETS)
    assert not any(word.encode() in given.content + small.content for word in SECRETS)
    assert given.content == bare(jpeg())
