"""The kinds of value a field may hold; each knows its RDF datatype and checks what it is given.

Lengths are millimetres, angles degrees. Decimals keep the digits that were written: `45.50` says more
about a measurement than `45.5`, so it is never shortened.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Annotated, Any
from urllib.parse import urlsplit

from pydantic import AfterValidator, BeforeValidator, Field, GetCoreSchemaHandler
from pydantic_core import CoreSchema, core_schema

from guardbook import settings
from guardbook.records import dates, identifiers, terms
from guardbook.wording import _, either

XSD = "http://www.w3.org/2001/XMLSchema#"
EDTF = "http://id.loc.gov/datatypes/edtf/EDTF"
WKT = "http://www.opengis.net/ont/geosparql#wktLiteral"


@dataclass(frozen=True)
class Datatype:
    """Marks a value that is an RDF literal of this datatype."""

    iri: str


@dataclass(frozen=True)
class Scheme:
    """Marks a value that is a trade term; the value is the term's slug."""

    name: str

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Check a slug, or a full term IRI, against the scheme."""
        return core_schema.no_info_after_validator_function(self._checked, handler(source))

    def _checked(self, value: str) -> str:
        slug = value.removeprefix(f"{settings.TERMS}{self.name}/")
        known: Mapping[str, object] = terms.of_scheme(self.name)
        if slug in known:
            return slug
        near = terms.near(self.name, slug)
        told = _("Near terms: {terms}.") if near else _("The terms are: {terms}.")
        some = told.format(terms=", ".join(near or sorted(known)))
        wanted = _("a term of the list '{name}'").format(name=self.name)
        raise ValueError(f"{wanted}. {some}")


@dataclass(frozen=True)
class Reference:
    """Marks a value that is the IRI of a record of one of these kinds, or of a part of it."""

    kinds: tuple[str, ...]
    part: str | None = None

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Check `kind/identifier`, short or as a full IRI under our base, and give the full IRI."""
        return core_schema.no_info_after_validator_function(self._checked, handler(source))

    def _checked(self, value: str) -> str:
        iri, hash_sign, part = value.partition("#")
        iri = record_iri(iri, self.kinds)
        if self.part is None and hash_sign:
            raise ValueError(_("a whole record, not a part of one (nothing after '#')"))
        if self.part is not None and not re.fullmatch(rf"{self.part}-[\w.-]+", part):
            example = f"{value.partition('#')[0]}#{self.part}-1"
            raise ValueError(_("a part of a record such as {example}").format(example=example))
        return iri + hash_sign + part


@dataclass(frozen=True)
class WithinRecord:
    """Marks a value that is a part of the same record, written `#series-1`."""

    part: str


@dataclass(frozen=True)
class PropertyMark:
    """Marks a value that names a property of our namespace, such as `height`."""


def record_iri(text: str, kinds: tuple[str, ...] = ()) -> str:
    """Give the full IRI of a record written in full or as `kind/identifier`.

    Raises ValueError if it lies outside our base, is of a kind not wanted here or has a wrong check symbol.
    """
    base = settings.current().base
    short = text.removeprefix(base)
    if "://" in short or short.startswith("urn:"):
        told = _("an IRI under {base} (this catalogue keeps no records of other places)")
        raise ValueError(told.format(base=base))
    kind, _slash, identifier = short.strip("/").partition("/")
    if not identifier or (kinds and kind not in kinds):
        wanted = either(f"{name}/{identifiers.example()}" for name in kinds or ("fragment",))
        told = _("the identifier of a record with its kind, such as {examples}")
        raise ValueError(told.format(examples=wanted))
    wrong = identifiers.faults_in(identifier, kind)
    if wrong:
        raise ValueError(f"{wrong[0].expected}. {wrong[0].mend}")
    return f"{base}{kind}/{identifiers.normal_form(identifier)}"


_UNPRINTABLE = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff\ufffe\uffff]")


def _text(value: str) -> str:
    value = value.replace("\r\n", "\n").replace("\r", "\n")
    if not value.strip():
        raise ValueError(_("some text; leave the field out if there is nothing to say"))
    if hidden := _UNPRINTABLE.search(value):
        told = _("text without control characters ({character} found)")
        raise ValueError(told.format(character=f"U+{ord(hidden[0]):04X}"))
    return value


def _decimal(value: object) -> object:
    if isinstance(value, str) and not re.fullmatch(r"[+-]?(\d+(\.\d*)?|\.\d+)", value):
        raise ValueError(_("a number with a decimal point, such as 45.5"))
    return Decimal(repr(value)) if isinstance(value, float) else value


def _wkt(value: str) -> str:
    number = r"-?\d+(?:\.\d+)?"
    ring = rf"\(\s*{number}\s+{number}(?:\s*,\s*{number}\s+{number}){{3,}}\s*\)"
    polygon = rf"\(\s*{ring}(?:\s*,\s*{ring})*\s*\)"
    if not re.fullmatch(rf"(?:POLYGON\s*{polygon}|MULTIPOLYGON\s*\({polygon}(?:\s*,\s*{polygon})*\))", value):
        told = _("an outline in WKT, such as {example}, in mm")
        raise ValueError(told.format(example="POLYGON ((0 0, 40 0, 40 120, 0 120, 0 0))"))
    return value


def _address(value: str) -> str:
    parts = urlsplit(value)
    if parts.scheme not in {"http", "https"} or not parts.netloc or re.search(r"[\s<>\"{}|\\^`]", value):
        raise ValueError(_("a web address starting with https:// or http://"))
    return value


def _language(value: str) -> str:
    if not re.fullmatch(r"[A-Za-z]{2,3}(-[A-Za-z0-9]{1,8})*", value):
        raise ValueError(_("a language tag (BCP 47), such as la, ca, fr or la-x-abbrev"))
    return value


Text = Annotated[str, AfterValidator(_text), Datatype(XSD + "string")]
Address = Annotated[str, AfterValidator(_address), Datatype(XSD + "anyURI")]
Language = Annotated[str, AfterValidator(_language), Datatype(XSD + "language")]
Sha256 = Annotated[str, Field(pattern="^[0-9a-f]{64}$"), Datatype(XSD + "string")]
Date = Annotated[str, AfterValidator(dates.checked), Datatype(EDTF)]
Outline = Annotated[str, AfterValidator(_wkt), Datatype(WKT)]
Flag = Annotated[bool, Datatype(XSD + "boolean")]
Count = Annotated[int, Field(ge=0), Datatype(XSD + "integer")]
Number = Annotated[int, Field(ge=1), Datatype(XSD + "integer")]
Integer = Annotated[int, Datatype(XSD + "integer")]

_Decimal = Annotated[Decimal, BeforeValidator(_decimal), Field(allow_inf_nan=False, max_digits=30)]
Millimetres = Annotated[_Decimal, Field(ge=0), Datatype(XSD + "decimal")]
Coordinate = Annotated[_Decimal, Datatype(XSD + "decimal")]
Degrees = Annotated[_Decimal, Field(ge=-360, le=360), Datatype(XSD + "decimal")]
Factor = Annotated[_Decimal, Field(gt=0), Datatype(XSD + "decimal")]
Amount = Annotated[_Decimal, Field(ge=0), Datatype(XSD + "decimal")]
