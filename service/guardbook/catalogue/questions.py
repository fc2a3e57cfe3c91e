"""Questions to the graph: our own, read from `queries/`, and the refusal of those that reach too far.

The engine would answer `SERVICE` with a real request over the network, `FROM` and patterns outside `GRAPH`
from a default graph that holds nothing here. A question is taken apart with rdflib before it is asked.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from pathlib import Path
from typing import Any

import pyoxigraph as ox
from pyparsing import ParseResults
from rdflib.plugins.sparql.parser import parseQuery
from rdflib.plugins.sparql.parserutils import CompValue

from guardbook.errors import Fault, QueryRefused
from guardbook.wording import _, said_later

_FOLDER = Path(__file__).parent / "queries"
_ASKED = {"SelectQuery", "AskQuery", "ConstructQuery"}
_REFUSED = {
    "ServiceGraphPattern": ("SERVICE", said_later("a question to this catalogue only, without SERVICE")),
    "DatasetClause": ("FROM", said_later("{example} in place of FROM and FROM NAMED")),
}


class Checked(str):
    """A question that may be asked."""

    __slots__ = ()


def checked(text: str) -> Checked:
    """Give the question as it may be asked. Raises QueryRefused, saying which part of it is refused and why.

    Line ends are made the same first: to rdflib a comment goes on past a bare carriage return, to the engine
    it ends there, and what follows would be asked without having been looked at.
    """
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    try:
        parsed = parseQuery(text)[1]
    except Exception as error:  # the parser raises whatever its grammar's actions raise
        reason = str(error).strip() or type(error).__name__
        told = _("This is no SPARQL query (updates are not taken): {reason}")
        raise QueryRefused(message=told.format(reason=reason)) from error
    faults = tuple(dict.fromkeys(_faults(parsed)))
    if faults:
        raise QueryRefused(message=_("This question is not answered."), faults=faults)
    return Checked(text)


def _faults(parsed: CompValue) -> Iterator[Fault]:
    if parsed.name not in _ASKED:
        yield Fault(where=_("the question"), found=parsed.name, expected=_("SELECT, ASK or CONSTRUCT"))
    for name, in_graph in _patterns(parsed, in_graph=False):
        if name in _REFUSED:
            found, expected = _REFUSED[name]
            told = _(expected).format(example="GRAPH ?g { ... }")
            yield Fault(where=_("the question"), found=found, expected=told)
        elif name == "TriplesBlock" and not in_graph:
            yield Fault(
                where=_("the question"),
                found=_("a pattern outside GRAPH"),
                expected=_("every pattern inside {example}").format(example="GRAPH ?record { ... }"),
                mend=_("Each record is a graph of its own; the default graph is empty."),
            )


def _patterns(node: Any, *, in_graph: bool) -> Iterator[tuple[str, bool]]:
    """Give the name of every pattern, however deep, and whether it stands within GRAPH."""
    if isinstance(node, CompValue):
        yield node.name, in_graph
        for name, value in node.items():
            if not (node.name == "ConstructQuery" and name == "template"):
                yield from _patterns(value, in_graph=in_graph or node.name == "GraphGraphPattern")
    elif isinstance(node, (list, tuple, ParseResults)):
        for item in node:
            yield from _patterns(item, in_graph=in_graph)


@lru_cache(maxsize=64)
def _own(name: str) -> Checked:
    return checked((_FOLDER / f"{name}.rq").read_text(encoding="utf-8"))


def own(name: str, **values: Sequence[ox.NamedNode | ox.Literal]) -> Checked:
    """Give one of our questions with these values put in `VALUES ?name { UNDEF }`, as serialised terms."""
    text: str = _own(name)
    for variable, terms in values.items():
        empty = f"VALUES ?{variable} {{ UNDEF }}"
        if empty not in text:
            raise KeyError(f"{name}.rq has no {empty}")
        text = text.replace(empty, f"VALUES ?{variable} {{ {' '.join(map(str, terms))} }}")
    return Checked(text)
