"""The graph that each viewer may ask: the workshop's of everything, the public's of what is for it.

A workshop's SPARQL query sees the records of other catalogues too, each in its own graph; where they are from
says the graph `BASEharvested`.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Hashable, Iterator
from functools import partial
from pathlib import Path

import pyoxigraph as ox

from guardbook import settings
from guardbook.catalogue.audiences import Viewer
from guardbook.catalogue.harvested.store import HarvestedStore
from guardbook.catalogue.ledger import Ledger
from guardbook.catalogue.projection import Projection
from guardbook.catalogue.public_heads import PublicHeads
from guardbook.catalogue.sparql.copies import Copies
from guardbook.catalogue.sparql.desk import Desk
from guardbook.catalogue.sparql.question import Answer, Question
from guardbook.errors import Busy
from guardbook.records import terms
from guardbook.records.mapping import parse_canonical
from guardbook.wording import _

_PUBLIC_FOLDER, _COPIES_FOLDER, _HARVESTED_FILE = "public-graph", "asked", "harvested.sqlite"
_PATIENCE_SECONDS = 5
_PROV, _DCT = "http://www.w3.org/ns/prov#", "http://purl.org/dc/terms/"


class Datasets:
    """Both graphs of one catalogue; nothing is opened or copied before somebody asks.

    `public_body` gives a record's canonical N-Quads as the public sees it, empty where it does not.
    """

    def __init__(
        self,
        ledger: Ledger,
        projection: Projection,
        public_body: Callable[[str], str],
        folder: Path | None,
    ) -> None:
        self._folder = folder
        self.harvested = HarvestedStore(folder and folder / _HARVESTED_FILE)
        self._lock = threading.Lock()
        self._public_heads = PublicHeads(ledger, public_body)
        self._projections = {Viewer.WORKSHOP: projection}
        self._desk = Desk(settings.current().sparql)
        versions: dict[Viewer, Callable[[], Hashable]] = {
            Viewer.WORKSHOP: lambda: (ledger.sequence, self.harvested.changes),
            Viewer.PUBLIC: lambda: self._public_heads.sequence,
        }
        self._copies = {
            viewer: Copies(
                folder and folder / _COPIES_FOLDER / viewer.value, partial(self._copy, viewer), version
            )
            for viewer, version in versions.items()
        }

    def projection(self, viewer: Viewer) -> Projection:
        """Give the graph that a viewer may ask; the public's is made, or opened, at its first question.

        Raises Busy for whoever else asks while that takes long.
        """
        if not self._lock.acquire(timeout=_PATIENCE_SECONDS):
            raise Busy(message=_("The graph of what is public is being made. Ask again in a little while."))
        try:
            if viewer not in self._projections:
                folder = self._folder and self._folder / _PUBLIC_FOLDER
                self._projections[viewer] = Projection(self._public_heads, folder)
            return self._projections[viewer]
        finally:
            self._lock.release()

    def answer(self, question: Question, viewer: Viewer) -> Answer:
        """Answer a SPARQL query over what this viewer may see. Raises as `Desk.answer`."""
        with self._copies[viewer].borrowed() as copy:
            return self._desk.answer(question, copy)

    def _copy(self, viewer: Viewer, folder: Path) -> None:
        self.projection(viewer).ask(lambda graph: graph.copy_to(folder))
        store = ox.Store(str(folder))
        store.extend(vocabulary())
        if viewer is Viewer.WORKSHOP:
            store.bulk_extend(_told_elsewhere(self.harvested))
        store.flush()

    def close(self) -> None:
        """Remove the copies and let go of the public's graph; the workshop's is not ours."""
        for copies in self._copies.values():
            copies.close()
        self.harvested.close()
        if public := self._projections.get(Viewer.PUBLIC):
            public.close()


def _told_elsewhere(harvested: HarvestedStore) -> Iterator[ox.Quad]:
    """Give the graphs of records of other catalogues, and one graph that says of each where it is from."""
    told_in = ox.NamedNode(f"{settings.current().base}harvested")
    for record in harvested.living():
        yield from parse_canonical(record.body)
        named = ox.NamedNode(record.iri)
        yield ox.Quad(named, ox.NamedNode(f"{_PROV}hadPrimarySource"), ox.NamedNode(record.source), told_in)
        yield ox.Quad(named, ox.NamedNode(f"{_DCT}isPartOf"), ox.NamedNode(record.feed), told_in)
        if record.licence:
            yield ox.Quad(named, ox.NamedNode(f"{_DCT}license"), ox.Literal(record.licence), told_in)


def vocabulary() -> list[ox.Quad]:
    """Give the ontology and the trade terms, each in a graph of its own, for questions to join with."""
    ontology = settings.current().shapes / "ontology.ttl"
    found = [(ontology, settings.NAMESPACE.removesuffix("#"))]
    found += [(path, settings.TERMS) for folder in terms.folders() for path in sorted(folder.glob("*.ttl"))]
    return [
        ox.Quad(quad.subject, quad.predicate, quad.object, ox.NamedNode(graph))
        for path, graph in found
        for quad in ox.parse(path=str(path), format=ox.RdfFormat.TURTLE)
        if isinstance(quad.subject, ox.NamedNode) and quad.subject.value.startswith(graph)
    ]
