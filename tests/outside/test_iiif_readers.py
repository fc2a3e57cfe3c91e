"""Our manifests read by readers we did not write with: the same canvases, pictures, places and ranges.

Sources: IIIF Presentation API 3.0 (2020), through PyPI `iiif-prezi3`, npm `@iiif/parser` and the Vault of npm
`@iiif/helpers`; IIIF, *Linking to External Services*, section 3.3 (Physical Dimensions), read 2025.
"""

from __future__ import annotations

import json
import subprocess
from collections import Counter
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from iiif_prezi3 import Manifest

from tests.exports.laid_out import (
    Json,
    box_of,
    canvases,
    collections,
    manifests,
    notes,
    paintings,
    pictures_of,
    piece_manifests,
)

NODE = Path(__file__).parent / "node"
SERIALIZER_SHORTENS = {"motivation", "homepage", "body"}


@cache
def read_by_node(resources: Callable[[], tuple[Json, ...]]) -> list[Json]:
    done = subprocess.run(
        ["node", "manifests.mjs"],
        cwd=NODE,
        input=json.dumps(resources()),
        capture_output=True,
        text=True,
        check=True,
    )
    found: list[Json] = json.loads(done.stdout)
    return found


@pytest.fixture
def read(needs: Callable[[str], Path]) -> list[tuple[Json, Json]]:
    """Give every manifest with what the two readers made of it."""
    needs("node readers")
    return list(zip(manifests(), read_by_node(manifests), strict=True))


def size_shown(service: Json, width: int, height: int) -> tuple[float, float, str]:
    """Give the size of what a canvas shows, as the annex has it."""
    scale = service["physicalScale"]
    return width * scale, height * scale, service["physicalUnits"]


def test_the_worked_figure_of_the_annex_is_ten_inches_by_fifteen() -> None:
    service = {"physicalScale": 0.0025, "physicalUnits": "in"}
    assert size_shown(service, 4000, 6000) == (10, 15, "in")


def test_every_canvas_says_how_large_the_face_is_as_the_annex_asks() -> None:
    for canvas in canvases(*manifests()):
        (service,) = canvas["service"]
        assert service["@context"] == "http://iiif.io/api/annex/services/physdim/1/context.json"
        assert service["profile"] == "http://iiif.io/api/annex/services/physdim"
        assert service["physicalUnits"] in {"mm", "cm", "in"}
        width, height, _ = size_shown(service, canvas["width"], canvas["height"])
        assert 1 < width < 1000
        assert 1 < height < 1000


def test_prezi3_reads_every_manifest_and_writes_what_it_knows_of_it() -> None:
    for manifest in manifests():
        again = json.loads(Manifest(**manifest).json(), object_hook=without_empty_lists)
        assert again == without_what_prezi3_drops(manifest)


def without_empty_lists(fields: Json) -> Json:
    """Leave out the empty list of items that prezi3 gives to a canvas that a range only names."""
    return {key: value for key, value in fields.items() if value != []}


def without_what_prezi3_drops(thing: Any) -> Any:
    """Leave out of pictures what IIIF lets any resource have, and the models of prezi3 do not know."""
    match thing:
        case {"type": "Image", **fields}:
            dropped = {"rights", "requiredStatement", "homepage"}
            return {"type": "Image"} | {key: value for key, value in fields.items() if key not in dropped}
        case dict():
            return {key: without_what_prezi3_drops(value) for key, value in thing.items()}
        case list():
            return [without_what_prezi3_drops(value) for value in thing]
        case _:
            return thing


def test_the_parser_finds_every_resource_and_nothing_amiss(read: list[tuple[Json, Json]]) -> None:
    for manifest, found in read:
        assert found["parser"]["diagnostics"] == []
        counts = Counter(found["parser"]["counts"])
        shown = list(canvases(manifest))
        assert counts["Canvas"] == len(shown)
        assert counts["Annotation"] == sum(len(paintings(one)) + len(notes(one)) for one in shown)
        # a canvas that a range names is counted among the ranges
        assert counts["Range"] == sum(1 + 2 * len(group["items"]) for group in manifest["structures"])


def test_the_parser_writes_the_same_manifest_again(read: list[tuple[Json, Json]]) -> None:
    for manifest, found in read:
        assert set(differences(manifest, found["parser"]["again"])) <= SERIALIZER_SHORTENS


def differences(ours: Any, theirs: Any, name: str = "") -> list[str]:
    """Name the fields that differ; of a body, which the serializer writes in another form, only that."""
    if name in SERIALIZER_SHORTENS or not isinstance(ours, dict | list):
        return [] if ours == theirs else [name]
    if isinstance(ours, list):
        if len(ours) != len(theirs):
            return [name]
        return [found for a, b in zip(ours, theirs, strict=True) for found in differences(a, b, name)]
    return [
        found for key in ours.keys() | theirs for found in differences(ours.get(key), theirs.get(key), key)
    ]


