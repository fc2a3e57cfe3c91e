"""Statements of the store's kind turned into those of rdflib, which the SHACL engine works on."""

from __future__ import annotations

from collections.abc import Iterable

import pyoxigraph as ox
from rdflib import BNode, Graph, Literal, Node, URIRef


def to_graph(triples: Iterable[ox.Triple | ox.Quad]) -> Graph:
    """Give triples, or quads without their graph names, as one rdflib graph; literals keep their text."""
    graph = Graph(bind_namespaces="none")
    for triple in triples:
        graph.add((to_node(triple.subject), URIRef(triple.predicate.value), to_node(triple.object)))
    return graph


def to_node(node: ox.NamedNode | ox.BlankNode | ox.Literal | ox.Triple) -> Node:
    """Give a node of the store as one of rdflib."""
    match node:
        case ox.NamedNode():
            return URIRef(node.value)
        case ox.BlankNode():
            return BNode(node.value)
        case ox.Literal() if node.language:
            return Literal(node.value, lang=node.language)
        case ox.Literal():
            return Literal(node.value, datatype=URIRef(node.datatype.value), normalize=False)
        case _:
            raise TypeError(f"a statement about a statement has no place here: {node}")
