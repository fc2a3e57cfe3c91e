"""Seeing a stage, laying two over each other and rejoining a leaf, as the workshop and as the public."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from guardbook.actions.draw_stage import draw_stage
from guardbook.actions.lay_over import lay_over
from guardbook.actions.rejoin_carrier import rejoin_carrier
from guardbook.catalogue.access import Access, Change, Viewer
from guardbook.catalogue.catalogue import Catalogue, open_catalogue
from guardbook.errors import NotFound, WrongUse
from guardbook.records.base import Record
from guardbook.records.carrier import Carrier
from tests.binding.bench import at, made, piece, placing, separation, volume
from tests.binding.stage_set import hole, on, picture

FIRST = volume("First", "1500", "1550", height="200", width="120", spineWidth="30", workshopNumber="W 1")
SECOND = volume("Second", "1560", "2020", height="190", width="118", spineWidth="44")
PSALTER = made(Carrier, "Psalter", height="280", width="200", linePitch="8.5")
COVER = piece("Cover", "208", "280", features=[hole(1, "125", "54", goesThrough=True)], frontFace="front")
STRIP = piece(
    "Strip", "40", "60", carrierPlaces=[{"carrier": PSALTER.id, "carrierLeaf": "1", "x": "0", "y": "0"}]
)
SHOT = picture("shot", "Cover", face="front", pixelsPerMm="10", pixelWidth=2800, pixelHeight=2080)
RECORDS: tuple[Record, ...] = (
    FIRST,
    SECOND,
    PSALTER,
    COVER,
    STRIP,
    SHOT,
    placing("one", "Cover", "First", 1, at("-140", "0", "cover-outside"), function="cover"),
    separation("off", "Cover", "First", 2, separationKind="separated-long-ago"),
    placing("two", "Cover", "Second", 1, at("-146", "-6", "cover-outside"), function="cover"),
    placing("lining", "Strip", "First", 1, at("-20", "10"), function="spine-lining", visibility="workshop"),
)


@pytest.fixture
def catalogue() -> Iterator[Catalogue]:
    with open_catalogue(None) as opened:
        changes = [Change(record, None) for record in RECORDS]
        opened.access().save(changes, who="Mira", what_for="to see it at its stages")
        yield opened


@pytest.fixture
def workshop(catalogue: Catalogue) -> Access:
    return catalogue.access(Viewer.WORKSHOP)


def test_a_volume_is_seen_at_a_stage_with_the_pictures_of_its_pieces(workshop: Access) -> None:
    scene = draw_stage(workshop, "W 1", 1).scene
    (cover,) = on(scene, "cover-outside").items
    assert (cover.name, cover.image) == ("Cover", SHOT.id)
    assert cover.image_way
    assert cover.image_way.point(0, 0) == pytest.approx((-140, 208))


def test_a_stage_that_is_not_said_is_the_last_that_has_come_about(workshop: Access) -> None:
    planned = separation("planned", "Cover", "Second", 2, status="planned")
    workshop.save([Change(planned, None)], who="Mira", what_for="to plan")
    assert draw_stage(workshop, SECOND.short).scene.stage == 1
    scene = draw_stage(workshop, FIRST.short).scene
    assert scene.stage == 2
    assert [gap.name for gap in on(scene, "cover-outside").gaps] == ["Cover"]


def test_the_public_sees_no_piece_whose_placing_is_for_the_workshop_only(catalogue: Catalogue) -> None:
    seen = {
        viewer: [
            item.name
            for plane in draw_stage(catalogue.access(viewer), "W 1", 1).scene.planes
            for item in plane.items
        ]
        for viewer in (Viewer.WORKSHOP, Viewer.PUBLIC)
    }
    assert "Strip" in seen[Viewer.WORKSHOP]
    assert "Strip" not in seen[Viewer.PUBLIC]
    assert "Cover" in seen[Viewer.PUBLIC]


def test_two_volumes_are_laid_over_each_other_at_the_stages_at_which_they_held_the_same_cover(
    workshop: Access,
) -> None:
    overlay = lay_over(workshop, FIRST.short, SECOND.short)
    assert (overlay.a.stage, overlay.b.stage, overlay.registered_by) == (1, 2, COVER.id)
    chosen = lay_over(workshop, FIRST.short, SECOND.short, stage_b=1, plane="cover-inside")
    assert (chosen.b.stage, chosen.a.plane.plane) == (1, "cover-inside")


def test_a_carrier_is_rejoined_from_every_piece_that_says_it_was_cut_from_it(workshop: Access) -> None:
    (leaf,) = rejoin_carrier(workshop, PSALTER.short).leaves
    (strip,) = leaf.pieces
    assert [(host.name, host.stage_words) for host in strip.hosts] == [("First", "bound")]


def test_the_public_is_not_told_of_a_volume_by_a_placing_for_the_workshop_only(catalogue: Catalogue) -> None:
    (leaf,) = rejoin_carrier(catalogue.access(Viewer.PUBLIC), PSALTER.short).leaves
    assert [strip.hosts for strip in leaf.pieces] == [()]


@pytest.mark.parametrize(
    ("ask", "name", "told"),
    [
        (draw_stage, COVER.short, "is no volume"),
        (rejoin_carrier, FIRST.short, "is no carrier"),
        (lambda access, name: lay_over(access, FIRST.short, name), PSALTER.short, "is no volume"),
    ],
)
def test_what_makes_no_sense_is_answered_with_what_would(
    workshop: Access, ask: Any, name: str, told: str
) -> None:
    with pytest.raises(WrongUse, match=told):
        ask(workshop, name)


def test_what_is_not_there_is_not_found(workshop: Access) -> None:
    for ask in (draw_stage, rejoin_carrier):
        with pytest.raises(NotFound):
            ask(workshop, "W 99")
