"""A workshop's own shapes, read beside ours: checked first, and left out by name where they cannot be used.

A file says by the start of its name what it adds to: `structure`, or one of the stages, as in
`before-lifting-our-photographs.ttl`. Only the core of SHACL is read (W3C Recommendation 2017, section 4),
so that no file can run queries or programs. Files that hold trade terms and no shapes pass through. The
folder is read once in a process.
"""

from __future__ import annotations

import re
import warnings
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import pyoxigraph as ox
import pyshacl
from pyshacl.constraints import ALL_CONSTRAINT_PARAMETERS
from pyshacl.entrypoints import meta_validate
from pyshacl.errors import ReportableRuntimeError
from rdflib import RDF, SH, Graph, URIRef

from guardbook.completeness.shape_files import SHACL, STAGES, STRUCTURE, read
from guardbook.completeness.terms_in_rdflib import to_graph, to_node
from guardbook.errors import BrokenShapes
from guardbook.wording import LANGUAGES, _, language

_TARGETS = {SH.targetClass, SH.targetNode, SH.targetSubjectsOf, SH.targetObjectsOf}
_PATHS = {SH.path, SH.inversePath, SH.alternativePath, SH.zeroOrMorePath, SH.oneOrMorePath, SH.zeroOrOnePath}
_WORDS = {SH.name, SH.description, SH.message, SH.group, SH.order, SH.defaultValue}
_MANNERS = {SH.flags, SH.severity, SH.deactivated}
CORE = frozenset(map(str, {*ALL_CONSTRAINT_PARAMETERS, *_TARGETS, *_PATHS, *_WORDS, *_MANNERS} - {SH.sparql}))


@dataclass(frozen=True)
class Skipped:
    """A workshop's shapes file that was left out, and why."""

    file: str
    reason: str

    def __str__(self) -> str:
        return _("{file} was left out: {reason}").format(file=self.file, reason=self.reason)


@dataclass(frozen=True)
class WorkshopShapes:
    """What a workshop's folder adds to each part, and the files that were left out."""

    added: Mapping[str, tuple[ox.Triple, ...]]
    skipped: tuple[Skipped, ...] = ()


def workshop_shapes(folder: Path | None) -> WorkshopShapes:
    """Read a workshop's folder (None: nothing). A file that cannot be used is skipped, never raised."""
    return _workshop_shapes(folder, language())


@lru_cache(maxsize=4 * len(LANGUAGES))
def _workshop_shapes(folder: Path | None, _language: str) -> WorkshopShapes:
    """Read it once a language: the reasons why a file is skipped are told in it."""
    added: dict[str, tuple[ox.Triple, ...]] = {}
    skipped = []
    for path in sorted(folder.glob("*.ttl")) if folder else ():
        try:
            triples = read(path)
            if _has_shapes(triples):
                part = _part(path)
                _refuse_unusable(triples)
                added[part] = added.get(part, ()) + triples
        except BrokenShapes as error:
            skipped.append(Skipped(path.name, error.message))
    return WorkshopShapes(added, tuple(skipped))


def _has_shapes(triples: Iterable[ox.Triple]) -> bool:
    return any(triple.predicate.value.startswith(SHACL) for triple in triples)


def _part(path: Path) -> str:
    part = next((part for part in (STRUCTURE, *STAGES) if path.stem.startswith(part)), None)
    if part is None:
        names = ", ".join((STRUCTURE, *STAGES))
        told = _("a file with shapes is named after what it adds to ({names})")
        raise BrokenShapes(message=told.format(names=names))
    return part


def _refuse_unusable(triples: tuple[ox.Triple, ...]) -> None:
    """Raise BrokenShapes where the shapes go beyond the core, are not well formed or do not run."""
    named = {triple.predicate.value for triple in triples}
    if beyond := {name for name in named - CORE if name.startswith(SHACL)}:
        words = ", ".join(sorted(name.replace(SHACL, "sh:") for name in beyond))
        told = _("it uses {names}; only the core of SHACL is read")
        raise BrokenShapes(message=told.format(names=words))
    try:
        reason = _told_by_running(to_graph(triples), _one_of_each_kind(triples))
    except (ReportableRuntimeError, Warning, ValueError, TypeError, KeyError, re.error) as error:
        reason = str(error)
    if reason:
        told = _("its shapes cannot be run: {reason}")
        raise BrokenShapes(message=told.format(reason=_first_lines(reason)))


def _told_by_running(shapes: Graph, data: Graph) -> str:
    """Check shapes against those of SHACL itself and run them once; give what was said against them."""
    well_formed, _graph, told = meta_validate(shapes)
    if not well_formed:
        return str(told)
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        pyshacl.validate(data, shacl_graph=shapes)
    return ""


def _one_of_each_kind(triples: Iterable[ox.Triple]) -> Graph:
    """Give a graph with one bare node of each class that is asked about, for a trial run."""
    graph = Graph(bind_namespaces="none")
    for number, triple in enumerate(triples):
        if triple.predicate.value == SHACL + "targetClass":
            graph.add((URIRef(f"urn:trial:{number}"), RDF.type, to_node(triple.object)))
    return graph


def _first_lines(message: str) -> str:
    told = [line.strip() for line in message.splitlines() if line.strip()]
    found = [line for line in told if line.startswith(("Message:", "Focus Node:"))]
    return "; ".join(found[:2] or told[:2])
