"""The graph: the newest revisions as named graphs, for questions that join records. It can be thrown away."""

from __future__ import annotations

import threading
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import NamedTuple, Protocol

import pyoxigraph as ox

from guardbook.catalogue import chain
from guardbook.catalogue.ledger import Mark
from guardbook.catalogue.questions import Checked, checked
from guardbook.errors import QueryRefused
from guardbook.wording import _

Term = ox.NamedNode | ox.BlankNode | ox.Literal | ox.Triple
Answer = Mapping[str, Term]

_RESERVED = ox.NamedNode("urn:guardbook:graph")
_SEQUENCE = ox.NamedNode("urn:guardbook:sequence")
_CHAIN = ox.NamedNode("urn:guardbook:chain")


UNMARKED = Mark(0, chain.START)


class Replacement(NamedTuple):
    """What a record's graph is to hold from now on; nothing, where the record was taken out."""

    iri: str
    quads: Sequence[ox.Quad]


class Graph(Protocol):
    """What the catalogue asks of an RDF store. Errors of the store are raised as OSError."""

    def mark(self) -> Mark | None:
        """Give how far it has come, or None where that cannot be told."""

    def replace(self, replacements: Iterable[Replacement], mark: Mark) -> None:
        """Put new contents in place of the old, and move the mark, all at once."""

    def fill(self, replacements: Iterable[Replacement]) -> None:
        """Fill an empty graph, quickly; what is cut short has no mark, and is done again."""

    def select(self, question: str) -> list[Answer]:
        """Answer a SELECT. Raises QueryRefused for one that reaches beyond the named graphs."""

    def quads(self, iri: str) -> list[ox.Quad]:
        """Give what the graph of a record holds."""

    def names(self) -> frozenset[str]:
        """Give the names of all graphs of records."""

    def copy_to(self, folder: Path) -> None:
        """Write a copy of the graphs of records into a folder that is not there yet."""

    def close(self) -> None:
        """Write out what is not yet on the disk, and let go of the store."""


@contextmanager
def _store_errors() -> Iterator[None]:
    """A damaged store raises RuntimeError, one that cannot be read or written OSError: to us they are one."""
    try:
        yield
    except RuntimeError as error:
        raise OSError(str(error)) from error


class OxigraphGraph:
    """The graph in pyoxigraph, in a folder or (None) in memory.

    Its store loses updates between threads without one lock round every write; reading needs none.
    """

    def __init__(self, folder: Path | None) -> None:
        with _store_errors():
            self._opened: ox.Store | None = ox.Store(str(folder)) if folder else ox.Store()
        self._on_disk = folder is not None
        self._lock = threading.Lock()

    @property
    def _store(self) -> ox.Store:
        if self._opened is None:
            raise OSError("the graph was closed meanwhile")
        return self._opened

    def mark(self) -> Mark | None:
        """Give how far it has come, or None where that cannot be told."""
        found = {
            quad.predicate: quad.object.value
            for quad in self.quads(_RESERVED.value)
            if isinstance(quad.object, ox.Literal)
        }
        if not found:
            return None if self.names() else UNMARKED
        if found.keys() != {_SEQUENCE, _CHAIN}:
            return None
        return Mark(int(found[_SEQUENCE]), found[_CHAIN])

    def replace(self, replacements: Iterable[Replacement], mark: Mark) -> None:
        """Put new contents in place of the old, and move the mark, in one update, which is atomic."""
        marked = Replacement(_RESERVED.value, _mark_quads(mark))
        steps = [_step(replacement) for replacement in (*replacements, marked)]
        with self._lock, _store_errors():
            self._store.update(" ;\n".join(steps))

    def fill(self, replacements: Iterable[Replacement]) -> None:
        """Fill an empty graph in bulk, which is not atomic: until it is marked it counts as damaged."""
        with self._lock, _store_errors():
            self._store.bulk_extend(quad for replacement in replacements for quad in replacement.quads)

    def select(self, question: str) -> list[Answer]:
        """Answer a SELECT. Raises QueryRefused for one that reaches beyond the named graphs."""
        allowed = question if isinstance(question, Checked) else checked(question)
        return self._answers(allowed)

    def _answers(self, question: Checked) -> list[Answer]:
        """Ask the store in a call of its own: the parser's cache keeps its callers, and so all they hold."""
        with _store_errors():
            try:
                found = self._store.query(question)
            except SyntaxError as error:
                raise QueryRefused(
                    message=_("The question was not understood: {reason}").format(reason=error)
                ) from error
            if not isinstance(found, ox.QuerySolutions):
                raise QueryRefused(message=_("Expected a SELECT, found another kind of question."))
            names = [variable.value for variable in found.variables]
            return [{name: term for name in names if (term := row[name]) is not None} for row in found]

    def quads(self, iri: str) -> list[ox.Quad]:
        """Give what the graph of a record holds."""
        with _store_errors():
            return list(self._store.quads_for_pattern(None, None, None, ox.NamedNode(iri)))

    def names(self) -> frozenset[str]:
        """Give the names of all graphs of records."""
        with _store_errors():
            return frozenset(name.value for name in self._store.named_graphs()) - {_RESERVED.value}

    def copy_to(self, folder: Path) -> None:
        """Write a copy of the graphs of records: on one disk its files are shared, which takes no time."""
        with self._lock, _store_errors():
            if self._on_disk:
                self._store.backup(str(folder))
            copy = ox.Store(str(folder))
            if not self._on_disk:
                copy.bulk_extend(self._store)
            copy.remove_graph(_RESERVED)
            copy.flush()

    def close(self) -> None:
        """Write out what is not yet on the disk, and let go of the store."""
        with self._lock:
            try:
                if self._opened and self._on_disk:
                    self._opened.flush()
            finally:
                self._opened = None


def _mark_quads(mark: Mark) -> tuple[ox.Quad, ...]:
    return (
        ox.Quad(_RESERVED, _SEQUENCE, ox.Literal(str(mark.sequence)), _RESERVED),
        ox.Quad(_RESERVED, _CHAIN, ox.Literal(mark.chain), _RESERVED),
    )


def _step(replacement: Replacement) -> str:
    name = str(ox.NamedNode(replacement.iri))
    triples = "\n".join(f"{quad.subject} {quad.predicate} {quad.object} ." for quad in replacement.quads)
    return f"DROP SILENT GRAPH {name} ;\nINSERT DATA {{ GRAPH {name} {{\n{triples}\n}} }}"
