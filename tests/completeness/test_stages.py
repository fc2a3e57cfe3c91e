"""What each stage asks for, and which answers count instead."""

from __future__ import annotations

from typing import Any

import pytest

from guardbook.completeness.report import Missing, Report
from guardbook.completeness.stages import STAGES, check
from guardbook.errors import WrongUse
from guardbook.records.base import Record
from tests.catalogue.shelf import iri
from tests.completeness.situations import (
    KEEPER,
    PLACING,
    SEPARATION,
    STRIP,
    VOLUME,
    answered,
    everything,
    image,
    made,
    placing,
    position,
    quads,
    separation,
    strip,
)

FOCUS = (STRIP, PLACING, SEPARATION)


def checked(stage: str, *records: Record, focus: tuple[str, ...] = FOCUS) -> Report:
    return check(
        quads(*records), stage, [one for one in focus if any(one == record.id for record in records)]
    )


def fields(report: Report) -> set[tuple[str, str | None]]:
    return {(item.record.split("/")[-2], item.field) for item in report.missing}


def only(report: Report) -> Missing:
    (item,) = report.missing
    return item


@pytest.mark.parametrize("stage", ["on-sight", "before-lifting"])
def test_a_piece_described_with_care_may_be_lifted(stage: str) -> None:
    report = checked(stage, *everything())
    assert report.missing == ()
    assert report.complete


def test_a_piece_nobody_has_described_lacks_the_least_on_sight() -> None:
    bare = made("fragment", STRIP, title="A strip")
    assert fields(checked("on-sight", bare)) == {
        ("fragment", "extent"),
        ("fragment", "material"),
        ("fragment", "seenBy"),
        ("fragment", "seenWhen"),
        ("fragment", "host"),
    }


def test_a_piece_found_loose_needs_no_volume_if_that_is_said() -> None:
    loose = made("separation", SEPARATION, piece=STRIP, separationKind="found-loose-host-unknown")
    assert ("fragment", "host") in fields(checked("on-sight", strip()))
    assert ("fragment", "host") not in fields(checked("on-sight", strip(), loose))


@pytest.mark.parametrize(
    "field",
    [
        "fixings",
        "originalToAssembly",
        "outwardFace",
        "writingAngle",
        "folded",
        "layerOrder",
        "sewingRelation",
        "edgesInPlace",
    ],
)
def test_what_only_the_place_can_tell_cannot_be_got_later(field: str) -> None:
    item = only(checked("before-lifting", *everything(placing=placing(**{field: None}))))
    assert (item.record, item.field, item.later) == (PLACING, field, False)
    assert item.why
    assert item.how


@pytest.mark.parametrize("field", ["x", "y", "rotation", "mirrored", "layer", "visibleInPlace", "certainty"])
def test_a_position_is_measured_before_the_piece_is_lifted(field: str) -> None:
    vague = placing(positions=[position(**{field: None})])
    item = only(checked("before-lifting", *everything(placing=vague)))
    assert (item.about, item.field, item.later) == (f"{PLACING}#position-1", field, False)


@pytest.mark.parametrize("field", ["authority", "consentBy", "consentWhen", "reason", "conditionBefore"])
def test_nothing_is_lifted_without_consent_reason_and_condition(field: str) -> None:
    item = only(checked("before-lifting", *everything(separation=separation(**{field: None}))))
    assert (item.record, item.field, item.later) == (SEPARATION, field, False)


@pytest.mark.parametrize(
    "useless",
    [{"scaleBarInView": None}, {"moment": "after-lifting"}, {"moment": None}, {"depicts": [VOLUME]}],
)
def test_an_image_counts_only_if_it_shows_the_piece_in_place_with_a_scale(useless: dict[str, Any]) -> None:
    item = only(checked("before-lifting", *everything(image=image(**useless))))
    assert (item.record, item.field, item.accepts) == (STRIP, "imagesBefore", ())


@pytest.mark.parametrize(
    "scale",
    [
        {"pixelsPerMm": "12"},
        {"tiePoints": [{"pixelX": str(n), "pixelY": "1", "x": str(n), "y": "1"} for n in (1, 2)]},
    ],
)
def test_a_scale_in_figures_or_tie_points_does_as_well_as_one_in_view(scale: dict[str, Any]) -> None:
    assert checked("before-lifting", *everything(image=image(scaleBarInView=None, **scale))).complete


