"""Pieces lie on their planes as a ruler would find them: later drawings are made from this to scale."""

from itertools import combinations

import pytest
import shapely

from guardbook.binding.outlines import shape_of
from guardbook.records.carrier import Carrier
from guardbook.records.fragment import CarrierPlace, Fragment
from guardbook.records.host import HostVolume
from guardbook.records.placing import Placing, Position
from tests.demo.scenario import Scenario, supports_at

TOLERANCE_MM = 0.01
LININGS_BETWEEN_SUPPORTS = {"spine-lining-panel", "spine-lining-extended"}


def test_the_outline_of_a_piece_fills_its_height_and_width(scenario: Scenario) -> None:
    drawn = [piece for piece in scenario.of(Fragment) if piece.outline]
    assert len(drawn) > 50
    for piece in drawn:
        polygon = shape_of(piece).polygon
        assert polygon is not None
        assert polygon.bounds == (0, 0, float(piece.width or 0), float(piece.height or 0))


def test_every_trace_lies_on_its_piece(scenario: Scenario) -> None:
    for piece in scenario.of(Fragment):
        points = [(f.x, f.y) for f in piece.features] + [(f.to_x, f.to_y) for f in piece.features]
        for x, y in points:
            assert 0 <= (x or 0) <= (piece.width or 0), piece.title
            assert 0 <= (y or 0) <= (piece.height or 0), piece.title


def test_every_measured_position_lies_on_a_plane_that_its_volume_describes(scenario: Scenario) -> None:
    places = list(_measured(scenario))
    assert len(places) > 50
    for placing, position in places:
        limits = _limits(scenario, placing, position)
        piece = shape_of(scenario.piece(placing.piece)).on_plane(position)
        assert limits is not None, placing.id
        assert piece is not None, placing.id
        assert limits.buffer(TOLERANCE_MM).covers(piece), placing.id


def test_a_lining_between_supports_touches_none(scenario: Scenario) -> None:
    linings = [(p, at) for p, at in _measured(scenario) if p.function in LININGS_BETWEEN_SUPPORTS]
    assert len(linings) > 8
    for placing, position in linings:
        tail, head = _reach_along_the_spine(scenario, placing, position)
        supports = supports_at(scenario.host(placing.host), placing.stage)
        assert not [y for y in supports if tail < y < head], placing.id


def test_the_slots_of_a_comb_lie_over_the_supports(scenario: Scenario) -> None:
    placing = next(p for p in scenario.of(Placing) if p.function == "spine-lining-slotted")
    comb = shape_of(scenario.piece(placing.piece)).on_plane(placing.positions[0])
    assert comb is not None
    for y in supports_at(scenario.host(placing.host), placing.stage):
        assert not comb.contains(shapely.Point(0, y))


def test_guards_are_pierced_where_their_volume_is_sewn(scenario: Scenario) -> None:
    guards = [(p, at) for p, at in _measured(scenario) if p.function in {"sewing-guard", "outer-guard"}]
    assert len(guards) >= 4
    for placing, position in guards:
        piece = scenario.piece(placing.piece)
        mapping = shape_of(piece).mapping(position)
        assert mapping is not None
        stations = {float(station.y) for station in scenario.host(placing.host).stations}
        holes = [f for f in piece.features if f.feature_kind == "sewing-hole"]
        found = [mapping.point(float(f.x or 0), float(f.y or 0)) for f in holes]
        assert found, placing.id
        assert {x for x, _ in found} == {0.0}
        assert {y for _, y in found} <= stations


def test_each_use_of_a_cover_made_two_rows_of_holes_as_far_apart_as_the_spine_was_wide(
    scenario: Scenario,
) -> None:
    widths = {}
    for cover in scenario.re_used_covers():
        for use in scenario.uses(cover):
            left, right = use.rows
            assert use.rows[left] == use.rows[right]
            widths[use.placing.id] = (use.host.spine_width, right - left)
    assert len(widths) == 6
    own_spine = [float(spine) == apart for spine, apart in widths.values() if spine]
    # the first sewing of the baptisms is gone, and with it a spine that was narrower than the present one
    assert sorted(own_spine) == [False, True, True, True, True, True]


