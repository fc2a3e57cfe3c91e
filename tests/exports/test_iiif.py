"""A binding or a leaf laid out for IIIF readers: to scale, every piece in its place, nothing hidden told.

Source: IIIF Presentation API 3.0 (2020): what a canvas, a painting and a range must be, some of which
`iiif-prezi3` lets through unseen.
"""

from __future__ import annotations

import json
from collections import Counter

import pytest

from guardbook.actions.draw_stage import draw_stage
from guardbook.actions.load_demo import demo_records
from guardbook.actions.manifest_of import (
    manifest_of_host,
    manifest_of_leaf,
    outline_on_host,
    outline_on_leaf,
)
from guardbook.binding.plane_keys import plane_key
from guardbook.binding.scene_planes import ScenePlane
from guardbook.catalogue.access import Viewer
from guardbook.errors import NotFound, WrongUse
from guardbook.exports.iiif.rights import rights_of
from guardbook.records.carrier import Carrier
from guardbook.records.host import HostVolume
from tests.binding.bench import at, iri, made, piece, placing, volume
from tests.exports.laid_out import Json, box_of, canvases, catalogue_of, manifests, notes, paintings


@pytest.fixture(params=list(Viewer))
def everything(request: pytest.FixtureRequest) -> tuple[Json, ...]:
    """Give every manifest of the demonstration, as each viewer sees it."""
    return manifests(request.param)


def test_every_face_has_a_height_a_width_and_an_address_of_its_own(everything: tuple[Json, ...]) -> None:
    for manifest in everything:
        for canvas in canvases(manifest):
            assert canvas["type"] == "Canvas"
            assert isinstance(canvas["height"], int)
            assert isinstance(canvas["width"], int)
            assert min(canvas["height"], canvas["width"]) > 0
            assert canvas["id"].startswith("https://guardbook.example/iiif/")
            assert "#" not in canvas["id"]


def test_every_address_in_a_manifest_is_given_once(everything: tuple[Json, ...]) -> None:
    for manifest in everything:
        own = [
            one["id"]
            for canvas in canvases(manifest)
            for one in [canvas, *canvas["items"], *paintings(canvas), *notes(canvas)]
        ]
        assert [address for address, times in Counter(own).items() if times > 1] == []


def test_nothing_is_painted_outside_its_face_or_for_another_reason(everything: tuple[Json, ...]) -> None:
    for canvas in canvases(*everything):
        assert paintings(canvas)
        for painting in paintings(canvas):
            assert painting["motivation"] == "painting"
            assert painting["target"].partition("#")[0] == canvas["id"]
            x, y, width, height = box_of(painting)
            assert min(x, y) >= 0
            assert min(width, height) > 0
            assert x + width <= canvas["width"]
            assert y + height <= canvas["height"]


def test_no_note_is_painted_and_each_is_on_its_own_face(everything: tuple[Json, ...]) -> None:
    for canvas in canvases(*everything):
        for note in notes(canvas):
            assert "painting" not in note["motivation"]
            assert note["target"]["source"] == canvas["id"]
            assert note["target"]["selector"]["value"].startswith("<svg ")


def test_the_ranges_of_a_manifest_hold_every_face_once_in_order(everything: tuple[Json, ...]) -> None:
    for manifest in everything:
        named = [
            canvas["id"]
            for group in manifest["structures"]
            for face in group["items"]
            for canvas in face["items"]
        ]
        assert named == [canvas["id"] for canvas in manifest["items"]]
        assert all(group["label"] and group["type"] == "Range" for group in manifest["structures"])


def test_every_piece_is_painted_where_the_scene_has_it() -> None:
    checked = 0
    with catalogue_of(*demo_records()) as access:
        for host in access.iris("host"):
            shown = {canvas["id"]: canvas for canvas in manifest_of_host(access, host)["items"]}
            record = access.record(host).record
            assert isinstance(record, HostVolume)
            for stage in record.stages:
                for plane in draw_stage(access, host, stage.number).scene.planes:
                    key = f"iiif/{record.short}/stage-{stage.number}/{plane_key(plane.plane)}"
                    checked += pieces_in_place(plane, shown[f"https://guardbook.example/{key}"])
    assert checked > 150


