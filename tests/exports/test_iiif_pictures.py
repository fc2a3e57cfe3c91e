"""Which part of which picture is painted where: cut to the piece, turned as it lay, one of several chosen."""

from __future__ import annotations

import math
from typing import Any

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from guardbook.actions.manifest_of import manifest_of_host
from guardbook.binding.transforms import Affine
from guardbook.exports.iiif.crops import crop_of
from guardbook.exports.iiif.faces import Picture
from guardbook.exports.iiif.space import Space
from guardbook.records.agent import Agent
from guardbook.records.base import Record
from guardbook.records.image import Image
from tests.binding.bench import at, iri, made, piece, placing, stage, volume
from tests.exports.laid_out import Json, box_of, canvases, catalogue_of, paintings

INSIDE = {
    "id": "#plane-1",
    "plane": "cover-inside",
    "left": "-150",
    "right": "150",
    "bottom": "0",
    "top": "200",
}
BOOK = volume("Book", "1500", "1900", planes=[INSIDE])
SLIP = piece("Slip")
PUT = placing("in", "Slip", "Book", 1, at("10", "20", plane="cover-inside"))


def picture(name: str, **fields: Any) -> Image:
    """Make a picture of the slip, 10 pixels to the millimetre with 30 pixels around it; kept elsewhere."""
    known = {
        "depicts": [SLIP.id],
        "address": f"https://elsewhere.example/{name}.jpg",
        "pixelWidth": 260,
        "pixelHeight": 460,
        "pixelsPerMm": "10",
        "technique": "visible-light",
    }
    found: Image = made(Image, name, **{key: value for key, value in {**known, **fields}.items() if value})
    return found


def painted(*records: Record, face: str = "cover-inside", at_stage: int = 1) -> list[Json]:
    """Give what is painted on a face of the book, from below upwards."""
    shelf = {record.id: record for record in (BOOK, SLIP, PUT, *records)}
    with catalogue_of(*shelf.values()) as access:
        manifest = manifest_of_host(access, BOOK.id, at_stage)
    return paintings(next(one for one in canvases(manifest) if one["id"].endswith(face)))


def test_a_picture_kept_elsewhere_is_named_and_not_copied_and_cut_to_the_piece() -> None:
    body = painted(picture("plain"))[1]["body"]
    assert body["source"]["id"] == "https://elsewhere.example/plain.jpg"
    assert body["source"]["format"] == "image/jpeg"
    assert body["selector"]["value"] == "xywh=30,30,200,400"


def test_a_picture_that_shows_only_the_piece_is_painted_whole() -> None:
    body = painted(picture("plain", pixelWidth=200, pixelHeight=400))[1]["body"]
    assert (body["id"], body["width"], body["height"]) == ("https://elsewhere.example/plain.jpg", 200, 400)


def test_a_piece_without_a_picture_is_painted_as_its_outline() -> None:
    body = painted()[1]["body"]
    assert body["format"] == "image/svg+xml"
    assert body["id"].endswith(f"/iiif/{BOOK.short}/stage-1/cover-inside/outlines/{SLIP.identifier}.svg")


def test_a_picture_without_scale_or_tie_points_cannot_be_laid_out() -> None:
    assert painted(picture("old", pixelsPerMm=None))[1]["body"]["format"] == "image/svg+xml"


def test_one_chooses_between_the_techniques_a_piece_was_photographed_with_plain_light_first() -> None:
    glow = picture("glow", technique="uv-fluorescence", pixelsPerMm="20", pixelWidth=400, pixelHeight=800)
    body = painted(glow, picture("plain"))[1]["body"]
    assert body["type"] == "Choice"
    shown = [one.get("source", one) for one in body["items"]]
    assert [one["label"]["en"] for one in shown] == [
        ["plain (visible light)"],
        ["glow (UV-induced fluorescence)"],
    ]


def test_a_picture_of_only_a_part_of_the_piece_is_named_beside_the_one_of_all() -> None:
    corner = [
        {"id": f"#tie-{n}", "pixelX": x, "pixelY": y, "x": on_x, "y": on_y}
        for n, (x, y, on_x, on_y) in enumerate(
            [("0", "100", "0", "0"), ("100", "100", "10", "0"), ("100", "0", "10", "10")]
        )
    ]
    detail = picture("detail", technique="raking-light", tiePoints=corner, pixelWidth=100, pixelHeight=100)
    painting = painted(picture("plain"), detail)[1]
    assert painting["body"]["source"]["id"].endswith("plain.jpg")
    assert [one["id"] for one in painting["rendering"]] == ["https://elsewhere.example/detail.jpg"]


def test_the_back_of_a_piece_is_not_shown_for_its_front() -> None:
    slip = piece("Slip", frontFace="recto")
    back = picture("back", face="verso")
    assert painted(slip, back)[1]["body"]["format"] == "image/svg+xml"


def test_a_picture_of_several_pieces_is_not_taken_for_one_of_them() -> None:
    both = picture("both", depicts=[SLIP.id, iri("fragment", "Other")])
    assert painted(piece("Other"), both)[1]["body"]["format"] == "image/svg+xml"


