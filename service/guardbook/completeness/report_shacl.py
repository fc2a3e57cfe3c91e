"""A report as a standard SHACL validation report in Turtle (W3C SHACL 2017, section 3.6)."""

from __future__ import annotations

from rdflib import RDF, SH, BNode, Graph, Literal, URIRef

from guardbook import settings
from guardbook.completeness import paths
from guardbook.completeness.outcome import Missing, Outcome
from guardbook.completeness.shape_files import SHAPES


def in_turtle(report: Outcome) -> str:
    """Give the report as Turtle; what was answered instead is no result."""
    graph = Graph(bind_namespaces="none")
    for prefix, start in (("sh", str(SH)), ("gb", settings.NAMESPACE), ("shape", SHAPES)):
        graph.bind(prefix, start)
    node = BNode()
    graph.add((node, RDF.type, SH.ValidationReport))
    graph.add((node, SH.conforms, Literal(not report.missing)))
    for item in report.missing:
        graph.add((node, SH.result, _result(item, graph)))
    return graph.serialize(format="turtle")


def _result(item: Missing, graph: Graph) -> BNode:
    node, found = BNode(), item.finding
    graph.add((node, RDF.type, SH.ValidationResult))
    graph.add((node, SH.focusNode, URIRef(found.focus)))
    graph.add((node, SH.resultSeverity, URIRef(found.severity)))
    graph.add((node, SH.sourceConstraintComponent, URIRef(found.component)))
    graph.add((node, SH.resultMessage, Literal(item.message, lang="en")))
    if found.path:
        graph.add((node, SH.resultPath, paths.write(found.path, graph)))
    if found.shape.startswith("http"):
        graph.add((node, SH.sourceShape, URIRef(found.shape)))
    return node
