"""Classes and properties of open vocabularies, from their own definitions, and what keeps to them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable
from functools import cache
from pathlib import Path

import pyoxigraph as ox

RDFS = "http://www.w3.org/2000/01/rdf-schema#"
RDF_TYPE = "http://www.w3.org/1999/02/22-rdf-syntax-ns#type"
XSD = "http://www.w3.org/2001/XMLSchema#"
SCHEMA = "http://schema.org/"
LITERAL = RDFS + "Literal"
# what a vocabulary says of a class or property, as one of three
_SAYS = {
    RDFS + "subClassOf": "above",
    RDFS + "domain": "domain",
    RDFS + "range": "range",
    SCHEMA + "domainIncludes": "domain",
    SCHEMA + "rangeIncludes": "range",
}


class Vocabulary:
    """What a vocabulary defines, the classes above each class, the domains and ranges of each property."""

    def __init__(self, path: Path) -> None:
        """Read its N-Quads."""
        self.defined: set[str] = set()
        self.above: dict[str, set[str]] = defaultdict(set)
        self.domain: dict[str, set[str]] = defaultdict(set)
        self.range: dict[str, set[str]] = defaultdict(set)
        self.literals = {LITERAL}
        for quad in ox.parse(path=str(path), format=ox.RdfFormat.N_QUADS):
            if not isinstance(quad.subject, ox.NamedNode):
                continue
            if quad.predicate.value == RDF_TYPE:
                self.defined.add(quad.subject.value)
                if quad.object == ox.NamedNode(SCHEMA + "DataType"):
                    self.literals.add(quad.subject.value)
            elif (said := _SAYS.get(quad.predicate.value)) and isinstance(quad.object, ox.NamedNode):
                getattr(self, said)[quad.subject.value].add(quad.object.value)
        named = {name for names in self.range.values() for name in names}
        self.literals |= {name for name in named if name.startswith(XSD)}
        self.literals |= {name for name in named if not self.literals.isdisjoint(self.all_above(name))}

    def all_above(self, name: str) -> set[str]:
        """Give a class and all those above it."""
        return {name}.union(*(self.all_above(higher) for higher in self.above.get(name, ())))


@cache
def vocabulary(node_readers: Path, name: str) -> Vocabulary:
    """Read a vocabulary out of the folder of the Node packages."""
    return Vocabulary(node_readers / "@vocabulary" / name / f"{name}.nq")


def name_of(node: object) -> str:
    """Give an IRI or the name of a blank node as text, or an empty text for a literal."""
    return node.value if isinstance(node, ox.NamedNode | ox.BlankNode) else ""


def wrongly_said(
    triples: Iterable[ox.Triple],
    known: Vocabulary,
    namespace: str,
    otherwise: Callable[[str], Iterable[str]] = lambda _iri: (),
) -> list[str]:
    """Give the statements in a vocabulary's words that it has no such word for, or that it wants otherwise.

    A property wants a subject of one of its domains and an object of one of its ranges. `otherwise` gives
    the classes of what the statements say no class of; where it gives none either, nothing is wrong.
    """
    listed = list(triples)
    classes: dict[str, set[str]] = defaultdict(set)
    for triple in listed:
        if triple.predicate.value == RDF_TYPE:
            classes[name_of(triple.subject)] |= known.all_above(name_of(triple.object))

    def fits(node: object, wanted: set[str]) -> bool:
        if not wanted or RDFS + "Resource" in wanted:
            return True
        if isinstance(node, ox.Literal):
            return not wanted.isdisjoint(known.literals)
        found = classes.get(name_of(node)) or set(otherwise(name_of(node)))
        return not found or not found.isdisjoint(wanted)

    return [
        fault
        for triple in listed
        if used(triple).startswith(namespace)
        if (fault := _fault(triple, known, fits))
    ]


def used(triple: ox.Triple) -> str:
    """Give the word of a vocabulary that a statement makes use of: its property, or the class it names."""
    return name_of(triple.object) if triple.predicate.value == RDF_TYPE else triple.predicate.value


def _fault(triple: ox.Triple, known: Vocabulary, fits: Callable[[object, set[str]], bool]) -> str | None:
    name = used(triple)
    if name not in known.defined:
        return f"{name} is not defined"
    if not fits(triple.subject, known.domain.get(name, set())):
        return f"domain of {triple}"
    if not fits(triple.object, known.range.get(name, set())):
        return f"range of {triple}"
    return None