def pieces_in_place(plane: ScenePlane, canvas: Json) -> int:
    """Hold the paintings of a canvas to the outlines of a plane; give how many pieces there were."""
    left, bottom, right, top = plane.extent
    assert canvas["width"] == pytest.approx((right - left) * 10, abs=1)
    assert canvas["height"] == pytest.approx((top - bottom) * 10, abs=1)
    items = [item for item in plane.items if item.outline is not None]
    for item, painting in zip(items, paintings(canvas)[1:], strict=True):
        assert item.outline is not None
        found = item.outline.bounds
        # seen reversed, the right of the plane is on the viewer's left
        from_left = right - found[2] if plane.plane.is_seen_reversed else found[0] - left
        expected = [from_left, top - found[3], found[2] - found[0], found[3] - found[1]]
        assert box_of(painting) == pytest.approx([10 * length for length in expected], abs=1)
    return len(items)


def test_an_outline_in_a_note_is_that_of_the_piece_in_tenths_of_a_millimetre() -> None:
    where = at("10.0", "20.0", plane="cover-inside")
    with catalogue_of(*BOOK, placing("in", "Slip", "Book", 1, where)) as access:
        canvas = next(one for one in manifest_of_host(access, BOOK[0].id)["items"] if "inside" in one["id"])
    svg = notes(canvas)[0]["target"]["selector"]["value"]
    x, y, width, height = box_of(paintings(canvas)[1])
    assert (width, height) == (200, 400)
    assert f'd="M{x + width} {y + height}v-400h-200v400z"' in svg


INSIDE = {
    "id": "#plane-1",
    "plane": "cover-inside",
    "left": "-180",
    "right": "180",
    "bottom": "0",
    "top": "210",
}
BOOK = (volume("Book", "1500", "1900", height="200", width="150", planes=[INSIDE]), piece("Slip"))


def test_every_stage_of_a_volume_can_be_had_alone_and_is_the_same_there() -> None:
    whole = {one["id"]: one for one in manifests()}
    for manifest in manifests():
        alone = manifest["id"].rpartition("/stage-")
        if alone[1]:
            together = {one["id"]: one for one in whole[f"{alone[0]}/manifest.json"]["items"]}
            for canvas in manifest["items"]:
                same = together[canvas["id"]]
                assert (paintings(canvas), notes(canvas)) == (paintings(same), notes(same))


def test_a_volume_tells_its_keeper_its_rights_its_page_and_its_records() -> None:
    manifest = next(one for one in manifests() if "Latin grammar" in str(one["label"]))
    assert manifest["provider"][0]["label"] == {"none": ["Library of the College of Saint Ovrin"]}
    assert manifest["rights"] == "http://creativecommons.org/licenses/by/4.0/"
    assert "Library of the College of Saint Ovrin" in manifest["requiredStatement"]["value"]["en"]
    assert manifest["homepage"][0]["id"].endswith("/host/YSF07N-H.html")
    assert {one["format"] for one in manifest["seeAlso"]} == {"text/turtle", "application/ld+json"}
    assert manifest["summary"]["en"][0].startswith("The binding at 4 stages")


@pytest.mark.parametrize(
    ("licence", "rights"),
    [
        ("https://creativecommons.org/licenses/by-nc/4.0/", "http://creativecommons.org/licenses/by-nc/4.0/"),
        ("http://creativecommons.org/licenses/by/4.0", "http://creativecommons.org/licenses/by/4.0/"),
        (
            "https://creativecommons.org/publicdomain/zero/1.0/",
            "http://creativecommons.org/publicdomain/zero/1.0/",
        ),
        (
            "https://rightsstatements.org/page/InC/1.0/?language=ca",
            "http://rightsstatements.org/vocab/InC/1.0/",
        ),
        ("https://example.org/licence", None),
        ("https://creativecommons.org.example/licenses/by/4.0/", None),
        (None, None),
    ],
)
def test_only_licences_that_iiif_knows_are_given_as_rights(licence: str | None, rights: str | None) -> None:
    assert rights_of(licence) == rights


def test_a_licence_that_iiif_does_not_know_is_told_all_the_same() -> None:
    book = volume("Book", "1500", planes=[INSIDE], licence="https://example.org/licence")
    with catalogue_of(book) as access:
        manifest = manifest_of_host(access, book.id)
    assert "rights" not in manifest
    assert {"label": {"en": ["Licence"]}, "value": {"none": ["https://example.org/licence"]}} in manifest[
        "metadata"
    ]


def test_a_piece_without_a_place_is_named() -> None:
    with catalogue_of(*BOOK, placing("in", "Slip", "Book")) as access:
        manifest = manifest_of_host(access, BOOK[0].id)
    assert {
        "label": {"en": ["Pieces whose place is not known"]},
        "value": {"none": ["Slip"]},
    } in manifest["metadata"]


