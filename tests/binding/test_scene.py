"""A volume at a stage: what lies where, on which face it is seen, and what is missing."""

from __future__ import annotations

import json

import pytest

from guardbook.binding.planes import PlaneName
from guardbook.errors import NotFound, WrongUse
from tests.binding.bench import alteration, at, iri, piece, placing, separation, stage, volume
from tests.binding.stage_set import book, bounds, hole, item, line, on, station

LEAF = {"height": "300", "width": "200", "spineWidth": "40"}
BOOK = volume("Book", "1510", "1650", "2020", **LEAF)
COVER = piece(
    "Cover",
    "320",
    "460",
    frontFace="front",
    features=[
        hole(1, "210", "60", "lacing-hole", goesThrough=True, diameter="3.0"),
        hole(2, "300", "60", "nail-hole", face="front"),
        hole(3, "310", "60", "pricking", face="back"),
        hole(4, "320", "60", "wormhole"),
    ],
)
ON_BOARDS = at("-230", "-10", "cover-outside", layer=1, mirrored=False)
BOUND = placing("bound", "Cover", "Book", 1, ON_BOARDS, function="cover")


def test_a_hole_that_goes_through_the_cover_is_seen_mirrored_from_inside() -> None:
    scene = book(BOOK, COVER, BOUND)
    outside, inside = (item(scene, "Cover", f"cover-{face}").features[0] for face in ("outside", "inside"))
    assert outside.points == ((-20.0, 50.0),)
    assert inside.points == ((20.0, 50.0),)
    assert (outside.through, outside.on_this_face, inside.on_this_face) == (True, True, True)
    assert outside.id == inside.id == f"{COVER.id}#feature-1"


def test_what_is_on_one_face_of_the_cover_only_is_not_seen_on_the_other() -> None:
    scene = book(BOOK, COVER, BOUND)
    seen = {
        face: [trace.on_this_face for trace in item(scene, "Cover", f"cover-{face}").features]
        for face in ("outside", "inside")
    }
    assert seen == {"outside": [True, True, False, True], "inside": [True, False, True, True]}


def test_the_cover_is_seen_from_its_back_on_the_inside_with_everything_else_over_it() -> None:
    patch = piece("Patch", "20", "30")
    put = placing("put", "Patch", "Book", 1, at("30", "40", "cover-inside", layer=1))
    inside = on(book(BOOK, COVER, BOUND, patch, put), "cover-inside")
    assert [one.name for one in inside.items] == ["Cover", "Patch"]
    cover, lying = inside.items
    assert (cover.from_other_face, cover.front_towards_viewer, cover.is_sheet) == (True, False, True)
    assert (cover.over, lying.under) == ((patch.id,), (COVER.id,))
    assert bounds(cover) == (-230, -10, 230, 310)


def test_a_piece_placed_on_both_faces_of_the_cover_by_its_record_is_not_made_up_a_second_time() -> None:
    twice = placing(
        "bound",
        "Cover",
        "Book",
        1,
        ON_BOARDS,
        at("-230", "-10", "cover-inside", mirrored=True),
        function="cover",
    )
    scene = book(BOOK, COVER, twice)
    assert not item(scene, "Cover", "cover-inside").from_other_face


def test_a_flyleaf_is_seen_on_both_its_sides() -> None:
    leaf = piece("Flyleaf", "290", "190", frontFace="recto")
    where = at("0", "5", "leaf", leaf=1, leafSide="recto", mirrored=False)
    scene = book(BOOK, leaf, placing("bound", "Flyleaf", "Book", 1, where, function="flyleaf"))
    recto, verso = item(scene, "Flyleaf", "leaf-1-recto"), item(scene, "Flyleaf", "leaf-1-verso")
    assert bounds(recto) == bounds(verso) == (0, 5, 190, 295)
    assert (recto.front_towards_viewer, verso.front_towards_viewer) == (True, False)


def test_a_piece_is_there_from_its_placing_to_its_separation_and_its_gap_is_told_after() -> None:
    records = (
        BOOK,
        piece("Strip"),
        placing("put", "Strip", "Book", 2, at("-10", "20", layer=1), function="spine-lining"),
        separation("off", "Strip", "Book", 3, separationKind="lifted-in-treatment", replacedBy="nothing"),
    )
    planes = [book(*records, stage=number).plane(PlaneName("textblock-spine")) for number in (1, 2, 3)]
    there = [[one.name for one in plane.items] if plane else None for plane in planes]
    assert there == [None, ["Strip"], []]
    (gap,) = planes[2].gaps if planes[2] else ()
    assert (bounds(gap), gap.is_open, gap.event) == ((-10, 20, 10, 60), True, iri("separation", "off"))
    assert gap.words == ("Strip: lifted in treatment, not there from stage 3 on; nothing took its place.")


