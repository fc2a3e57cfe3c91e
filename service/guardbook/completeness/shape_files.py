"""The shapes files: ours, and a workshop's own folder read beside them.

One of our own files that cannot be read stops everything, since nothing could be trusted. A workshop's
file that cannot be read is skipped, and every report says so, by name.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import pyoxigraph as ox

from guardbook import settings
from guardbook.errors import BrokenShapes

STAGES = ("on-sight", "before-lifting", "after-lifting", "ready-to-share")
STRUCTURE = "structure"

SH = "http://www.w3.org/ns/shacl#"
SHAPES = "https://w3id.org/guardbook/shapes/"

Node = ox.NamedNode | ox.BlankNode | ox.Literal | ox.Triple
Statements = Mapping[Node, Mapping[str, tuple[Node, ...]]]


@dataclass(frozen=True)
class Skipped:
    """A workshop's shapes file that was left out, and why."""

    file: str
    reason: str

    def __str__(self) -> str:
        return f"{self.file} was left out: {self.reason}"


def own_files(part: str) -> tuple[Path, ...]:
    """Give our files of a part: the folder `structure`, or the one file of a stage."""
    shapes = settings.current().shapes
    if part == STRUCTURE:
        return tuple(sorted((shapes / STRUCTURE).glob("*.ttl")))
    return (shapes / f"{part}.ttl",)


def workshop_files() -> tuple[Path, ...]:
    """Give the Turtle files of the workshop's own folder, which may hold shapes and terms."""
    folder = settings.current().workshop_shapes
    return tuple(sorted(folder.glob("*.ttl"))) if folder else ()


def read(path: Path) -> tuple[ox.Triple, ...]:
    """Read one Turtle file. Raises BrokenShapes naming it, with line and column."""
    try:
        return tuple(quad.triple for quad in ox.parse(path=str(path), format=ox.RdfFormat.TURTLE))
    except (SyntaxError, ValueError, OSError) as error:
        raise BrokenShapes(message=f"{path.name} cannot be read: {error}") from error


def statements(triples: Iterable[ox.Triple]) -> Statements:
    """Sort triples by subject and predicate, in the order in which they were written."""
    found: dict[Node, dict[str, list[Node]]] = defaultdict(lambda: defaultdict(list))
    for triple in triples:
        found[triple.subject][triple.predicate.value].append(triple.object)
    return {subject: {name: tuple(nodes) for name, nodes in rows.items()} for subject, rows in found.items()}


@lru_cache(maxsize=8)
def own_statements(part: str) -> Statements:
    """Give what our files of a part say, by subject and predicate. Raises BrokenShapes."""
    return statements(triple for path in own_files(part) for triple in read(path))
