"""Records for trying the replay: a volume, pieces, and events with short names that become identifiers."""

from __future__ import annotations

import zlib
from decimal import Decimal
from typing import Any

from guardbook.binding.dossier import Dossier
from guardbook.records.agent import Institution
from guardbook.records.alteration import Alteration
from guardbook.records.base import Record
from guardbook.records.documents import from_document
from guardbook.records.fragment import Fragment
from guardbook.records.host import HostVolume
from guardbook.records.identifiers import DIGITS, LENGTH, check_symbol
from guardbook.records.move import Move
from guardbook.records.placing import Placing, Position
from guardbook.records.separation import Separation
from guardbook.settings import DEFAULT_BASE


def iri(kind: str, name: str) -> str:
    """Give the same valid identifier for the same name each time."""
    number = zlib.crc32(name.encode())
    while True:
        digits = "".join(DIGITS[number >> 5 * place & 31] for place in range(LENGTH))
        if (symbol := check_symbol(digits)).isalnum():
            return f"{DEFAULT_BASE}{kind}/{digits}-{symbol}"
        number += 1


def made(kind: type[Record], called: str, /, **fields: Any) -> Any:
    """Make a record from the fields of its JSON document."""
    return from_document({"id": iri(kind.kind, called), "type": kind.__name__, "title": called, **fields})


def stage(host: str, number: int) -> str:
    """Name a stage of a volume."""
    return f"{iri('host', host)}#stage-{number}"


def volume(name: str, *dates: str | None, **fields: Any) -> HostVolume:
    """Make a volume with a stage for each date (None for one without), the first when it was bound."""
    kinds = ["bound", *["repaired"] * len(dates)]
    stages = [
        {"id": f"#stage-{n}", "number": n, "stageKind": kind, **({"when": when} if when else {})}
        for n, (kind, when) in enumerate(zip(kinds, dates, strict=False), start=1)
    ]
    found: HostVolume = made(HostVolume, name, stages=stages, **fields)
    return found


def piece(name: str, height: str | None = "40.0", width: str | None = "20.0", **fields: Any) -> Fragment:
    """Make a piece, 40 x 20 mm where nothing else is said."""
    size = {"height": height, "width": width}
    found: Fragment = made(Fragment, name, **{key: value for key, value in size.items() if value}, **fields)
    return found


def at(
    x: str | None = None, y: str | None = None, plane: str | None = "textblock-spine", **fields: Any
) -> Any:
    """Give a position as it stands in a document."""
    given = {"x": x, "y": y, "plane": plane, "certainty": "measured", **fields}
    return {key: value for key, value in given.items() if value is not None}


def position(*args: str, **fields: Any) -> Position:
    """Give a position as a record holds it."""
    return Position.model_validate({"id": "#position-1", **at(*args, **fields)})


def _event(kind: type[Record], name: str, host: str | None, number: int | None, **fields: Any) -> Any:
    place = {"host": iri("host", host)} if host else {}
    if host and number is not None:
        place["stage"] = stage(host, number)
    return made(kind, name, **place, **fields)


def placing(name: str, of: str, host: str, number: int | None = 1, *where: Any, **fields: Any) -> Placing:
    """Put a piece into a volume, leading to a stage."""
    body = {"piece": iri("fragment", of), "positions": list(where), **fields}
    found: Placing = _event(Placing, name, host, number, **body)
    return found


def separation(name: str, of: str, host: str | None, number: int | None = 2, **fields: Any) -> Separation:
    """Take a piece out of a volume, leading to a stage."""
    found: Separation = _event(Separation, name, host, number, piece=iri("fragment", of), **fields)
    return found


def alteration(
    name: str, of: str, host: str | None = None, number: int | None = None, **fields: Any
) -> Alteration:
    """Alter a piece, in a volume or outside."""
    found: Alteration = _event(Alteration, name, host, number, target=iri("fragment", of), **fields)
    return found


def move(name: str, of: str, **fields: Any) -> Move:
    """Move a piece."""
    found: Move = made(Move, name, object=iri("fragment", of), **fields)
    return found


def library(name: str) -> Institution:
    """Make an institution."""
    found: Institution = made(Institution, name, name=name)
    return found


def dossier(*records: Record) -> Dossier:
    """Lay records side by side."""
    return Dossier.of(records)


def mm(text: str) -> Decimal:
    """Read a length."""
    return Decimal(text)
