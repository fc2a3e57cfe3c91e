"""Literals whose text does not fit their type, caught before the SHACL engine, which falls over them.

Source of the lexical forms: W3C XML Schema Part 2, Datatypes (2004), section 3.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

import pyoxigraph as ox

from guardbook.records.values import XSD
from guardbook.wording import _

_FORMS = {
    "string": r".*",
    "decimal": r"[+-]?(\d+(\.\d*)?|\.\d+)",
    "integer": r"[+-]?\d+",
    "boolean": r"true|false|0|1",
    "anyURI": r"\S*",
    "language": r"[A-Za-z]{1,8}(-[A-Za-z0-9]{1,8})*",
}
_PATTERNS = {XSD + name: re.compile(form, re.ASCII | re.DOTALL) for name, form in _FORMS.items()}


@dataclass(frozen=True)
class IllTyped:
    """A statement whose literal does not fit its type, or is of a type that no field has."""

    subject: str
    predicate: str
    value: str
    datatype: str

    @property
    def expected(self) -> str:
        """Say what the text should have been."""
        name = self.datatype.removeprefix(XSD)
        if self.datatype in _PATTERNS:
            return _("text that can be read as {type}").format(type=f"xsd:{name}")
        known = ", ".join(f"xsd:{form}" for form in _FORMS)
        told = _("one of the types that records use ({types}), not {type}")
        return told.format(types=known, type=f"xsd:{name}")


def fits(literal: ox.Literal) -> bool:
    """Say whether the text of a literal fits its type; types outside XML Schema are not looked into."""
    datatype = literal.datatype.value
    if pattern := _PATTERNS.get(datatype):
        return pattern.fullmatch(literal.value) is not None
    return not datatype.startswith(XSD)


def sorted_out(quads: Iterable[ox.Quad]) -> tuple[list[ox.Quad], tuple[IllTyped, ...]]:
    """Part statements into those the engine may see, and those whose literal does not fit its type."""
    good: list[ox.Quad] = []
    bad: list[IllTyped] = []
    for quad in quads:
        value = quad.object
        if isinstance(value, ox.Literal) and not fits(value):
            bad.append(IllTyped(_iri(quad.subject), quad.predicate.value, value.value, value.datatype.value))
        else:
            good.append(quad)
    return good, tuple(bad)


def _iri(node: ox.NamedNode | ox.BlankNode | ox.Triple) -> str:
    return node.value if isinstance(node, ox.NamedNode) else str(node)
