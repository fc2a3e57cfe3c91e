"""The planes beneath a piece that is being placed, and the lines it can be laid against."""

from __future__ import annotations

import pytest

from guardbook.binding.ground import Ground, GroundPlane, ground_of
from guardbook.binding.planes import PlaneName
from guardbook.records.base import Record
from guardbook.wording import speaking
from tests.binding.bench import at, dossier, piece, placing, volume

SPINE, FOLD = PlaneName("textblock-spine"), PlaneName("fold", gathering=7)
BOOK = volume(
    "Book",
    None,
    height="200",
    width="130",
    thickness="40",
    panels=3,
    stations=[
        {"y": "14", "stationKind": "kettle-stitch"},
        {"y": "70", "stationKind": "sewing-support"},
        {"y": "140"},
    ],
)
HOLED = piece("Strip", features=[{"featureKind": "sewing-hole", "x": "10", "y": "5"}])
PUT = placing("put", "Strip", "Book", 1, at("-10", "60"), function="spine-lining-panel")


def ground(*records: Record, also: tuple[PlaneName, ...] = ()) -> Ground:
    return ground_of(dossier(BOOK, *records), BOOK.id, 1, also)


def plane(found: Ground, name: PlaneName) -> GroundPlane:
    return next(one for one in found.planes if one.seen.plane == name)


def lines(found: GroundPlane, axis: str) -> dict[float, str]:
    return {guide.at: guide.words for guide in found.guides if guide.axis == axis}


def test_a_piece_is_laid_against_tail_head_and_the_edges_of_the_spine() -> None:
    found = plane(ground(), SPINE)
    assert lines(found, "x") == {
        0: "the centre of the spine",
        20: "edge towards the upper side",
        -20: "edge towards the lower side",
    }
    assert {0, 200} < lines(found, "y").keys()


def test_a_piece_is_laid_against_stations_and_the_lines_between_panels() -> None:
    found = lines(plane(ground(), SPINE), "y")
    assert found[14] == "kettle stitch, 14.0 mm from the tail"
    assert found[140] == "sewing station, 140.0 mm from the tail"
    assert [words for words in found.values() if words.startswith("between panels")] == [
        "between panels 1 and 2",
        "between panels 2 and 3",
    ]


def test_a_piece_is_laid_against_the_edges_of_others_each_line_told_once() -> None:
    found = plane(ground(HOLED, PUT), SPINE)
    edges = [(guide.axis, guide.at) for guide in found.guides if guide.piece == HOLED.id]
    assert edges == [("x", -10), ("x", 10), ("y", 60), ("y", 100)]
    placed = [(guide.axis, guide.at) for guide in found.guides]
    assert len(placed) == len(set(placed))


def test_only_the_middle_of_a_plane_is_a_line_for_the_middle_of_a_piece() -> None:
    assert [guide.at for guide in plane(ground(), SPINE).guides if guide.centre] == [0]
    leaf = PlaneName("leaf", leaf=1, leaf_side="recto")
    assert not any(guide.centre for guide in plane(ground(also=(leaf,)), leaf).guides)


def test_a_fold_that_nothing_is_known_of_yet_has_the_size_of_the_leaves() -> None:
    found = plane(ground(also=(FOLD, FOLD)), FOLD)
    assert (found.seen.left, found.seen.right, found.seen.top) == (-130, 130, 200)
    assert lines(found, "x")[0] == "the fold"
    assert [one.seen.plane for one in ground(also=(FOLD, FOLD)).planes].count(FOLD) == 1


def test_a_plane_of_unknown_size_has_no_edges_to_lay_a_piece_against() -> None:
    bare = volume("Bare", None)
    found = ground_of(dossier(bare), bare.id, 1, (FOLD,)).planes[0]
    assert [(guide.axis, guide.at) for guide in found.guides] == [("x", 0), ("y", 0)]
    assert found.as_json()["edgesKnown"] is False


def test_pieces_lie_on_the_ground_with_their_outline_and_holes() -> None:
    found = plane(ground(HOLED, PUT), SPINE).as_json()
    (there,) = found["pieces"]
    assert sorted(there["rings"][0]) == [[-10, 60], [-10, 100], [10, 60], [10, 100]]
    assert there["holes"] == [[0, 65]]


def test_a_cover_shows_where_it_is_folded_and_can_be_laid_against_the_folds() -> None:
    whole = piece("Cover", height="220", width="320", outline="POLYGON ((0 0, 320 0, 320 220, 0 220, 0 0))")
    put = placing("put", "Cover", "Book", 1, at("-160", "-10", "cover-outside"), function="cover")
    found = plane(ground(whole, put), PlaneName("cover-outside"))
    assert lines(found, "x")[20] == "the joint"
    assert lines(found, "x")[-20] == "the joint"
    folds = found.as_json()["folds"]
    assert {fold["piece"] for fold in folds} == {whole.id}


@pytest.mark.parametrize("language", ["en", "ca", "de", "es", "fr", "it"])
def test_sentences_keep_room_for_their_distances_in_every_language(language: str) -> None:
    with speaking(language):
        sayings = plane(ground(), SPINE).as_json()["sayings"]
    assert "{length}" in sayings["from"]
    assert "{near}" in sayings["towards"]
    assert "{far}" in sayings["away"]
    assert "{left}" in sayings["across"]
    assert "{right}" in sayings["across"]
