"""A leaf with its pieces set out, what is missing of it, and where each piece came from."""

from __future__ import annotations

from typing import Any

import pytest

from guardbook.binding.drawing.leaf import draw_leaf
from guardbook.binding.drawing.look import Look
from guardbook.binding.leaf import rejoined
from guardbook.binding.leaf_parts import Rejoined
from guardbook.records.base import Record
from guardbook.records.carrier import Carrier
from tests.binding.bench import dossier, made, piece, placing, volume
from tests.binding.drawing.easel import Read, bounds, elements, extent
from tests.binding.test_demo import demo, of_kind

PSALTER = made(Carrier, "Psalter", height="280", width="200")


def strip(name: str, x: str | None, y: str | None, **fields: Any) -> Record:
    place = {"carrier": PSALTER.id, "carrierLeaf": "3", "x": x, "y": y, "certainty": "measured"}
    place |= {key: fields.pop(key) for key in ("firstLine", "lastLine", "certainty") if key in fields}
    return piece(
        name, carrierPlaces=[{key: value for key, value in place.items() if value is not None}], **fields
    )


def drawn(*records: Record, carrier: Carrier = PSALTER, look: Look | None = None) -> Read:
    found = rejoined(dossier(carrier, *records), carrier.id)
    return Read(draw_leaf(found, found.leaves[0], look or Look()))


def test_pieces_lie_on_the_leaf_where_they_were_cut_from_it_to_scale() -> None:
    read = drawn(strip("Low", "10", "20"), strip("High", "50", "200"))
    low, high = bounds(read.piece("Low")), bounds(read.piece("High"))
    assert extent(read.piece("Low")) == (20, 40)
    assert (round(high[0] - low[0], 2), round(low[3] - high[3], 2)) == (40, 180)


def test_what_is_missing_is_outlined_and_named() -> None:
    read = drawn(strip("Half", "0", "0", height="280", width="100"))
    assert "missing" in read.texts()
    assert "part of the leaf of which no piece is known" in read.words()
    assert "Missing: a part 100 to 200 mm from the left edge, 0 to 280 mm from the tail." in read.alternative
    assert "1 piece known, 50% of its area" in read.words()


def test_a_leaf_that_is_whole_again_misses_nothing() -> None:
    read = drawn(strip("Whole", "0", "0", height="280", width="200"))
    assert "missing" not in read.texts()
    assert "100% of its area" in read.words()


def test_each_piece_says_its_lines_and_the_volume_it_came_from() -> None:
    read = drawn(
        strip("Strip", "10", "20", firstLine=4, lastLine=9),
        volume("Book", "1500", shelfmark="R 7"),
        placing("put", "Strip", "Book"),
    )
    assert "Strip: lines 4–9, measured, from Book (R 7)" in read.words()
    assert "4–9" in read.texts()


def test_a_piece_without_a_place_on_the_leaf_is_named_beside_it() -> None:
    read = drawn(strip("Placed", "10", "20"), strip("Somewhere", None, None))
    assert not read.pieces("Somewhere")
    assert "Of this leaf, place or size not known" in read.texts()
    assert "Somewhere" in read.words()


def test_a_leaf_whose_size_is_not_recorded_says_so() -> None:
    carrier = made(Carrier, "Psalter")
    read = drawn(strip("Strip", "10", "20"), carrier=carrier)
    assert "how large the leaf was is not recorded" in read.words()


def test_pieces_that_claim_one_place_are_noted() -> None:
    read = drawn(strip("One", "10", "20"), strip("Two", "15", "25"))
    assert "To note" in read.texts()
    assert "One" in read.alternative.splitlines()[-1]
    assert "Two" in read.alternative.splitlines()[-1]


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("iri", of_kind("carrier"))
def test_every_leaf_of_the_demo_is_drawn_with_all_its_pieces(iri: str, *, narrow: bool) -> None:
    found: Rejoined = rejoined(demo(), iri)
    for leaf in found.leaves:
        read = Read(draw_leaf(found, leaf, Look(narrow=narrow)))
        assert read.used(read.drawing) == read.used(read.legend)
        for part in leaf.pieces:
            assert part.name in read.words()
            assert part.outline is None or read.pieces(part.name)
        assert len(elements(read.drawing, "title")) >= len([p for p in leaf.pieces if p.outline is not None])
