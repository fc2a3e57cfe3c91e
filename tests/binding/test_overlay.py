"""Two uses of one cover laid over each other: which of them accounts for each hole and fold."""

from __future__ import annotations

import json
from typing import Any

import pytest
import shapely

from guardbook.binding.overlay import overlay_of
from guardbook.binding.overlay_parts import Overlay, OverlayFeature
from guardbook.binding.plane_keys import plane_called
from guardbook.binding.shared_stages import shared_stages
from guardbook.errors import WrongUse
from guardbook.records.base import Record
from tests.binding.bench import at, dossier, iri, piece, placing, separation, stage, volume
from tests.binding.stage_set import bounds, hole, line, station

# The first book has a spine of 30 mm and two supports at 50 and 150 mm; its cover reached 4 mm past its tail.
FIRST = volume(
    "First",
    "1500",
    "1550",
    height="200",
    width="120",
    spineWidth="30",
    stations=[station(1, "50"), station(2, "150")],
    registrations=[{"id": "#registration-1", "stage": stage("First", 1), "dx": "0", "dy": "-4"}],
)
# The second has a spine of 44 mm and three supports at 30, 90 and 160 mm; its cover was level with its tail.
SECOND = volume(
    "Second",
    "1560",
    "2020",
    height="190",
    width="118",
    spineWidth="44",
    stations=[station(1, "30"), station(2, "90"), station(3, "160")],
    registrations=[{"id": "#registration-1", "stage": stage("Second", 1), "dx": "0", "dy": "0"}],
)
# The cover is 280 x 208 mm; the middle of the first spine is at 140 mm, that of the second at 146 mm.
IN_FIRST, IN_SECOND = (
    at("-140", "0", "cover-outside", mirrored=False),
    at("-146", "-6", "cover-outside", mirrored=False),
)


def holes(
    middle: float, spine: float, tail: float, *heights: float, start: int = 1, **fields: Any
) -> list[dict[str, Any]]:
    """Pierce two rows of lacing holes, in the cover's own frame, at heights above the text block's tail."""
    at_ = [(x, tail + y) for y in heights for x in (middle - spine / 2, middle + spine / 2)]
    return [hole(start + n, str(x), str(y), "lacing-hole", **fields) for n, (x, y) in enumerate(at_)]


OLD = holes(140, 30, 4, 50, 150)
NEW = holes(146, 44, 6, 30, 90, 160, start=11)


def used(
    features: list[dict[str, Any]], *more: Record, series: Any = (), second: Any = IN_SECOND
) -> list[Record]:
    return [
        FIRST,
        SECOND,
        piece("Cover", "208", "280", features=features, series=list(series), frontFace="front"),
        placing("one", "Cover", "First", 1, IN_FIRST, function="cover"),
        separation("off", "Cover", "First", 2),
        placing("two", "Cover", "Second", 1, second, function="cover"),
        *more,
    ]


def laid(
    records: list[Record], a: Any = ("First", 1), b: Any = ("Second", 1), plane: str | None = None
) -> Overlay:
    places = [(iri("host", name), number) for name, number in (a, b)]
    return overlay_of(dossier(*records), places[0], places[1], plane_called(plane) if plane else None)


def by_part(overlay: Overlay) -> dict[str, OverlayFeature]:
    return {found.feature.id.rpartition("-")[2]: found for found in overlay.features}


def accounted(records: list[Record]) -> dict[str, str]:
    return {number: found.accounted for number, found in by_part(laid(records)).items()}


def test_each_hole_is_accounted_for_by_the_sewing_it_fits_though_no_record_says_so() -> None:
    assert accounted(used(OLD + NEW)) == {
        **dict.fromkeys(("1", "2", "3", "4"), "a"),
        **dict.fromkeys(("11", "12", "13", "14", "15", "16"), "b"),
    }


def test_two_rows_of_old_holes_as_far_apart_as_the_covers_old_spine_is_wide_tell_of_that_book() -> None:
    series = [{"id": "#series-1"}, {"id": "#series-2"}]
    old = [{**one, "inSeries": "#series-1"} for one in OLD]
    new = [{**one, "inSeries": "#series-2"} for one in NEW]
    one, two = laid(used(old + new, series=series)).row_pairs
    assert (one.apart_mm, one.as_wide_as, two.apart_mm, two.as_wide_as) == (30, ("a",), 44, ("b",))
    assert one.rows == (((-15.0, 54.0), (-15.0, 154.0)), ((15.0, 54.0), (15.0, 154.0)))
    assert (
        one.words == "Two rows of 2 holes, 30.0 mm apart: as wide as the spine of First at stage 1 (30.0 mm)."
    )
    assert len(two.features) == 6


