"""pySHACL, with the shapes parsed once and only those looked at that can say something about the data.

`pyshacl.validate` reads all shapes anew at every call. Here each part of the shapes is compiled once in a
process. A property shape is passed over for a node without a value for its path where no constraint of the
shape can fail on nothing (W3C SHACL 2017, section 4: only minimum counts, `hasValue` and `equals` can).
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

from pyshacl.constraints import ALL_CONSTRAINT_PARAMETERS
from pyshacl.pytypes import SHACLExecutor
from pyshacl.shape import Shape
from pyshacl.shapes_graph import ShapesGraph
from rdflib import RDF, SH, Graph, Node, URIRef

from guardbook import settings
from guardbook.completeness import paths
from guardbook.completeness.finding import Finding
from guardbook.completeness.shape_files import SHACL, own_files, read
from guardbook.completeness.terms_in_rdflib import to_graph
from guardbook.completeness.workshop import workshop_shapes

_PARAMETERS = frozenset(ALL_CONSTRAINT_PARAMETERS)
_FAIL_ON_NOTHING = frozenset(
    {SH.minCount, SH.hasValue, SH.equals, SH.qualifiedValueShape, SH.qualifiedMinCount, SH.closed, SH.sparql}
)
_FOR_PEOPLE = frozenset(map(str, (SH.name, SH.description, SH.group, SH.order)))
_FOR_THE_ENGINE = (SHACL, "http://www.w3.org/1999/02/22-rdf-syntax-ns#")


@dataclass(frozen=True)
class _Check:
    """A shape to run on the nodes of a class; `only_with` is the property without which it says nothing."""

    shape: Shape
    only_with: Node | None = None


@dataclass(frozen=True)
class Compiled:
    """The shapes of one part, ready to run: by the class they are for, and those with other targets."""

    graph: Graph
    by_class: Mapping[Node, tuple[_Check, ...]]
    others: tuple[Shape, ...]


def compiled(part: str) -> Compiled:
    """Give the shapes of a part (`structure` or a stage), ours and the workshop's. Raises BrokenShapes."""
    here = settings.current()
    return _compiled(part, here.shapes, here.workshop_shapes)


@lru_cache(maxsize=16)
def _compiled(part: str, _ours: Path, workshop: Path | None) -> Compiled:
    own = [triple for path in own_files(part) for triple in read(path)]
    added = workshop_shapes(workshop).added.get(part, ())
    graph = to_graph(triple for triple in [*own, *added] if _is_for_the_engine(triple.predicate.value))
    shapes = ShapesGraph(graph)
    by_class: dict[Node, list[_Check]] = defaultdict(list)
    others = []
    for shape in shapes.shapes:
        for target in shape.target_classes():
            by_class[target] += _checks(shape, shapes)
        if any((*shape.target_nodes(), *shape.target_objects_of(), *shape.target_subjects_of())):
            others.append(shape)
    return Compiled(graph, {target: tuple(checks) for target, checks in by_class.items()}, tuple(others))


def _is_for_the_engine(predicate: str) -> bool:
    return predicate.startswith(_FOR_THE_ENGINE) and predicate not in _FOR_PEOPLE


def _checks(shape: Shape, shapes: ShapesGraph) -> Iterator[_Check]:
    """Take a node shape that does nothing but list property shapes apart into them."""
    graph: Graph = shapes.graph
    if _parameters(graph, shape.node) != {SH.property} or shape.is_property_shape or shape.deactivated:
        yield _Check(shape)
        return
    for node in graph.objects(shape.node, SH.property):
        path = graph.value(node, SH.path)
        plain = isinstance(path, URIRef) and not _parameters(graph, node) & _FAIL_ON_NOTHING
        yield _Check(shapes.lookup_shape_from_node(node), path if plain else None)


def _parameters(graph: Graph, node: Node) -> set[Node]:
    return set(graph.predicates(node)) & _PARAMETERS


def findings(graph: Graph, part: str) -> list[Finding]:
    """Check a graph against the shapes of a part.

    The graph holds no ill-typed literals (see `literals`): the engine falls over them.
    """
    shapes = compiled(part)
    executor = SHACLExecutor()
    having = cache(lambda predicate: set(graph.subjects(predicate)))
    raw: list[Any] = []
    for target in set(graph.objects(None, RDF.type)) & set(shapes.by_class):
        nodes = set(graph.subjects(RDF.type, target))
        for check in shapes.by_class[target]:
            focus: Any = nodes if check.only_with is None else [*nodes & having(check.only_with)]
            if focus:
                raw += check.shape.validate(executor, graph, focus=focus)[1]
    for shape in shapes.others:
        raw += shape.validate(executor, graph)[1]
    return [_finding(node, triples, shapes.graph) for _, node, triples in raw]


def _finding(result: Node, triples: Iterable[Any], shapes: Graph) -> Finding:
    """Read the triples of one result; detail results nested in it are not looked at."""
    rows: dict[Node, list[Any]] = defaultdict(list)
    for subject, predicate, value in triples:
        if subject == result:
            rows[predicate].append(value[1] if isinstance(value, tuple) else value)
    shape = rows[SH.sourceShape][0]
    path = rows.get(SH.resultPath)
    value = rows.get(SH.value)
    finding = Finding(
        focus=str(rows[SH.focusNode][0]),
        path=paths.read(shapes, path[0]) if path else None,
        severity=str(rows[SH.resultSeverity][0]),
        component=str(rows[SH.sourceConstraintComponent][0]),
        shape=str(shape),
        value=str(value[0]) if value else None,
        messages=tuple(sorted(str(message) for message in rows[SH.resultMessage])),
    )
    limits = shapes.objects(shape, SH[finding.parameter])
    return replace(finding, limit=", ".join(str(limit) for limit in limits))
