"""Our own shapes files. One that cannot be read stops everything, since nothing could be trusted then."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from functools import lru_cache
from pathlib import Path

import pyoxigraph as ox

from guardbook import settings
from guardbook.errors import BrokenShapes
from guardbook.wording import _

STAGES = ("on-sight", "before-lifting", "after-lifting", "ready-to-share")
STRUCTURE = "structure"

SHACL = "http://www.w3.org/ns/shacl#"
SHAPES = "https://w3id.org/guardbook/shapes/"

Node = ox.NamedNode | ox.BlankNode | ox.Literal | ox.Triple
Statements = Mapping[Node, Mapping[str, tuple[Node, ...]]]


def own_files(part: str) -> tuple[Path, ...]:
    """Give our files of a part: the folder `structure`, or the one file of a stage."""
    shapes = settings.current().shapes
    if part == STRUCTURE:
        return tuple(sorted((shapes / STRUCTURE).glob("*.ttl")))
    return (shapes / f"{part}.ttl",)


def read(path: Path) -> tuple[ox.Triple, ...]:
    """Read one Turtle file. Raises BrokenShapes naming it, with line and column."""
    try:
        return tuple(quad.triple for quad in ox.parse(path=str(path), format=ox.RdfFormat.TURTLE))
    except (SyntaxError, ValueError, OSError) as error:
        told = _("{file} cannot be read: {reason}")
        raise BrokenShapes(message=told.format(file=path.name, reason=error)) from error


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
