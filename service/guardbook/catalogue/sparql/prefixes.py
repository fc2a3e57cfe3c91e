"""Prefixes that a query uses and does not declare, and what those that are known here stand for."""

from __future__ import annotations

import re
from functools import lru_cache

from guardbook import settings
from guardbook.catalogue.sparql.refusals import without_texts
from guardbook.errors import Fault, QueryRefused
from guardbook.records.terms import all_concepts
from guardbook.records.values import EDTF, XSD
from guardbook.wording import _

_DECLARED = re.compile(r"(?i)\bprefix\s+(?P<name>[\w.-]*):")
# `_:` begins no name with a prefix but a blank node
_USED = re.compile(r"(?<![\w.-])(?!_:)(?P<name>[\w.-]*):")
_OTHERS = {
    "xsd": XSD,
    "edtf": EDTF.removesuffix("EDTF"),
    "rdf": "http://www.w3.org/1999/02/22-rdf-syntax-ns#",
    "rdfs": "http://www.w3.org/2000/01/rdf-schema#",
    "owl": "http://www.w3.org/2002/07/owl#",
    "skos": "http://www.w3.org/2004/02/skos/core#",
    "dct": "http://purl.org/dc/terms/",
    "dcterms": "http://purl.org/dc/terms/",
    "prov": "http://www.w3.org/ns/prov#",
}


@lru_cache(maxsize=1)
def known() -> dict[str, str]:
    """Give what prefixes stand for: those of our own Turtle, and of what the graph is joined with."""
    lists = {f"t-{name}": f"{settings.TERMS}{name}/" for name in all_concepts()}
    return {"gb": settings.NAMESPACE, **_OTHERS, **lists}


def undeclared(text: str) -> QueryRefused | None:
    """Make the error that names each prefix which a query uses and does not declare, or None."""
    plain = without_texts(text)
    declared = {found["name"] for found in _DECLARED.finditer(plain)}
    first: dict[str, int] = {}
    for found in _USED.finditer(plain):
        if found["name"] not in declared:
            first.setdefault(found["name"], found.start())
    if not first:
        return None
    line, column = _place(text, min(first.values()))
    return QueryRefused(
        message=_("The query uses a prefix that it does not declare."),
        faults=tuple(_fault(text, name, at) for name, at in first.items()),
        details={"line": line, "column": column},
    )


def _fault(text: str, name: str, at: int) -> Fault:
    line, column = _place(text, at)
    address = known().get(name)
    mend = (
        _("Put this line before the query: {line}")
        if address
        else _("Put this line before the query, with the address it stands for: {line}")
    )
    return Fault(
        where=_("line {line}, column {column}").format(line=line, column=column),
        found=f"{name}:",
        expected=_("a prefix that is declared"),
        mend=mend.format(line=f"PREFIX {name}: <{address or 'http://…'}>"),
    )


def _place(text: str, at: int) -> tuple[int, int]:
    before = text[:at]
    return before.count("\n") + 1, at - before.rfind("\n")