def test_each_row_of_holes_of_a_cover_lies_over_the_supports_of_its_own_use(scenario: Scenario) -> None:
    for cover in scenario.re_used_covers():
        for use in scenario.uses(cover):
            mapping = shape_of(cover).mapping(use.placing.positions[0])
            (shift,) = [r for r in use.host.registrations if r.stage == use.placing.stage]
            assert mapping is not None
            for x, row in use.rows.items():
                found = [mapping.point(x, y)[1] + float(shift.dy) for y in row]
                assert sorted(found) == supports_at(use.host, use.placing.stage), cover.title


def test_the_two_rows_of_a_use_lie_on_both_sides_of_the_centre_of_the_spine(scenario: Scenario) -> None:
    for cover in scenario.re_used_covers():
        for use in scenario.uses(cover):
            mapping = shape_of(cover).mapping(use.placing.positions[0])
            assert mapping is not None
            assert sum(mapping.point(x, 0)[0] for x in use.rows) == pytest.approx(0)


def test_three_wormholes_go_on_from_a_lining_into_the_sheet_beneath_it(scenario: Scenario) -> None:
    on_board = {
        placing.function: _wormholes_on_plane(scenario, placing, position)
        for placing, position in _measured(scenario)
        if position.plane == "board-inside" and placing.host == _sermons(scenario)
    }
    assert len(on_board["board-lining"]) == 3
    assert on_board["board-lining"] == on_board["board-laminate"]


def test_the_pieces_of_a_leaf_lie_beside_one_another_within_it(scenario: Scenario) -> None:
    for carrier in scenario.of(Carrier):
        leaf = shapely.box(0, 0, float(carrier.width or 0), float(carrier.height or 0))
        cut = [_cut(piece, place) for piece in scenario.cut_from(carrier) for place in piece.carrier_places]
        assert len(cut) >= 6
        assert all(leaf.covers(one) for one in cut)
        assert all(one.intersection(two).area == 0 for one, two in combinations(cut, 2))


def test_the_lines_that_a_piece_holds_are_those_that_the_line_pitch_puts_there(scenario: Scenario) -> None:
    psalter = next(carrier for carrier in scenario.of(Carrier) if carrier.carrier_kind == "book")
    assert psalter.line_pitch == pytest.approx(8.5)
    top, pitch = 258.0, 8.5
    for piece in scenario.cut_from(psalter):
        (place,) = piece.carrier_places
        tail, head = float(place.y or 0), float(place.y or 0) + float(piece.height or 0)
        held = [n for n in range(1, 25) if tail <= top - pitch * (n - 0.5) <= head]
        assert (place.first_line, place.last_line) == (held[0], held[-1])


def _measured(scenario: Scenario) -> list[tuple[Placing, Position]]:
    """Give the positions that have coordinates, with their placings."""
    every = [(placing, position) for placing in scenario.of(Placing) for position in placing.positions]
    return [(placing, position) for placing, position in every if position.x is not None]


def _sermons(scenario: Scenario) -> str:
    return next(host.id for host in scenario.of(HostVolume) if (host.title or "").startswith("Sermons"))


def _wormholes_on_plane(scenario: Scenario, placing: Placing, position: Position) -> set[tuple[float, float]]:
    piece = scenario.piece(placing.piece)
    mapping = shape_of(piece).mapping(position)
    assert mapping is not None
    holes = [feature for feature in piece.features if feature.feature_kind == "wormhole"]
    return {mapping.point(float(hole.x or 0), float(hole.y or 0)) for hole in holes}


def _limits(scenario: Scenario, placing: Placing, position: Position) -> shapely.Polygon | None:
    named = ("plane", "gathering", "leaf", "leaf_side", "side")
    for plane in scenario.host(placing.host).planes:
        told = [name for name in named if getattr(plane, name) is not None]
        if all(getattr(plane, name) == getattr(position, name) for name in told):
            left, right = float(plane.left or 0), float(plane.right or 0)
            return shapely.box(left, float(plane.bottom or 0), right, float(plane.top or 0))
    return None


def _reach_along_the_spine(scenario: Scenario, placing: Placing, position: Position) -> tuple[float, float]:
    piece = shape_of(scenario.piece(placing.piece)).on_plane(position)
    assert piece is not None
    _, tail, _, head = piece.bounds
    return tail, head


def _cut(piece: Fragment, place: CarrierPlace) -> shapely.Polygon:
    x, y = float(place.x or 0), float(place.y or 0)
    return shapely.box(x, y, x + float(piece.width or 0), y + float(piece.height or 0))
