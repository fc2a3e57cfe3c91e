"""A choir book with many pieces, each recorded as fully as those of the demonstration, that came and went."""

from __future__ import annotations

from decimal import Decimal

from guardbook.actions.load_demo import demo_records
from guardbook.records.base import Record
from guardbook.records.fragment import Fragment
from guardbook.records.placing import Placing, Position
from guardbook.records.separation import Separation
from tests.binding.bench import iri, stage, volume

# 0.9 x 0.6 m of cover in cells, one piece to a cell and layer, so that none lies in the place of another
CELL_MM, ACROSS, UP = 110, 8, 5


def large_volume(pieces: int, stages: int) -> tuple[Record, ...]:
    """Make a volume of so many pieces: all come by the stage in the middle, and have left by the last."""
    dates = [str(1500 + number) for number in range(stages)]
    host = volume("Book", *dates, height="600", width="420", spineWidth="80")
    patterns = _patterns()
    made: list[Record] = [host]
    for number in range(pieces):
        made += _renamed(number, patterns[number % len(patterns)], stages)
    return tuple(made)


def _patterns() -> list[tuple[Fragment, Placing, Separation]]:
    """Give each piece of the demonstration that fits a cell, with its first placing and separation."""
    records = demo_records()
    put = {one.piece: one for one in reversed(records) if isinstance(one, Placing)}
    off = {
        one.piece: one
        for one in reversed(records)
        if isinstance(one, Separation) and one.separation_kind != "lifted-and-returned"
    }
    return [
        (one, put[one.id], off[one.id])
        for one in records
        if isinstance(one, Fragment)
        and one.id in put.keys() & off.keys()
        and 0 < max(one.height or 0, one.width or 0) <= CELL_MM - 5
    ]


def _renamed(number: int, pattern: tuple[Fragment, Placing, Separation], stages: int) -> tuple[Record, ...]:
    piece, put, off = pattern
    name = iri("fragment", f"piece {number}")
    layer, cell = divmod(number, ACROSS * UP)
    across, up = cell % ACROSS, cell // ACROSS
    where = Position(
        id="#position-1",
        plane="cover-inside",
        x=Decimal(across * CELL_MM - ACROSS * CELL_MM // 2 + 3 * layer),
        y=Decimal(up * CELL_MM + 4 * layer),
        rotation=Decimal(0),
        mirrored=False,
        layer=layer + 1,
        certainty="measured",
    )
    host = iri("host", "Book")
    came, left = 1 + number % (stages // 2), stages - number % (stages // 2)
    return (
        piece.model_copy(update={"id": name, "title": f"{piece.title}, {number}"}),
        put.model_copy(
            update={
                "id": iri("placing", f"put {number}"),
                "piece": name,
                "host": host,
                "stage": stage("Book", came),
                "positions": (where,),
                "when": None,
            }
        ),
        off.model_copy(
            update={
                "id": iri("separation", f"off {number}"),
                "piece": name,
                "host": host,
                "stage": stage("Book", left),
                "when": None,
                "undoes": iri("placing", f"put {number}"),
            }
        ),
    )
