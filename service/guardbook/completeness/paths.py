"""Paths of SHACL (W3C Recommendation 2017, section 2.3.1) as values: read, written as text and as triples."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from rdflib import RDF, SH, BNode, Graph, IdentifiedNode, Node, URIRef
from rdflib.collection import Collection

_ONE_STEP: dict[Node, str] = {
    SH.inversePath: "^",
    SH.zeroOrMorePath: "*",
    SH.oneOrMorePath: "+",
    SH.zeroOrOnePath: "?",
}


@dataclass(frozen=True)
class Path:
    """A path: a property's IRI, or a sign (`^`, `/`, `|`, `*`, `+`, `?`) and the paths it joins."""

    sign: str
    iri: str = ""
    parts: tuple[Path, ...] = ()

    def __str__(self) -> str:
        match self.sign:
            case "":
                return f"<{self.iri}>"
            case "^":
                return f"^{self.parts[0]}"
            case "/" | "|":
                return f"({self.sign.join(map(str, self.parts))})"
            case _:
                return f"{self.parts[0]}{self.sign}"


def read(graph: Graph, node: Node) -> Path:
    """Read the path that starts at a node of a shapes graph."""
    if isinstance(node, URIRef):
        return Path("", str(node))
    if (node, RDF.first, None) in graph:
        return _joined("/", graph, node)
    predicate, value = next(iter(graph.predicate_objects(node)))
    if predicate == SH.alternativePath:
        return _joined("|", graph, value)
    return Path(_ONE_STEP[predicate], parts=(read(graph, value),))


def _joined(sign: str, graph: Graph, head: Node) -> Path:
    return Path(sign, parts=tuple(read(graph, item) for item in graph.items(head)))


def write(path: Path, graph: Graph) -> IdentifiedNode:
    """Write a path into a graph and give the node it starts at."""
    if not path.sign:
        return URIRef(path.iri)
    inner = [write(part, graph) for part in path.parts]
    if path.sign == "/":
        return _list(inner, graph)
    start = BNode()
    predicate = next((name for name, sign in _ONE_STEP.items() if sign == path.sign), SH.alternativePath)
    graph.add((start, predicate, _list(inner, graph) if path.sign == "|" else inner[0]))
    return start


def _list(nodes: list[IdentifiedNode], graph: Graph) -> BNode:
    head = BNode()
    Collection(graph, head, list(nodes))
    return head


def steps(path: Path) -> Iterator[str]:
    """Give the IRI of every property a path goes along, in order."""
    if not path.sign:
        yield path.iri
    for part in path.parts:
        yield from steps(part)
