"""Places that cannot be right together."""

from __future__ import annotations

from typing import Any

import pytest

from guardbook.binding.contradictions import Contradiction
from guardbook.binding.host_states import lives_at_host, states_of
from guardbook.binding.layout import layout_clashes, outline_clashes
from guardbook.records.base import Record
from tests.binding.bench import alteration, at, dossier, iri, piece, placing, volume

BOOK = iri("host", "Book")
PLANE = {"plane": "textblock-spine", "left": "-15.0", "right": "15.0", "bottom": "0.0", "top": "200.0"}
OUTSIDE = {"plane": "cover-outside", "left": "-230.0", "right": "150.0", "bottom": "0.0", "top": "200.0"}


def clashes(*records: Record, planes: tuple[dict[str, str], ...] = (PLANE,)) -> tuple[Contradiction, ...]:
    found = dossier(volume("Book", "1510", "1650", planes=list(planes)), *records)
    return layout_clashes(states_of(found, BOOK, lives_at_host(found, BOOK)), found)


def two(one: dict[str, Any], other: dict[str, Any]) -> tuple[Contradiction, ...]:
    """Put two pieces of 20 x 40 mm into one volume."""
    return clashes(
        piece("One"), piece("Two"), placing("1", "One", "Book", 1, one), placing("2", "Two", "Book", 1, other)
    )


def test_two_pieces_on_one_layer_that_overlap_are_told_once_for_all_stages() -> None:
    (clash,) = two(at("-10", "10", layer=1), at("-10", "40", layer=1))
    assert clash.kind == "overlap-on-one-layer"
    assert set(clash.about) == {iri("fragment", "One"), iri("fragment", "Two"), BOOK}
    assert "overlap by 20.0 x 10.0 mm" in clash.words()
    assert "layer 1 on the back of the text block" in clash.words()


@pytest.mark.parametrize(
    "other",
    [
        at("-10", "40", layer=2),
        at("-10", "40"),
        at("-10", "49", layer=1),
        at("-10", "10", layer=1, certainty="inferred"),
        at("-10", "10", "cover-inside", layer=1),
        at("-10", "10", "fold", layer=1),
        at(panel=1, layer=1),
    ],
    ids=[
        "other layer",
        "no layer",
        "within tolerance",
        "inferred",
        "other plane",
        "no gathering",
        "no place",
    ],
)
def test_what_may_well_be_right_is_no_contradiction(other: dict[str, Any]) -> None:
    assert two(at("-10", "10", layer=1), other) == ()


def test_a_photograph_allows_more_than_a_ruler() -> None:
    assert len(two(at("-10", "10", layer=1), at("-10", "47.5", layer=1))) == 1
    assert two(at("-10", "10", layer=1), at("-10", "47.5", layer=1, certainty="from-photograph")) == ()


def test_a_piece_that_reaches_beyond_its_plane_is_told_with_the_edge_and_by_how_much() -> None:
    (clash,) = clashes(piece("Strip"), placing("put", "Strip", "Book", 1, at("0", "10")))
    assert clash.kind == "beyond-the-plane"
    assert "reaches 5.0 mm beyond the edge towards the upper side" in clash.words()
    assert clash.events == (iri("placing", "put"),)


@pytest.mark.parametrize(
    "put",
    [
        placing("put", "Strip", "Book", 1, at("-4.5", "10")),
        placing("put", "Strip", "Book", 1, at("0", "10", certainty="unknown")),
        placing("put", "Strip", "Book", 1, at("0", "10"), folded="Over the joint."),
        placing("put", "Strip", "Book", 1, at("0", "10"), at("0", "10", "cover-inside")),
        placing("put", "Strip", "Book", 1, at("0", "10", "cover-outside")),
    ],
    ids=["within tolerance", "not measured", "folds over", "on two planes", "a plane without limits"],
)
def test_a_piece_within_its_plane_or_folded_over_is_no_contradiction(put: Record) -> None:
    assert clashes(piece("Strip"), put) == ()


def test_a_piece_with_a_fold_along_the_edge_of_its_plane_goes_over_it_and_is_no_contradiction() -> None:
    def folded_at(x: str) -> Record:
        fold = {"id": "#feature-1", "featureKind": "fold", "x": x, "y": "0", "toX": x, "toY": "40"}
        return piece("Strip", features=[fold])

    put = placing("put", "Strip", "Book", 1, at("0", "10"))
    assert clashes(folded_at("15"), put) == ()
    (clash,) = clashes(folded_at("8"), put)
    assert clash.kind == "beyond-the-plane"


def test_the_limits_of_the_cover_outside_hold_inside_where_they_are_mirrored() -> None:
    put = placing("put", "Strip", "Book", 1, at("215", "10", "cover-inside"))
    (clash,) = clashes(piece("Strip"), put, planes=(OUTSIDE,))
    assert "reaches 5.0 mm beyond the edge towards the lower board" in clash.words()


def test_an_outline_that_cannot_be_drawn_is_told_of_the_piece_and_of_its_alteration() -> None:
    line = "POLYGON ((0 0, 10 0, 20 0, 0 0))"
    for records in (
        [piece("Strip", outline=line)],
        [piece("Strip"), alteration("cut", "Strip", outline=line)],
    ):
        (clash,) = outline_clashes(dossier(*records), [iri("fragment", "Strip")])
        assert clash.kind == "outline-unusable"
    assert outline_clashes(dossier(piece("Strip")), [iri("fragment", "Strip")]) == ()
