"""The answer to "where did it sit, and where is it now?"."""

from __future__ import annotations

from typing import Any

from guardbook.binding.dossier import Dossier
from guardbook.binding.whereabouts import Whereabouts, whereabouts
from guardbook.records.base import Record
from tests.binding.bench import at, dossier, library, piece, placing, separation, volume

CITY = library("City Library")
BOOK = volume("Rentals", "1510~", "1650", "2020-05", keeper=CITY.id, shelfmark="B 7")
STRIP = piece("Strip", "15.0", "28.0")
COMB = piece("Comb", "120.0", "30.0")
PUT = placing(
    "put",
    "Strip",
    "Rentals",
    1,
    at("14.0", "57.0", panel=3, rotation="180", layer=1, visibleInPlace="hidden"),
    function="spine-lining-panel",
    fixings=["adhered-starch"],
    outwardFace="hair",
    writingAngle="180",
    originalToAssembly="yes",
    when="1510~",
)
OVER = placing("over", "Comb", "Rentals", 2, at("-15.0", "0.0", layer=2))
OFF = separation("off", "Strip", "Rentals", 3, separationKind="lifted-in-treatment", wentTo=CITY.id)


def asked(*records: Record) -> Whereabouts:
    return whereabouts(dossier(BOOK, CITY, STRIP, COMB, *records), STRIP.id)


def test_a_conservator_reads_where_the_piece_lay_at_each_stage() -> None:
    assert asked(PUT, OVER, OFF).words().splitlines() == [
        "Strip",
        "In Rentals (B 7), as panel spine lining:",
        (
            "At stage 1 (bound, about 1510) it lay on the back of the text block, in panel 3, "
            "42.0 mm from the tail, centred on the spine, layer 1, hidden, hair side outwards, "
            "writing upside down; adhered with starch paste; measured."
        ),
        (
            "At stage 2 (repaired, 1650) it lay on the back of the text block, in panel 3, "
            "42.0 mm from the tail, centred on the spine, layer 1, hidden, hair side outwards, "
            "writing upside down, under Comb; adhered with starch paste; measured."
        ),
        f"Put there by the placing of about 1510 [{PUT.short}], original to that binding.",
        (
            f"Taken off by the separation [{OFF.short}], lifted in treatment, "
            "which led to stage 3 (repaired, 2020-05)."
        ),
        f"Now it is kept by City Library; so says the separation [{OFF.short}].",
    ]


def test_stages_at_which_nothing_changed_are_told_together() -> None:
    (told,) = asked(PUT, OFF).stays
    assert [[stage.number for stage in lay.stages] for lay in told.lays] == [[1, 2]]
    assert "From stage 1 (bound, about 1510) to stage 2 (repaired, 1650) it lay" in asked(PUT, OFF).words()


def test_a_program_reads_the_same_with_every_digit() -> None:
    answer = asked(PUT, OVER, OFF).as_json()
    (stay,) = answer["stays"]
    assert (stay["fromStage"]["number"], stay["toStage"]["number"]) == (1, 3)
    assert (stay["putBy"]["id"], stay["takenBy"]["id"]) == (PUT.id, OFF.id)
    assert (stay["function"], stay["fixings"], stay["outwardFace"]) == (
        "spine-lining-panel",
        ["adhered-starch"],
        "hair",
    )
    first, second = stay["lays"]
    (position,) = first["positions"]
    assert (position["x"], position["y"], position["layer"]) == ("14.0", "57.0", 1)
    assert position["bounds"] == {"left": -14.0, "bottom": 42.0, "right": 14.0, "top": 57.0}
    assert first["neighbours"] == []
    assert [(near["piece"], near["relation"]) for near in second["neighbours"]] == [(COMB.id, "over")]
    assert answer["now"]["keeperName"] == "City Library"


def test_planned_events_are_listed_apart() -> None:
    plan = separation(
        "plan", "Strip", "Rentals", 3, status="planned", when="2027", separationKind="lifted-in-treatment"
    )
    answer = asked(PUT, plan)
    assert answer.now.state == "in-volume"
    assert f"Planned: the separation of 2027 [{plan.short}], lifted in treatment, Rentals." in answer.words()
    assert [event["id"] for event in answer.as_json()["planned"]] == [plan.id]