def test_the_vault_shows_the_name_the_rights_and_the_size_of_every_face(
    read: list[tuple[Json, Json]],
) -> None:
    for manifest, found in read:
        vault = found["vault"]
        for field in ("label", "rights", "requiredStatement"):
            assert vault[field] == manifest.get(field)
        for ours, theirs in zip(canvases(manifest), vault["canvases"], strict=True):
            for field in ("id", "width", "height", "service"):
                assert theirs[field] == ours[field]


def test_the_vault_paints_every_picture_where_we_put_it(read: list[tuple[Json, Json]]) -> None:
    painted = 0
    for manifest, found in read:
        for ours, theirs in zip(canvases(manifest), found["vault"]["canvases"], strict=True):
            assert theirs["annotations"] == [one["id"] for one in paintings(ours)]
            for painting, shown in zip(paintings(ours), theirs["painted"], strict=True):
                painted += 1
                assert shown["annotation"] == painting["id"]
                assert shown["image"] == pictures_of(painting)[0]["id"]
                assert as_numbers(shown["at"]) == box_of(painting)
    assert painted > 300


def test_the_vault_cuts_and_turns_every_picture_as_we_ask(read: list[tuple[Json, Json]]) -> None:
    cut, turned = 0, 0
    for manifest, found in read:
        for ours, theirs in zip(canvases(manifest), found["vault"]["canvases"], strict=True):
            for painting, shown in zip(paintings(ours), theirs["painted"], strict=True):
                selector = painting["body"].get("selector", {})
                region = selector.get("region") or selector.get("value", "").removeprefix("xywh=")
                assert as_numbers(shown["from"]) == (tuple(map(int, region.split(","))) if region else None)
                assert shown["rotation"] == float(selector.get("rotation", 0))
                cut, turned = cut + bool(region), turned + bool(shown["rotation"])
    assert cut > 50
    assert turned > 5


def as_numbers(box: Json | None) -> tuple[int, ...] | None:
    return None if box is None else (box["x"], box["y"], box["width"], box["height"])


def test_the_vault_ties_every_note_to_an_outline_on_its_face(read: list[tuple[Json, Json]]) -> None:
    for manifest, found in read:
        for ours, theirs in zip(canvases(manifest), found["vault"]["canvases"], strict=True):
            assert theirs["notes"] == [{"canvas": ours["id"], "selector": "SvgSelector"} for _ in notes(ours)]


def test_the_vault_leads_through_the_stages_to_every_face(read: list[tuple[Json, Json]]) -> None:
    for manifest, found in read:
        assert canvases_under(found["vault"]["tree"]) == [canvas["id"] for canvas in manifest["items"]]


def canvases_under(node: Json) -> list[str]:
    if node["type"] == "Canvas":
        return [node["id"]]
    return [found for item in node.get("items") or () for found in canvases_under(item)]


def test_the_readers_find_every_piece_by_itself_with_its_pictures(needs: Callable[[str], Path]) -> None:
    needs("node readers")
    painted = 0
    for manifest, found in zip(piece_manifests(), read_by_node(piece_manifests), strict=True):
        assert found["parser"]["diagnostics"] == []
        assert set(differences(manifest, found["parser"]["again"])) <= SERIALIZER_SHORTENS
        shown = [painting for canvas in found["vault"]["canvases"] for painting in canvas["painted"]]
        ours = [painting for canvas in canvases(manifest) for painting in paintings(canvas)]
        assert [one["image"] for one in shown] == [pictures_of(one)[0]["id"] for one in ours]
        painted += sum(one["image"].endswith(".jpg") for one in shown)
    assert painted > 30


def test_the_readers_find_every_collection_and_what_it_lists(needs: Callable[[str], Path]) -> None:
    needs("node readers")
    for collection, found in zip(collections(), read_by_node(collections), strict=True):
        assert found["parser"]["diagnostics"] == []
        assert differences(collection, found["parser"]["again"]) == []
        assert found["vault"]["label"] == collection["label"]
        assert [one["id"] for one in found["vault"]["items"]] == [one["id"] for one in collection["items"]]
        assert all(one["label"] for one in found["vault"]["items"])
        assert found["vault"]["partOf"] == [one["id"] for one in collection.get("partOf", ())]


def test_every_manifest_is_listed_in_the_collections_that_it_says_it_is_in() -> None:
    listed = {one["id"]: {item["id"] for item in one["items"]} for one in collections()}
    within = {manifest["id"]: [one["id"] for one in manifest["partOf"]] for manifest in manifests()}
    wholes = {name: found for name, found in within.items() if "/collection" in found[0]}
    assert len(wholes) == 18
    assert all(name in listed[one] for name, found in wholes.items() for one in found)
    assert all(found[0] in wholes for name, found in within.items() if name not in wholes)
