"""Load the invented scenario of `demo_graph/` into a catalogue."""

from __future__ import annotations

from collections import defaultdict
from pathlib import Path

import pyoxigraph as ox

from guardbook import settings
from guardbook.actions.save_records import save_records
from guardbook.catalogue.access import Access
from guardbook.errors import NotFound, UnreadableFile
from guardbook.records.base import Record
from guardbook.records.mapping import from_quads
from guardbook.wording import said_later


def load_demo(access: Access, *, if_empty: bool) -> int:
    """Save the records of the demonstration that this catalogue has never had; give how many those were.

    What is already there, changed or taken out stays as it is. With `if_empty`, nothing is loaded into a
    catalogue that holds any record. Raises as `save_records`, and UnreadableFile naming a broken file.
    """
    if if_empty and access.sequence:
        return 0
    told = demo_records()
    new = [record for record in told if not _was_here(access, record.id)] if access.sequence else told
    drafts = [(record, None) for record in new]
    if drafts:
        save_records(access, drafts, who="Guardbook", what_for=said_later("Demonstration loaded"), sure=True)
    return len(drafts)


def demo_records() -> tuple[Record, ...]:
    """Give the records of the demonstration under this instance's base, in the order in which they are told.

    Raises UnreadableFile with the file and line of a fault in the Turtle, InvalidRecord for a faulty record.
    """
    graphs: dict[str, list[ox.Quad]] = defaultdict(list)
    for path in sorted(settings.current().demo.glob("*.ttl")):
        for quad in _read(path):
            graphs[_at_home(quad.subject).value.partition("#")[0]].append(_moved_home(quad))
    return tuple(from_quads(quads) for quads in graphs.values())


def _was_here(access: Access, iri: str) -> bool:
    try:
        return bool(access.history(iri))
    except NotFound:
        return False


def _read(path: Path) -> list[ox.Quad]:
    try:
        return list(ox.parse(path=str(path), format=ox.RdfFormat.TURTLE))
    except (SyntaxError, OSError) as error:
        raise UnreadableFile(message=f"{path.name} cannot be read: {error}") from error


def _moved_home(quad: ox.Quad) -> ox.Quad:
    """Put a statement written under the base of the files under the base of this instance."""
    value = quad.object
    return ox.Quad(
        _at_home(quad.subject), quad.predicate, _at_home(value) if isinstance(value, ox.NamedNode) else value
    )


def _at_home(term: object) -> ox.NamedNode:
    if not isinstance(term, ox.NamedNode):
        raise UnreadableFile(message=f"The demonstration holds no blank nodes, but {term} was found.")
    short = term.value.removeprefix(settings.DEFAULT_BASE)
    return term if short == term.value else ox.NamedNode(settings.current().base + short)
