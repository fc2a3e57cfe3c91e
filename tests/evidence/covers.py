"""A volume in a parchment cover, with holes, folds and edges where a test wants them.

The cover is 460 x 330 mm and lies from x = -230 to 230 and y = -15 to 315 on the outside of the cover; the
leaves are 300 x 205 mm, the text block and the spine 46 mm.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from guardbook.evidence.evidence import Evidence, evidence_of
from guardbook.evidence.readings import Claim
from guardbook.records.base import Record
from tests.binding.bench import at, dossier, iri, piece, placing, volume
from tests.evidence.shelf import BOOK

LEFT, BOTTOM = -230.0, -15.0
HALF = 23.0
STATIONS = (50.0, 150.0, 250.0)
OLD = (70.0, 170.0, 265.0)
COVER = iri("fragment", "Cover")

Trace = dict[str, Any]


def hole(kind: str, x: float, y: float) -> Trace:
    """Put a hole through the cover at a point of the plane."""
    return {"featureKind": kind, "x": f"{x - LEFT:.1f}", "y": f"{y - BOTTOM:.1f}", "goesThrough": True}


def line(kind: str, x: float, y: float, to_x: float, to_y: float) -> Trace:
    """Put a fold or an edge on the cover, from point to point of the plane."""
    end = {"toX": f"{to_x - LEFT:.1f}", "toY": f"{to_y - BOTTOM:.1f}"}
    return {**hole(kind, x, y), **end}


def rows(apart: float, heights: Iterable[float], kind: str = "lacing-hole", off: float = 0.0) -> list[Trace]:
    """Put two rows of holes along the spine."""
    return [hole(kind, off + side * apart / 2, y) for y in heights for side in (-1, 1)]


def joints(apart: float = 2 * HALF) -> list[Trace]:
    """Fold the cover at both edges of the spine."""
    return [line("fold", side * apart / 2, BOTTOM, side * apart / 2, 315) for side in (-1, 1)]


def turn_ins(*edges: str) -> list[Trace]:
    """Fold the cover in at these edges: head, tail, upper and lower fore-edge."""
    lines = {
        "tail": (LEFT, 0, 230, 0),
        "head": (LEFT, 300, 230, 300),
        "upper": (215, BOTTOM, 215, 315),
        "lower": (-215, BOTTOM, -215, 315),
    }
    return [line("fold", *lines[edge]) for edge in edges]


SEWN = rows(2 * HALF, STATIONS)


LOOKED_OVER = [{"id": "#answer-1", "asked": "features", "answer": "looked-for-not-found"}]


def bound(
    traces: Iterable[Trace] = (),
    *more: Record,
    stages: int = 1,
    series: Iterable[Any] = (),
    looked_over: bool = False,
    **fields: Any,
) -> tuple[Record, ...]:
    """Make the volume in its cover, with these traces on it and, where it was looked over, no others."""
    features = [{"id": f"#feature-{number}", **trace} for number, trace in enumerate(traces, start=1)]
    answers = LOOKED_OVER if looked_over else []
    cover = piece("Cover", "330.0", "460.0", features=features, series=list(series), answers=answers)
    put = placing(
        "covered", "Cover", "Book", 1, at("-230.0", "-15.0", "cover-outside", layer=1), function="cover"
    )
    size = {"height": "300.0", "width": "205.0", "thickness": "46.0", "spineWidth": "46.0"}
    sewn = [{"id": f"#station-{n}", "y": str(y)} for n, y in enumerate(STATIONS, start=1)]
    lies = [{"id": "#registration-1", "stage": f"{BOOK}#stage-1", "dx": "0", "dy": "0"}]
    given = {**size, "stations": sewn, "registrations": lies, **fields}
    book = volume(
        "Book", *[None] * stages, **{key: value for key, value in given.items() if value is not None}
    )
    return book, cover, put, *more


def read(*records: Record, about: str = BOOK) -> Evidence:
    """Read the evidence among some records."""
    return evidence_of(dossier(*records), about)


def claim(found: Evidence, name: str) -> Claim | None:
    """Give a claim of the evidence, or None."""
    return next((one for one in found.claims if one.claim == name), None)


def status(found: Evidence, name: str) -> str | None:
    """Say how a claim stands, None where there is none."""
    one = claim(found, name)
    return one.status if one else None