def test_holes_that_fit_neither_sewing_are_explained_by_neither() -> None:
    strange = holes(120, 18, 0, 70, 140, start=21)
    overlay = laid(used(OLD + strange))
    assert [found.feature.id.rpartition("-")[2] for found in overlay.neither] == ["21", "22", "23", "24"]
    assert "as wide as neither spine" in overlay.row_pairs[-1].words or overlay.row_pairs[-1].as_wide_as


def test_what_the_record_states_goes_before_what_fits_and_a_disagreement_is_told() -> None:
    series = [{"id": "#series-1", "use": "second-use", "host": SECOND.id}]
    found = by_part(laid(used([{**OLD[0], "inSeries": "#series-1"}], series=series)))["1"]
    assert (found.stated, found.fitting, found.accounted, found.disagrees) == (("b",), ("a",), "b", True)
    (row,) = laid(used([{**OLD[0], "inSeries": "#series-1"}], series=series)).rows
    assert row.accounted == "B (by measure it fits the other)"


def test_a_hole_of_a_series_whose_use_is_stated_needs_no_fit() -> None:
    series = [{"id": "#series-1", "use": "first-use", "host": FIRST.id}]
    tied = hole(1, "20", "30", "fastening-hole", inSeries="#series-1")
    worm = hole(2, "25", "30", "wormhole")
    found = by_part(laid(used([tied, worm], series=series)))
    assert {number: one.accounted for number, one in found.items()} == {"1": "a"}


def test_folds_are_accounted_for_by_the_spine_and_the_edges_of_the_volume_they_lie_at() -> None:
    folds = [
        line(1, ("155", "0"), ("155", "208")),  # half the first spine from its middle
        line(2, ("168", "0"), ("168", "208")),  # half the second spine from its middle
        line(3, ("0", "6"), ("280", "6")),  # the tail edge of the second, 6 mm above that of the first
        line(4, ("70", "0"), ("70", "208")),
        line(5, ("60", "60"), ("90", "90")),
    ]
    found = by_part(laid(used(folds)))
    assert {n: one.accounted for n, one in found.items()} == {
        "1": "a", "2": "b", "3": "b", "4": "neither", "5": "neither"
    }  # fmt: skip
    assert [fit.words for fit in found["1"].fits] == ["folded at the spine edge"]


def test_a_hole_laced_on_from_the_spine_edge_belongs_to_the_hole_it_starts_from() -> None:
    started = [*OLD, hole(9, "165", "54", "lacing-hole")]
    assert by_part(laid(used(started)))["9"].fits[0].words == (
        "laced on 10.0 mm past the spine edge, at the station 54.0 mm from the tail"
    )
    alone = [OLD[0], hole(9, "165", "54", "lacing-hole")]
    assert by_part(laid(used(alone)))["9"].accounted == "neither"


def test_a_sewing_hole_may_lie_anywhere_within_the_spine_but_at_a_station() -> None:
    sewn = [hole(1, "145", "54"), hole(2, "145", "60"), hole(3, "180", "54")]
    assert accounted(used(sewn)) == {"1": "a", "2": "neither", "3": "neither"}


def test_a_fastening_hole_is_accounted_for_by_the_tie_that_is_in_it() -> None:
    tie = piece("Tie", "4", "30")
    put = placing("tied", "Tie", "Second", 1, at("100", "90", "cover-outside"), function="tie")
    found = by_part(laid(used([hole(1, "250", "98", "fastening-hole")], tie, put)))["1"]
    assert [(fit.side, fit.words) for fit in found.fits] == [("b", "where Tie is fastened")]


def test_the_dent_of_a_lost_plate_is_accounted_for_by_the_plate() -> None:
    plate = piece("Plate", "180", "26")
    put = placing("laid", "Plate", "First", 1, at("-13", "10", "cover-outside"), function="spine-stiffener")
    dent = line(1, ("127", "11"), ("153", "191"), "impression")
    found = by_part(laid(used([dent], plate, put)))["1"]
    assert [(fit.side, fit.words) for fit in found.fits] == [("a", "where Plate lay")]
    assert found.fits[0].off_mm == pytest.approx(1)


def test_the_two_are_registered_by_the_cover_they_share() -> None:
    overlay = laid(used(OLD + NEW))
    assert overlay.registered_by == iri("fragment", "Cover")
    assert overlay.b.way.point(0, 0) == (6, 6)
    assert overlay.shared
    assert bounds(overlay.shared) == (-140, 0, 140, 208)
    assert "laid over each other by what both held: Cover." in overlay.words


