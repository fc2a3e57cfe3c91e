"""Where records are found under `/api`, and where their own addresses lie on this host."""

from __future__ import annotations

from typing import Annotated

from fastapi import Path
from starlette.convertors import Convertor, register_url_convertor
from starlette.requests import Request

from guardbook import settings
from guardbook.catalogue.access import Access
from guardbook.errors import Fault, NotFound, WrongUse
from guardbook.records.identifiers import example
from guardbook.records.kinds import KINDS
from guardbook.records.values import record_iri


class _KindConvertor(Convertor[str]):
    """Lets only the kinds of record stand in an address, so that others are simply not found."""

    regex = "|".join(KINDS)

    def convert(self, value: str) -> str:
        return value

    def to_string(self, value: str) -> str:
        return value


register_url_convertor("kind", _KindConvertor())

Kind = Annotated[
    str,
    Path(description="The kind of record.", examples=["fragment"], json_schema_extra={"enum": list(KINDS)}),
]
Identifier = Annotated[
    str, Path(description="The identifier with its check symbol, in any spelling.", examples=[example()])
]

SchemeName = Annotated[str, Path(description="The name of a list of terms.", examples=["function"])]
Slug = Annotated[str, Path(description="The name of a term in its list.", examples=["pastedown"])]
Ending = Annotated[str, Path(description="The form, by its usual ending.", examples=["ttl"])]


def record_at(access: Access, kind: str, identifier: str) -> str:
    """Give the IRI of an address. Raises NotFound, with what may be meant where it is mistyped."""
    try:
        return access.resolve(f"{kind}/{identifier}")
    except WrongUse as error:
        raise NotFound(message=error.message, faults=error.faults) from error


def reached_at(request: Request) -> str | None:
    """Give where we are reached: as asked, until this instance has an address of its own (None)."""
    return str(request.base_url) if settings.current().base == settings.DEFAULT_BASE else None


def short(iri: str) -> str:
    """Give `kind/identifier` of a record's IRI."""
    return iri.removeprefix(settings.current().base)


def api_address(iri: str) -> str:
    """Give the path of a record under `/api`."""
    return f"/api/records/{short(iri)}"


def address_for_new(kind: str, identifier: str) -> str:
    """Give the IRI of a record that need not be there yet. Raises NotFound for what is no identifier."""
    try:
        return record_iri(f"{kind}/{identifier}", tuple(KINDS))
    except ValueError as error:
        expected, _, mend = str(error).partition(". ")
        fault = Fault(where="the address", found=repr(f"{kind}/{identifier}"), expected=expected, mend=mend)
        raise NotFound(message="This is not the address of a record.", faults=(fault,)) from error