def test_the_public_is_told_of_no_piece_or_picture_that_is_not_for_it() -> None:
    records = demo_records()
    with catalogue_of(*records, viewer=Viewer.PUBLIC) as access:
        hidden = [one.identifier for one in records if not access.has(one.id)]
    told = json.dumps(manifests(Viewer.PUBLIC))
    assert len(hidden) == 3
    assert [identifier for identifier in hidden if identifier in told] == []
    assert any(identifier in json.dumps(manifests()) for identifier in hidden)


def test_a_volume_of_which_nothing_was_measured_cannot_be_laid_out_and_says_what_to_do() -> None:
    with (
        catalogue_of(volume("Book", "1500")) as access,
        pytest.raises(NotFound, match="Say on which face a piece lies"),
    ):
        manifest_of_host(access, iri("host", "Book"))


def test_a_piece_is_no_volume_and_no_carrier() -> None:
    with catalogue_of(*BOOK) as access:
        for lay_out in (manifest_of_host, manifest_of_leaf):
            with pytest.raises(WrongUse, match="is no"):
                lay_out(access, iri("fragment", "Slip"))


def test_a_stage_that_a_volume_does_not_have_is_refused() -> None:
    with catalogue_of(*BOOK) as access, pytest.raises(WrongUse, match="has no stage 9"):
        manifest_of_host(access, BOOK[0].id, 9)


LEAF = made(Carrier, "Psalter", height="300", width="200")
CUT = piece(
    "Cut",
    carrierPlaces=[
        {
            "id": "#place-1",
            "carrier": LEAF.id,
            "carrierLeaf": "12/b",
            "leafSide": "recto",
            "x": "50",
            "y": "60",
        }
    ],
)


def test_a_piece_cut_from_a_leaf_is_painted_where_it_was_and_the_rest_is_told_as_missing() -> None:
    with catalogue_of(LEAF, CUT) as access:
        (canvas,) = manifest_of_leaf(access, LEAF.id, "12/b")["items"]
    assert (canvas["width"], canvas["height"]) == (2000, 3000)
    assert box_of(paintings(canvas)[1]) == (500, 2000, 200, 400)
    missing = [note for note in notes(canvas) if note["motivation"] == "describing"]
    assert [note["body"][0]["value"] for note in missing] == [
        "Missing: no piece of this part of the leaf is known"
    ]


def test_a_leaf_of_which_no_piece_is_known_is_refused_by_naming_those_there_are() -> None:
    with catalogue_of(LEAF, CUT) as access, pytest.raises(WrongUse, match="Leaves with known pieces: 12/b"):
        manifest_of_leaf(access, LEAF.id, "13")


def test_every_outline_that_a_manifest_names_can_be_had_in_the_size_it_says() -> None:
    with catalogue_of(*demo_records()) as access:
        manifest = manifest_of_host(access, iri_of("Antiphoner of Castrimur"), 2)
        outlines = [one["body"] for canvas in canvases(manifest) for one in paintings(canvas)]
        for body in (one for one in outlines if one["format"] == "image/svg+xml"):
            face, _, name = body["id"].partition("/stage-2/")[2].partition("/outlines/")
            svg = outline_on_host(access, iri_of("Antiphoner of Castrimur"), 2, face, name)
            assert f'viewBox="0 0 {body["width"]} {body["height"]}"' in svg
    assert len(outlines) > 15


def iri_of(title: str) -> str:
    return next(record.id for record in demo_records() if record.title == title)


def test_the_outline_of_a_leaf_is_drawn_and_one_that_is_not_there_is_not() -> None:
    with catalogue_of(LEAF, CUT) as access:
        assert "<title>Cut</title>" in outline_on_leaf(
            access, LEAF.id, "12/b", "recto", f"{CUT.identifier}.svg"
        )
        with pytest.raises(NotFound, match=r"no outline other\.svg on recto"):
            outline_on_leaf(access, LEAF.id, "12/b", "recto", "other.svg")


def test_an_outline_on_a_face_seen_reversed_is_drawn_as_it_is_seen() -> None:
    """Its corner at the head on the left as one looks at its front is cut off, and is so on the board too."""
    corner = piece("Slip", outline="POLYGON ((0 0, 20 0, 20 40, 10 40, 0 30, 0 0))")
    where = at("0", "0", plane="board-inside", side="upper")
    with catalogue_of(BOOK[0], corner, placing("in", "Slip", "Book", 1, where)) as access:
        svg = outline_on_host(access, BOOK[0].id, 1, "board-inside-upper", f"{corner.identifier}.svg")
    # drawn in by half the stroke: from the tail on the left, by the tail on the right, to the head
    assert 'd="M2.5 397.5h195v-395h-97.5l-97.5 98.75z"' in svg