def test_a_gap_is_filled_by_a_new_piece_of_the_same_function_or_by_what_the_record_says() -> None:
    records = [
        BOOK,
        piece("Old"),
        piece("New"),
        placing("put", "Old", "Book", 1, at("0", "20"), function="spine-lining"),
        separation("off", "Old", "Book", 2, separationKind="lifted-in-treatment"),
        placing("new", "New", "Book", 2, at("2", "25"), function="spine-lining"),
    ]
    (gap,) = on(book(*records, stage=2), "textblock-spine").gaps
    assert (gap.filled_by, gap.is_open) == (iri("fragment", "New"), False)
    assert "New lies there now" in gap.words
    records[-1] = placing("new", "New", "Book", 2, at("2", "25"), function="label")
    assert on(book(*records, stage=2), "textblock-spine").gaps[0].is_open
    records[-2] = separation("off", "Old", "Book", 2, replacedBy="new-lining")
    assert not on(book(*records, stage=2), "textblock-spine").gaps[0].is_open


def test_a_piece_put_back_leaves_no_gap() -> None:
    records = (
        BOOK,
        piece("Strip"),
        placing("put", "Strip", "Book", 1, at("0", "20")),
        separation("off", "Strip", "Book", 2, separationKind="lifted-and-returned"),
        placing("back", "Strip", "Book", 3, undoes=iri("separation", "off"), returnKind="put-back-in-place"),
    )
    spine = on(book(*records, stage=3), "textblock-spine")
    assert (bounds(spine.items[0]), spine.gaps) == ((0, 20, 20, 60), ())


def test_a_piece_without_any_place_is_there_and_said_to_be_nowhere() -> None:
    scene = book(BOOK, piece("Strip"), placing("put", "Strip", "Book", 1))
    assert [one.name for one in scene.unplaced] == ["Strip"]
    assert scene.unplaced[0].words == "in a place that is not described"
    gone = book(
        BOOK,
        piece("Strip"),
        placing("put", "Strip", "Book", 1),
        separation("off", "Strip", "Book", 2, separationKind="lost"),
        stage=2,
    )
    assert (gone.unplaced, [gap.name for gap in gone.unplaced_gaps]) == ((), ["Strip"])


def test_a_piece_on_a_leaf_that_is_not_said_is_on_no_plane() -> None:
    scene = book(BOOK, piece("Slip"), placing("put", "Slip", "Book", 1, at(None, None, "leaf")))
    assert [one.name for one in scene.unplaced] == ["Slip"]
    assert all(plane.plane.plane != "leaf" for plane in scene.planes)


def test_a_piece_in_two_books_at_once_is_there_and_reported_with_both_placings() -> None:
    other = volume("Other", "1600")
    records = (
        BOOK,
        other,
        piece("Strip"),
        placing("here", "Strip", "Book", 1, at("0", "20"), when="1510"),
        placing("there", "Strip", "Other", 1, at("0", "20"), when="1600"),
    )
    scene = book(*records)
    assert [one.name for one in on(scene, "textblock-spine").items] == ["Strip"]
    (clash,) = scene.contradictions
    assert clash.kind == "placed-while-elsewhere"
    assert set(clash.events) == {iri("placing", "here"), iri("placing", "there")}


def test_two_pieces_on_one_layer_in_one_place_are_reported_at_the_stage_that_has_them() -> None:
    records = (
        BOOK,
        piece("One"),
        piece("Two"),
        placing("one", "One", "Book", 1, at("-10", "20", layer=1)),
        placing("two", "Two", "Book", 2, at("-10", "40", layer=1)),
    )
    kinds = [[clash.kind for clash in book(*records, stage=number).contradictions] for number in (1, 2)]
    assert kinds == [[], ["overlap-on-one-layer"]]


def test_a_piece_that_is_altered_is_smaller_from_then_on() -> None:
    records = (
        BOOK,
        piece("Strip"),
        placing("put", "Strip", "Book", 1, at("0", "20")),
        alteration("trimmed", "Strip", "Book", 2, height="30.0"),
    )
    tops = [bounds(item(book(*records, stage=number), "Strip", "textblock-spine"))[3] for number in (1, 2)]
    assert tops == [60, 50]


def test_a_position_moved_by_an_alteration_names_the_alteration() -> None:
    records = (
        BOOK,
        piece("Strip"),
        placing("put", "Strip", "Book", 1, at("0", "20", id="#position-1")),
        alteration("slid", "Strip", "Book", 2, positions=[at("5", "20", id="#position-1")]),
    )
    said = [item(book(*records, stage=number), "Strip", "textblock-spine").position for number in (1, 2)]
    assert said == [f"{iri('placing', 'put')}#position-1", f"{iri('alteration', 'slid')}#position-1"]


