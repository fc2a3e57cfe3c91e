"""Hypothesis strategies for what may happen to two pieces in two volumes, sense and nonsense alike."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from guardbook.records.event import Event
from tests.binding.bench import alteration, at, iri, move, piece, placing, separation, volume

HOSTS = ("Book", "Other")
PIECES = ("Strip", "Comb")
RECORDS = (
    volume(
        "Book", "1510~", "1650", "2020", planes=[{"plane": "textblock-spine", "left": "-15", "top": "90"}]
    ),
    volume("Other", None, "1700"),
    piece("Strip"),
    piece("Comb", outline="POLYGON ((0 0, 25 0, 25 30, 0 0))"),
)

DATES = (None, "1510", "15XX", "1600~", "1650/1700", "1700/..", "2020-03-01")
PLACES = (
    at(panel=2),
    at("-10", "5.0", layer=1),
    at("-9", "7.5", layer=1, rotation="180", mirrored=True),
    at("4", "0", plane="cover-inside", layer=2),
    at("4", "0", plane="board-inside", side="upper"),
    at(plane=None, gathering=4),
)

_facts = st.fixed_dictionaries(
    {},
    optional={
        "when": st.sampled_from([date for date in DATES if date]),
        "sequence": st.integers(1, 3),
        "status": st.sampled_from(["done", "planned"]),
    },
)


@st.composite
def happenings(draw: st.DrawFn) -> list[Event]:
    """Give up to eight events that name each other's pieces and volumes."""
    return [_event(draw, number) for number in range(draw(st.integers(0, 8)))]


def _event(draw: st.DrawFn, number: int) -> Event:
    name, of = f"event {number}", draw(st.sampled_from(PIECES))
    host = draw(st.sampled_from(HOSTS))
    stage = draw(st.none() | st.integers(1, 4))
    facts: dict[str, Any] = draw(_facts)
    other = f"event {draw(st.integers(0, 8))}"
    match draw(st.sampled_from(["placing", "separation", "alteration", "move"])):
        case "placing":
            returned = draw(
                st.sampled_from([{}, {"returnKind": "put-back-in-place"}, {"returnKind": "kept-apart"}])
            )
            undoes = draw(st.sampled_from([{}, {"undoes": iri("separation", other)}]))
            where = draw(st.lists(st.sampled_from(PLACES), max_size=2))
            return placing(name, of, host, stage, *where, **returned, **undoes, **facts)
        case "separation":
            undoes = draw(st.sampled_from([{}, {"undoes": iri("placing", other)}]))
            return separation(name, of, draw(st.sampled_from([host, None])), stage, **undoes, **facts)
        case "alteration":
            size: dict[str, Any] = draw(st.sampled_from([{}, {"height": "12.0"}, {"positions": [PLACES[1]]}]))
            return alteration(name, of, draw(st.sampled_from([host, None])), stage, **size, **facts)
        case _:
            kind = draw(st.sampled_from(["moved", "sold", "lost", "destroyed"]))
            return move(name, of, moveKind=kind, **facts)