def test_a_picture_of_the_whole_face_lies_under_all_at_the_stage_it_was_taken_at() -> None:
    ties = [
        {"id": f"#tie-{n}", "pixelX": x, "pixelY": y, "x": on_x, "y": on_y}
        for n, (x, y, on_x, on_y) in enumerate(
            [("20", "220", "-150", "0"), ("320", "220", "150", "0"), ("320", "20", "150", "200")]
        )
    ]
    whole = picture(
        "whole",
        depicts=[BOOK.id],
        plane="cover-inside",
        stage=stage("Book", 2),
        tiePoints=ties,
        pixelWidth=340,
        pixelHeight=240,
    )
    then = painted(whole, at_stage=2)[0]
    assert then["body"]["source"]["id"].endswith("whole.jpg")
    assert then["body"]["selector"]["value"] == "xywh=20,20,300,200"
    assert box_of(then) == (0, 0, 3000, 2000)
    assert painted(whole, at_stage=1)[0]["body"]["format"] == "image/svg+xml"


def test_a_picture_names_its_own_rights_its_maker_and_its_record() -> None:
    maker = made(Agent, "Mara Ostrel", name="Mara Ostrel", mayBeNamed=True)
    shown = picture(
        "plain",
        by=maker.id,
        rightsHolder="Museum of the Ferry",
        licence="https://creativecommons.org/licenses/by-sa/4.0/",
    )
    source = painted(maker, shown)[1]["body"]["source"]
    assert source["rights"] == "http://creativecommons.org/licenses/by-sa/4.0/"
    assert source["requiredStatement"]["value"]["en"] == [
        "Museum of the Ferry",
        "Pictures made by Mara Ostrel",
    ]
    assert source["homepage"][0]["id"].endswith(f"{shown.short}.html")


@pytest.mark.parametrize(("rotation", "turn"), [("90", "270"), ("180", "180"), ("270", "90"), ("30", "330")])
def test_a_piece_that_lay_turned_has_its_picture_turned_with_it(rotation: str, turn: str) -> None:
    """Positions are turned anticlockwise, pictures in IIIF clockwise (Image API 3.0, section 4.3)."""
    turned = placing("in", "Slip", "Book", 1, at("10", "60", plane="cover-inside", rotation=rotation))
    with catalogue_of(BOOK, SLIP, turned, picture("plain")) as access:
        manifest = manifest_of_host(access, BOOK.id, 1)
    (canvas,) = [one for one in canvases(manifest) if one["id"].endswith("cover-inside")]
    selector = paintings(canvas)[1]["body"]["selector"]
    assert selector == {"type": "ImageApiSelector", "region": "30,30,200,400", "rotation": turn}


ways = st.builds(
    lambda scale, degrees, mirrored, x, y: Affine(
        (-1 if mirrored else 1) * scale * math.cos(math.radians(degrees)),
        scale * math.sin(math.radians(degrees)),
        (-1 if mirrored else 1) * scale * math.sin(math.radians(degrees)),
        -scale * math.cos(math.radians(degrees)),
        x,
        y,
    ),
    scale=st.floats(0.02, 1),
    degrees=st.one_of(st.sampled_from([0.0, 90.0, 180.0, 270.0]), st.floats(0, 359)),
    mirrored=st.booleans(),
    x=st.floats(-200, 200),
    y=st.floats(-200, 200),
)


def as_a_reader_does(region: tuple[int, ...], turn: str, box: tuple[int, ...], x: float, y: float) -> Any:
    """Say where a pixel falls on the canvas: cut, mirror, turn clockwise, fit into the box.

    Source: IIIF Image API 3.0, section 4.6 (order of implementation: region, then rotation, mirrored first).
    """
    left, top, width, height = region
    across, down = x - left - width / 2, y - top - height / 2
    if turn.startswith("!"):
        across = -across
    angle = math.radians(float(turn.removeprefix("!")))
    cos, sin = math.cos(angle), math.sin(angle)
    turned = across * cos - down * sin, across * sin + down * cos
    size = abs(width * cos) + abs(height * sin), abs(width * sin) + abs(height * cos)
    return [box[i] + box[i + 2] * (turned[i] / size[i] + 0.5) for i in (0, 1)]


@given(way=ways, seen_reversed=st.booleans())
def test_a_reader_that_cuts_and_turns_as_asked_puts_every_corner_where_it_lies(
    way: Affine, seen_reversed: bool
) -> None:
    shown = Picture(made(Image, "any", pixelWidth=1000, pixelHeight=1400), "https://x.example/any.jpg", way)
    outline = way.shape(shapely.box(100, 150, 900, 1250))
    crop = crop_of(shown, outline)
    assert crop is not None
    left, bottom, right, top = crop.bounds
    space = Space(left=left, bottom=bottom, right=right, top=top, seen_reversed=seen_reversed)
    turn, box = crop.turn(space.way), space.box(crop.bounds)
    for corner in [(100, 150), (900, 150), (900, 1250), (100, 1250)]:
        true = space.way.after(way).point(*corner)
        assert as_a_reader_does(crop.region, turn, box, *corner) == pytest.approx(true, abs=allowed(way))


def allowed(way: Affine) -> float:
    """Give how far off a corner may be: a unit, a pixel, and the angle that is taken for straight."""
    pixel = 10 * math.hypot(way.a, way.d)
    return 1.5 + 1.5 * pixel + 1400 * pixel * math.radians(0.05)