def test_what_each_text_block_would_have_covered_lies_in_the_one_frame() -> None:
    areas = {(area.side, area.part): area.outline.bounds for area in laid(used([])).covered}
    assert areas == {
        ("a", "spine"): (-15, 4, 15, 204),
        ("a", "upper"): (15, 4, 135, 204),
        ("a", "lower"): (-135, 4, -15, 204),
        ("b", "spine"): (-16, 6, 28, 196),
        ("b", "upper"): (28, 6, 146, 196),
        ("b", "lower"): (-134, 6, -16, 196),
    }


def test_a_cover_turned_inside_out_brings_the_second_binding_mirrored_onto_the_first() -> None:
    turned = at("-134", "-6", "cover-outside", mirrored=True)
    overlay = laid(used(OLD + NEW, second=turned))
    assert overlay.b.way.a == -1
    assert overlay.words.endswith("It was turned over in between.")
    assert {n: found.accounted for n, found in by_part(overlay).items()} == accounted(used(OLD + NEW))


def test_the_other_pieces_of_the_second_volume_are_brought_into_the_frame() -> None:
    patch = piece("Patch", "10", "10", features=[hole(1, "2", "3")])
    put = placing("patched", "Patch", "Second", 1, at("50", "50", "cover-outside"), function="cover-patch")
    (found,) = laid(used([], patch, put)).b.items
    assert bounds(found) == (56, 56, 66, 66)
    assert found.features[0].points == ((58.0, 59.0),)


def test_volumes_that_share_nothing_lie_on_each_other_by_the_middle_of_the_spine() -> None:
    overlay = laid(used(OLD), b=("Second", 1), a=("First", 2))
    assert (overlay.registered_by, overlay.shared, overlay.features, overlay.rows) == (None, None, (), ())
    assert "share no piece that is measured in both" in overlay.words
    assert {area.side for area in overlay.covered} == {"a", "b"}


def test_volumes_without_a_plane_in_common_cannot_be_laid_over_each_other() -> None:
    bare: list[Record] = [volume("First", "1500"), volume("Second", "1500")]
    with pytest.raises(WrongUse, match="no piece in common"):
        laid(bare)
    with pytest.raises(WrongUse, match="no plane fold that both have"):
        laid(used(OLD), a=("First", 2), plane="fold-3")


def test_one_volume_before_and_after_it_was_sewn_again() -> None:
    resewn = volume(
        "First",
        "1500",
        "1550",
        height="200",
        width="120",
        spineWidth="30",
        stations=[
            station(1, "50", toStage=stage("First", 1)),
            station(2, "70", fromStage=stage("First", 2)),
        ],
        registrations=[{"id": "#registration-1", "stage": stage("First", 1), "dx": "0", "dy": "0"}],
    )
    pierced = [hole(1, "125", "50", "lacing-hole"), hole(2, "125", "70", "lacing-hole")]
    records: list[Record] = [
        resewn,
        piece("Cover", "208", "280", features=pierced),
        placing("one", "Cover", "First", 1, IN_FIRST, function="cover"),
    ]
    overlay = laid(records, b=("First", 2))
    assert {n: found.accounted for n, found in by_part(overlay).items()} == {"1": "a", "2": "b"}


def test_the_plane_one_asks_for_is_the_one_that_is_shown() -> None:
    overlay = laid(used(OLD), plane="cover-inside")
    assert (overlay.a.plane.plane, overlay.b.plane.plane) == ("cover-inside", "cover-inside")
    assert {n: found.accounted for n, found in by_part(overlay).items()} == dict.fromkeys("1234", "a")
    assert by_part(overlay)["1"].feature.points == ((15, 54),)


def test_an_overlay_is_plain_data_with_a_table_that_reads_like_one() -> None:
    told = json.loads(json.dumps(laid(used(OLD)).as_json()))
    assert told["rows"][0] == {
        "feature": f"{iri('fragment', 'Cover')}#feature-1",
        "what": "lacing hole",
        "where": "54.0 mm from the tail, 15.0 mm from the centre of the spine towards the lower board",
        "series": "",
        "useA": "at the spine edge, at the station 54.0 mm from the tail (0.0 mm off)",
        "useB": "",
        "accounted": "A",
    }
    assert told["features"][0]["accounted"] == "a"
    assert shapely.from_wkt(told["covered"][0]["outline"]).bounds == (-15, 4, 15, 204)


def test_the_stages_at_which_two_volumes_held_the_same_cover_are_found() -> None:
    records = used(OLD)
    assert shared_stages(dossier(*records), FIRST, SECOND) == (1, 2)
    assert shared_stages(dossier(FIRST, SECOND), FIRST, SECOND) == (2, 2)
    assert shared_stages(dossier(FIRST), FIRST, FIRST) == (1, 2)
