"""The gatherings as sewn: each in its place, with what is in its fold, at heights to scale."""

from __future__ import annotations

from typing import Any

import pytest

from guardbook.binding.drawing.gatherings import draw_gatherings
from guardbook.binding.drawing.look import Look
from guardbook.binding.scene import Scene
from guardbook.errors import WrongUse
from guardbook.wording import speaking
from tests.binding.bench import at, piece, placing, separation, volume
from tests.binding.drawing.easel import Read, bounds, elements, extent, shelf
from tests.binding.stage_set import book, station


def gatherings(*counts: int | None) -> list[dict[str, Any]]:
    return [
        {"id": f"#gathering-{n}", "number": n, **({"leafCount": count} if count is not None else {})}
        for n, count in enumerate(counts, start=1)
    ]


def sewn(*placed: Any, counts: tuple[int | None, ...] = (8, 8, 8)) -> Scene:
    return shelf(*placed, gatherings=gatherings(*counts), stations=[station(1, "40"), station(2, "150")])


def guard(name: str, number: int, **fields: Any) -> tuple[str, str | None, str | None, dict[str, Any]]:
    said = {"plane": "fold", "gathering": number, "height": "120", "width": "16", "function": "sewing-guard"}
    return name, "-8", "30", {**said, **fields}


def test_a_guard_is_drawn_at_its_height_to_scale_in_its_own_gathering() -> None:
    read = Read(draw_gatherings(sewn(guard("First", 1), guard("Third", 3))))
    first, third = bounds(read.piece("First")), bounds(read.piece("Third"))
    assert extent(read.piece("First"))[1] == 120
    assert first[1] == third[1]
    numbers = {text.text: float(text.attrib["x"]) for text in elements(read.drawing, "text")}
    assert first[0] < numbers["1"] < first[2] < numbers["2"] < third[0] < numbers["3"] < third[2]


def test_a_guard_in_the_fold_is_told_from_one_round_the_gathering() -> None:
    read = Read(draw_gatherings(sewn(guard("In", 1), guard("Round", 2, function="outer-guard"))))
    assert extent(read.piece("In"))[0] < extent(read.piece("Round"))[0]
    assert {"guard in the fold", "guard round the gathering"} <= set(read.texts())


def test_each_gathering_is_told_with_its_leaves_and_what_is_in_its_fold() -> None:
    told = Read(draw_gatherings(sewn(guard("Strip", 2), counts=(8, 10, None)))).alternative.splitlines()
    assert told[0] == "3 gatherings, not all of their leaves are counted."
    assert told[1] == "Gathering 1, 8 leaves. Nothing in its fold."
    assert told[2].startswith("Gathering 2, 10 leaves. A: Strip: sewing guard, measured")
    assert told[3] == "Gathering 3, leaves not counted. Nothing in its fold."
    assert told[4] == "Sewing stations, from the tail: 40 mm, 150 mm."


def test_a_piece_on_a_leaf_is_found_in_the_gathering_that_leaf_belongs_to() -> None:
    leaf = {"plane": "leaf", "leaf": 11, "leafSide": "recto", "function": "leaf-repair"}
    told = Read(draw_gatherings(sewn(("Mend", "0", "10", leaf)))).alternative
    assert "Gathering 2, 8 leaves. A on its leaf 3." in told


def test_a_gathering_that_only_a_guard_names_is_drawn_too() -> None:
    read = Read(draw_gatherings(shelf(guard("Strip", 7))))
    assert read.piece("Strip") is not None
    assert "7" in read.texts()
    assert "?" in read.texts(), "its leaves are not counted"


def test_a_guard_that_was_taken_out_leaves_its_place_crossed_out() -> None:
    where = at("-8", "30", plane="fold", gathering=1)
    scene = book(
        volume("Book", "1500", "1900", height="200", gatherings=gatherings(8)),
        piece("Strip", "120", "16"),
        placing("put", "Strip", "Book", 1, where),
        separation("off", "Strip", "Book", 2),
        stage=2,
    )
    read = Read(draw_gatherings(scene))
    assert "(A)" in read.texts()
    assert "gone, nothing in its place" in read.alternative


@pytest.mark.parametrize(("count", "narrow"), [(1, False), (14, False), (40, False), (40, True), (7, True)])
def test_many_gatherings_go_on_in_further_rows_and_stay_on_the_sheet(count: int, *, narrow: bool) -> None:
    scene = sewn(guard("Strip", count), counts=(8,) * count)
    read = Read(draw_gatherings(scene, Look(narrow=narrow)))
    width, height = read.size
    numbers = [text for text in elements(read.drawing, "text") if (text.text or "").isdigit()]
    assert {str(number) for number in range(1, count + 1)} <= {text.text for text in numbers}
    left, top, right, bottom = bounds(read.piece("Strip"))
    assert 0 < left < right < width
    assert 0 < top < bottom < height
    assert round(bottom - top, 2) == 120


def test_the_drawing_says_what_of_it_is_to_scale_and_what_is_not_known() -> None:
    words = Read(draw_gatherings(sewn(guard("Strip", 1)))).words()
    assert "heights are to scale, widths are not. The way of the thread is not recorded." in words


def test_a_volume_without_gatherings_cannot_be_drawn_so() -> None:
    with pytest.raises(WrongUse, match="No gatherings are recorded for Book"):
        draw_gatherings(shelf())


def test_the_ends_of_the_leaves_are_named_in_the_language_of_the_reader() -> None:
    with speaking("de"):
        texts = Read(draw_gatherings(sewn(guard("Strip", 1)))).texts()
    assert {"← Fuß", "Kopf →"} <= set(texts)
