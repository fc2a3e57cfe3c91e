"""The demo scenario seen at its stages: covers used twice, linings that went back, a leaf in many books."""

from __future__ import annotations

from functools import cache

import pytest

from guardbook.binding.leaf import rejoined
from guardbook.binding.overlay import overlay_of
from guardbook.binding.plane_keys import plane_called
from guardbook.binding.scene import Scene, scene_of
from guardbook.binding.shared_stages import shared_stages
from guardbook.records.host import HostVolume
from guardbook.records.identifiers import is_valid
from tests.binding.stage_set import on
from tests.binding.test_demo import demo, of_kind


def called(title: str) -> HostVolume:
    (found,) = [
        host for iri in of_kind("host") if (host := demo().host(iri)) and host.display_title.startswith(title)
    ]
    return found


@cache
def seen(title: str, stage: int) -> Scene:
    return scene_of(demo(), called(title).id, stage)


@pytest.mark.parametrize("iri", of_kind("host"))
def test_every_volume_of_the_demo_can_be_seen_at_every_stage(iri: str) -> None:
    host = demo().host(iri)
    assert host
    for stage in host.stages:
        scene = scene_of(demo(), iri, stage.number)
        assert scene.planes
        for plane in scene.planes:
            left, bottom, right, top = plane.extent
            assert left < right
            assert bottom < top
            assert plane.limits_from in {"stated", "size", "sheet"}
            assert all(item.outline is not None and item.words for item in plane.items)


def test_the_linings_of_the_law_book_lie_in_seven_layers_with_the_label_on_top() -> None:
    spine = on(seen("Decretals", 3), "textblock-spine")
    assert spine.items[-1].name == "Spine label cut from a printed title"
    assert sorted({item.layer for item in spine.items}, key=str) == [1, 2, 3, 4, 5, 6, 7]
    label = spine.items[-1]
    assert len(label.under) == 5


def test_removed_linings_leave_gaps_and_those_put_back_leave_none() -> None:
    bare, back = (on(seen("Decretals", stage), "textblock-spine") for stage in (4, 5))
    assert (bare.items, len(bare.gaps)) == ((), 11)
    returned = {item.name for item in back.items} & {gap.name for gap in bare.gaps}
    assert "Strip of a psalter, spine panel 3" in returned
    assert not returned & {gap.name for gap in back.gaps}


def test_the_piece_meant_to_be_in_two_books_at_once_is_reported_in_both() -> None:
    for title in ("Decretals", "Chronicle"):
        kinds = {clash.kind for clash in seen(title, 1).contradictions}
        assert "placed-while-elsewhere" in kinds


def test_the_two_uses_of_the_tanners_cover_are_told_apart() -> None:
    first, second = called("Accounts of the tanners"), called("Toll book")
    assert shared_stages(demo(), first, second) == (1, 4)
    overlay = overlay_of(demo(), (first.id, 1), (second.id, 4))
    assert [(pair.apart_mm, pair.as_wide_as) for pair in overlay.row_pairs] == [(34, ("a",)), (46, ("b",))]
    holes = [one for one in overlay.features if one.feature.kind == "lacing-hole"]
    assert [one.accounted for one in holes] == ["a"] * 6 + ["b"] * 8
    assert all(one.fitting == one.stated for one in holes)
    assert not any(one.disagrees for one in overlay.features)
    dent = next(one for one in overlay.features if one.feature.kind == "impression")
    assert dent.fits[0].words == "where Spine plate of the tanners' accounts lay"


def test_the_register_sewn_twice_in_one_cover_is_laid_over_itself() -> None:
    register = called("Register of baptisms")
    first, last = shared_stages(demo(), register, register)
    overlay = overlay_of(demo(), (register.id, first), (register.id, last))
    assert [(pair.apart_mm, pair.as_wide_as) for pair in overlay.row_pairs] == [(22, ("a",)), (38, ("b",))]


def test_a_cover_turned_inside_out_is_still_told_apart() -> None:
    first, second = called("A quarto of which only"), called("A surgeon's formulary")
    overlay = overlay_of(demo(), (first.id, 1), (second.id, 1))
    assert overlay.b.way.a == -1
    assert [pair.as_wide_as for pair in overlay.row_pairs] == [("a",), ("b",)]


def test_the_psalter_leaf_is_rejoined_from_four_volumes_and_an_album_without_an_overlap() -> None:
    (psalter,) = [iri for iri in of_kind("carrier") if demo().name(iri).startswith("Psalter")]
    (leaf,) = rejoined(demo(), psalter).leaves
    assert len(leaf.pieces) == 10
    assert leaf.overlaps == ()
    assert len({host.host for piece in leaf.pieces for host in piece.hosts}) == 3
    assert leaf.missing_lines
    assert all(missing.agree for missing in leaf.missing_lines)


def test_nothing_in_a_scene_names_a_record_that_is_not_there() -> None:
    for iri in of_kind("host"):
        for plane in scene_of(demo(), iri, 1).planes:
            for item in plane.items:
                named = [item.piece, item.placing, item.image, *item.over, *item.under]
                assert all(name in demo().records for name in named if name)
                assert item.position
                assert is_valid(item.position.partition("#")[0].rpartition("/")[2])


def test_the_cover_of_the_tanners_is_seen_from_inside_with_the_holes_of_its_time_only() -> None:
    inside = on(seen("Accounts of the tanners", 1), "cover-inside")
    (cover,) = [item for item in inside.items if item.is_sheet]
    through = sorted(trace.points[0] for trace in cover.features if trace.kind == "lacing-hole")
    assert through == [(x, y) for x in (-17, 17) for y in (63, 162, 261)]
    assert inside == seen("Accounts of the tanners", 1).plane(plane_called("cover-inside"))