def test_looked_for_and_not_found_is_an_answer_and_no_gap() -> None:
    looked = strip(features=None, answers=answered("features", "looked-for-not-found"))
    report = checked("before-lifting", *everything(strip=looked))
    assert report.complete
    assert [(item.field, item.answer, item.reason) for item in report.answered] == [
        ("features", "looked-for-not-found", "Looked with a loupe.")
    ]


def test_an_answer_that_does_not_count_leaves_the_gap_and_is_named() -> None:
    evaded = placing(fixings=None, answers=answered("fixings", "not-applicable"))
    item = only(checked("before-lifting", *everything(placing=evaded)))
    assert (item.field, item.answered) == ("fixings", "not-applicable")


def test_consent_cannot_be_answered_away_before_lifting_but_may_be_lost_afterwards() -> None:
    lost = answered("consentBy", "looked-for-not-found")
    before = checked("before-lifting", *everything(separation=separation(consentBy=None, answers=lost)))
    done = separation(consentBy=None, answers=lost, status="done")
    after = checked("before-lifting", *everything(separation=done))
    assert (only(before).field, before.complete) == ("consentBy", False)
    assert (after.missing, after.complete) == ((), True)


@pytest.mark.parametrize("kind", ["separated-long-ago", "lost", "found-loose-with-volume"])
def test_what_was_lifted_before_anybody_could_look_is_not_asked_for(kind: str) -> None:
    gone = separation(separationKind=kind, status="done", consentBy=None, reason=None)
    records = everything(separation=gone, placing=placing(layerOrder=None, positions=[position(x=None)]))
    assert checked("before-lifting", *records).complete


def test_after_lifting_asks_for_hidden_face_measures_and_where_it_went() -> None:
    report = checked("after-lifting", *everything(separation=separation(status="done")))
    wanted = {"hiddenFace", "height", "width", "thickness", "series", "imagesAfter", "keeper"}
    assert {field for kind, field in fields(report) if kind == "fragment"} >= wanted
    wanted = {"conditionAfter", "alteredOrLost", "cameAway", "wentTo", "housing", "replacedBy", "access"}
    assert {field for kind, field in fields(report) if kind == "separation"} >= wanted


def test_a_move_tells_where_a_lifted_piece_is_as_well_as_its_keeper_does() -> None:
    move = made("move", iri("move", "to the archive"), object=STRIP, moveKind="given", wentTo=KEEPER)
    without = fields(checked("after-lifting", *everything()))
    assert without - fields(checked("after-lifting", *everything(), move)) == {("fragment", "keeper")}


def test_a_stage_takes_in_all_before_it() -> None:
    bare = [made("fragment", STRIP), made("placing", PLACING, piece=STRIP, host=VOLUME)]
    counts = [len(checked(stage, *bare).missing) for stage in STAGES]
    assert counts == sorted(set(counts))


def test_what_two_stages_ask_for_is_said_once() -> None:
    report = checked("after-lifting", made("fragment", STRIP))
    assert [item.stage for item in report.missing if item.field == "features"] == ["before-lifting"]


def test_what_is_only_worth_having_does_not_make_a_record_incomplete() -> None:
    shared = strip(
        title="Strip",
        script="caroline",
        textLanguages=["la"],
        firstWords="Arma virumque cano",
        dateMade="09XX",
        dateReason="script",
        keeper=KEEPER,
        shelfmark="F 1",
        rightsHolder="Town",
        licence="https://creativecommons.org/licenses/by/4.0/",
        citation="Town archive, F 1.",
    )
    report = check(quads(shared), "ready-to-share", [STRIP])
    last = [item for item in report.missing if item.stage == "ready-to-share"]
    assert [(item.field, item.as_json()["severity"]) for item in last] == [("placeMade", "recommended")]


def test_an_unknown_stage_is_refused_with_the_four_there_are() -> None:
    with pytest.raises(WrongUse, match="on-sight, before-lifting, after-lifting, ready-to-share"):
        check(quads(strip()), "before-binding", [STRIP])


def test_a_record_that_is_not_there_is_never_called_complete() -> None:
    with pytest.raises(WrongUse, match="nothing to check"):
        check(quads(strip()), "on-sight", [VOLUME])