def test_a_lining_that_is_folded_onto_the_boards_is_shown_whole_with_its_folds_at_the_spine_edges() -> None:
    wide = piece("Lining", "200", "100", features=[line(1, ("30", "0"), ("30", "200"))])
    put = placing(
        "put",
        "Lining",
        "Book",
        1,
        at("-50", "10"),
        function="spine-lining-extended",
        folded="At both joints.",
    )
    found = item(book(BOOK, wide, put), "Lining", "textblock-spine")
    assert bounds(found) == (-50, 10, 50, 210)
    edges = [fold.points for fold in found.folds if fold.kind == "edge"]
    assert edges == [((-20, 10), (-20, 210)), ((20, 10), (20, 210))]
    assert [fold.feature for fold in found.folds if fold.seen] == [f"{wide.id}#feature-1"]


def test_a_lining_that_is_not_folded_has_no_folds_at_the_edges_though_it_reaches_past_them() -> None:
    put = placing("put", "Strip", "Book", 1, at("-5", "-10"), folded="Not folded.")
    assert item(book(BOOK, piece("Strip"), put), "Strip", "textblock-spine").folds == ()


def test_the_stations_are_on_the_spine_in_the_folds_and_where_the_cover_lay_over_them() -> None:
    sewn = volume(
        "Book",
        "1510",
        "1650",
        **LEAF,
        stations=[
            station(1, "40"),
            station(2, "90", toStage=stage("Book", 1)),
            station(3, "95", fromStage=stage("Book", 2)),
        ],
        registrations=[{"id": "#registration-1", "stage": stage("Book", 1), "dx": "0", "dy": "-4"}],
    )
    guard = placing("put", "Guard", "Book", 1, at("-10", "0", "fold", gathering=3))
    first, second = (book(sewn, COVER, BOUND, piece("Guard"), guard, stage=number) for number in (1, 2))
    heights = {plane.words: [one.y for one in plane.stations] for plane in first.planes}
    assert heights == {
        "The outside of the cover": [44, 94],
        "The inside of the cover": [44, 94],
        "The back of the text block": [40, 90],
        "The fold of gathering 3": [40, 90],
    }
    assert [one.y for one in on(second, "textblock-spine").stations] == [40, 95]
    assert second.registration
    assert (second.registration.dy, second.registration.of_stage) == (-4, 1)
    assert first.registration
    assert first.registration.way.point(0, 44) == (0, 40)


def test_where_cover_and_text_block_are_not_registered_no_station_is_shown_on_the_cover() -> None:
    sewn = volume("Book", "1510", **LEAF, stations=[station(1, "40")])
    scene = book(sewn, COVER, BOUND)
    assert (on(scene, "cover-outside").stations, scene.registration) == ((), None)


def test_a_volume_that_is_not_there_or_has_no_such_stage_is_told() -> None:
    with pytest.raises(NotFound, match="no record of the volume"):
        book(COVER, name="Nowhere")
    with pytest.raises(WrongUse, match=r"no stage 7. Its stages are: 1, 2, 3"):
        book(BOOK, stage=7)


def test_a_volume_without_stages_is_seen_as_it_is() -> None:
    plain = volume("Book", **LEAF)
    scene = book(plain, piece("Strip"), placing("put", "Strip", "Book", None, at("0", "0")))
    assert (scene.stage_words, scene.stages) == ("stage not recorded", ())
    assert [one.name for one in on(scene, "textblock-spine").items] == ["Strip"]


def test_a_stage_that_is_only_planned_is_shown_as_the_volume_stands_and_says_so() -> None:
    records = (
        BOOK,
        piece("Strip"),
        placing("put", "Strip", "Book", 1, at("0", "20")),
        separation("off", "Strip", "Book", 2, status="planned"),
    )
    scene = book(*records, stage=2)
    assert [one.name for one in on(scene, "textblock-spine").items] == ["Strip"]
    assert scene.stage_words == "repaired (only planned, shown as the volume stands)"
    assert [one.is_planned for one in scene.stages] == [False, True, True]


def test_a_scene_is_plain_data_for_programs() -> None:
    told = json.loads(json.dumps(book(BOOK, COVER, BOUND).as_json()))
    assert [plane["key"] for plane in told["planes"]] == ["cover-outside", "cover-inside"]
    cover = told["planes"][0]["items"][0]
    assert cover["outline"].startswith("POLYGON ((230 -10")
    assert cover["features"][0] == {
        "id": f"{COVER.id}#feature-1",
        "kind": "lacing-hole",
        "points": [[-20.0, 50.0]],
        "diameter": 3.0,
        "series": None,
        "use": None,
        "useHost": None,
        "made": None,
        "through": True,
        "onThisFace": True,
        "certainty": None,
        "note": None,
    }
    assert told["size"]["spineWidth"] == 40.0
    assert told["stages"][0] == {"number": 1, "words": "bound", "when": "1510", "isPlanned": False}