def test_contradictions_are_told_with_the_piece_they_are_about_only() -> None:
    clashing = placing("clash", "Comb", "Rentals", 1, at("-14.0", "45.0", layer=1))
    label = placing("label", "Label", "Rentals", 1, at("-14.0", "100.0", layer=1))
    other = placing("other", "Other", "Rentals", 1, at("-14.0", "100.0", layer=1))
    answer = asked(PUT, clashing, label, other, piece("Label"), piece("Other"))
    assert {clash.kind for clash in answer.contradictions} == {"overlap-on-one-layer"}
    assert all(STRIP.id in clash.about for clash in answer.contradictions)
    assert "Contradiction: " in answer.words()


def test_a_stay_of_which_only_the_end_is_recorded_is_told_as_that() -> None:
    loose = separation("loose", "Strip", "Rentals", 2, separationKind="found-loose-with-volume")
    words = asked(loose).words()
    assert "At stage 1 (bound, about 1510) it was there; how it lay is not recorded." in words
    assert "How it came there is not recorded." in words


def test_a_piece_without_distances_is_told_by_its_named_area() -> None:
    put = placing("put", "Strip", "Rentals", 1, at(panel=3, certainty="inferred"))
    assert "it lay on the back of the text block, in panel 3; how it was held is not recorded; inferred" in (
        asked(put).words()
    )


def test_a_piece_of_which_nothing_is_said_is_answered_too() -> None:
    assert asked().words() == "Strip\nWhere it is now is not recorded."


def test_a_viewer_is_told_that_something_is_not_shown_and_no_more() -> None:
    records: list[Record] = [BOOK, STRIP, PUT]
    answer = whereabouts(Dossier.of(records, withheld=2), STRIP.id)
    assert answer.words().endswith("2 events are not shown to you; what is said here may be incomplete.")
    assert answer.as_json()["withheldEvents"] == 2


def test_nothing_is_called_a_contradiction_that_a_withheld_event_may_explain() -> None:
    elsewhere = placing("again", "Strip", "Other", 1, when="1700")
    records: list[Record] = [BOOK, STRIP, PUT, elsewhere]
    assert len(whereabouts(Dossier.of(records), STRIP.id).contradictions) == 1
    assert whereabouts(Dossier.of(records, withheld=1), STRIP.id).contradictions == ()


def words_of(where: dict[str, Any], **fields: Any) -> str:
    return asked(placing("put", "Strip", "Rentals", 1, where, **fields)).words()


def test_places_are_told_as_each_plane_is_measured() -> None:
    inside = at("3.0", "5.0", "board-inside", side="upper")
    assert "on the inside of the upper board, 5.0 mm from the tail, 3.0 mm from the spine edge" in words_of(
        inside
    )
    fold = at("-14.0", "-2.5", "fold", gathering=4)
    assert "in the fold of gathering 4, 2.5 mm below the tail, centred on the fold" in words_of(fold)
    outside = at("40.0", "0", "cover-outside", edge="fore-edge", side="upper")
    assert (
        "on the outside of the cover, upper side, at the fore-edge, 0 mm from the tail, "
        "40.0 to 68.0 mm from the centre of the spine towards the upper board"
    ) in words_of(outside)
    across = at("-20.0", "0", "cover-inside")
    assert "reaching 20.0 mm towards the upper board and 8.0 mm towards the lower board" in words_of(across)


def test_the_way_round_is_told_once() -> None:
    turned = at("0", "0", rotation="90", mirrored=True)
    assert "turned 90° anticlockwise, front face turned away" in words_of(turned)
    told = words_of(turned, writingAngle="90", folded="Once, lengthwise.")
    assert "turned 90°" not in told
    assert "writing reading upwards, folding: Once, lengthwise;" in told
    assert "which face looked outwards is not known" in words_of(turned, outwardFace="unknown")


def test_a_stage_that_is_only_planned_has_not_come_about() -> None:
    plan = separation("plan", "Comb", "Rentals", 3, status="planned")
    assert "From stage 1 (bound, about 1510) to stage 2 (repaired, 1650) it lay" in asked(PUT, plan).words()
    done = separation("done", "Other", "Rentals", 3)
    assert "to stage 3 (repaired, 2020-05) it lay" in asked(PUT, plan, done).words()
