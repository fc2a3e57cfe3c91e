"""Letters stand inside their pieces where they fit, else in the margin; none covers another or a hole."""

from __future__ import annotations

from itertools import combinations, pairwise

import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry.base import BaseGeometry

from guardbook.binding.drawing.labels import PITCH, Placed, Wanted, in_margin, placed
from guardbook.binding.drawing.letters import LETTERS, letter, letters_of, letters_of_host, place_of
from guardbook.binding.drawing.window import Window
from tests.binding.bench import dossier, iri, piece, placing, separation, volume

SHEET = shapely.box(-10, -10, 260, 370)
WINDOW = Window(left=0, bottom=0, right=200, top=300)
BOXES = st.tuples(st.floats(0, 180), st.floats(0, 270), st.floats(1, 60), st.floats(1, 80)).map(
    lambda box: shapely.box(box[0], box[1], box[0] + box[2], box[1] + box[3])
)


def wanted(shape: BaseGeometry, at: int) -> Wanted:
    return Wanted(letter(at), 6.0, 4.0, shape, shape)


def room(want: Wanted, spot: tuple[float, float]) -> BaseGeometry:
    x, y = spot
    return shapely.box(x - want.width / 2, y - want.height / 2, x + want.width / 2, y + want.height / 2)


@given(st.lists(BOXES, min_size=1, max_size=12), st.lists(BOXES, max_size=4))
def test_a_letter_inside_a_piece_is_wholly_inside_and_clear_of_all_else(
    shapes: list[BaseGeometry], taken: list[BaseGeometry]
) -> None:
    asked = [wanted(shape, at) for at, shape in enumerate(shapes)]
    found = [(want, spot, room(want, (spot.x, spot.y))) for want, spot in placed(asked, taken, SHEET) if spot]
    assert all(want.area.buffer(1e-6).covers(box) for want, spot, box in found if not spot.leads_to)
    rooms = [box for _, _, box in found]
    assert not any(one.intersects(other) for one, other in combinations(rooms, 2))
    assert not any(one.intersects(other) for one in rooms for other in taken)
    for want, spot, box in found:
        if spot.leads_to:
            assert not any(other.area.intersects(box) for other in asked)
            assert SHEET.covers(box)
            assert want.area.dwithin(shapely.Point(spot.leads_to[0]), 0.01)


def test_a_piece_with_room_has_its_letter_in_the_middle() -> None:
    ((_, spot),) = placed([wanted(shapely.box(50, 50, 90, 70), 0)], (), SHEET)
    assert spot == Placed(("A",), 70, 60)


def test_a_piece_too_small_for_its_letter_has_it_beside_with_a_short_line() -> None:
    ((_, spot),) = placed([wanted(shapely.box(50, 50, 53, 90), 0)], (), SHEET)
    assert spot is not None
    assert (53 < spot.x < 65, spot.y) == (True, 70)
    assert spot.leads_to == ((53, 70),)


def test_a_letter_would_rather_stand_on_a_fold_than_outside_but_never_on_a_hole() -> None:
    strip = wanted(shapely.box(50, 50, 58, 90), 0)
    fold, hole = shapely.LineString([(54, 50), (54, 90)]), shapely.box(52, 66, 56, 74)
    ((_, spot),) = placed([strip], [fold, hole], SHEET)
    assert spot is not None
    assert not spot.leads_to
    assert not room(strip, (spot.x, spot.y)).intersects(hole)


def test_what_is_hidden_has_no_letter_beside_it() -> None:
    hidden = Wanted("A", 6, 4, shapely.GeometryCollection(), shapely.box(50, 50, 90, 90))
    assert [spot for _, spot in placed([hidden], (), SHEET)] == [None]


@given(st.lists(BOXES, min_size=1, max_size=60), st.floats(1, 8))
def test_letters_in_the_margin_keep_apart_and_lead_into_their_pieces(
    shapes: list[BaseGeometry], unit: float
) -> None:
    asked = [wanted(shape, at) for at, shape in enumerate(shapes)]
    left, right = in_margin(asked, WINDOW, unit, 10.0)
    found = sorted(text for spot in left + right for text in spot.texts)
    assert found == sorted(want.text for want in asked)
    outlines = {want.text: want.outline for want in asked}
    for side in (left, right):
        heights = [spot.y for spot in side]
        assert all(lower - upper >= PITCH * unit * 0.999 for upper, lower in pairwise(heights))
        for spot in side:
            for text, point in zip(spot.texts, spot.leads_to, strict=True):
                assert outlines[text].dwithin(shapely.Point(point), 0.01)


@given(st.lists(st.text(min_size=1), unique=True, max_size=60), st.integers(0, 5))
def test_no_two_pieces_have_one_letter_and_a_given_one_is_kept(pieces: list[str], kept: int) -> None:
    given_letters = {name: letter(40 + at) for at, name in enumerate(pieces[:kept])}
    found = letters_of(pieces, given_letters)
    assert len(set(found.values())) == len(found) == len(pieces)
    assert given_letters.items() <= found.items()


def test_letters_go_on_after_the_last_and_none_reads_as_a_figure() -> None:
    assert [place_of(letter(at)) for at in range(2000)] == list(range(2000))
    assert not set("IO") & set(LETTERS)
    assert place_of("α") == place_of("α") >= 0


def test_a_piece_keeps_its_letter_at_all_stages_of_its_volume() -> None:
    records = dossier(
        volume("Book", "1500", "1600"),
        piece("Old"),
        piece("New"),
        placing("a", "New", "Book", 2),
        placing("b", "Old", "Book", 1),
        separation("c", "Old", "Book", 2),
    )
    assert letters_of_host(records, iri("host", "Book")) == {
        iri("fragment", "Old"): "A",
        iri("fragment", "New"): "B",
    }
