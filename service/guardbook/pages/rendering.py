"""Turn an answer into a page."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Annotated, Any, cast

from fastapi import Depends
from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup, escape
from starlette.requests import Request
from starlette.responses import HTMLResponse

from guardbook import settings
from guardbook.catalogue.access import Access, Viewer
from guardbook.records import identifiers
from guardbook.records.kinds import KINDS


def _access(request: Request) -> Access:
    return cast(Access, request.state.access)


Asked = Annotated[Access, Depends(_access)]


@lru_cache(maxsize=1)
def _templates() -> Environment:
    made = Environment(
        loader=PackageLoader("guardbook.pages"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters.update(short=short, linked=linked)
    return made


def short(iri: str) -> str:
    """Give `kind/identifier` of a record's IRI."""
    return iri.removeprefix(settings.current().base)


_NAMED = re.compile(rf"\b(?:{'|'.join(KINDS)})/[0-9A-Z]{{{identifiers.LENGTH}}}-[0-9A-Z]\b")


def linked(text: str, root: str) -> Markup:
    """Make links of the records that a sentence names by `kind/identifier` or by IRI."""

    def link(found: re.Match[str]) -> str:
        is_one = identifiers.is_valid(found[0].partition("/")[2])
        return f'<a href="{escape(root)}/{found[0]}">{found[0]}</a>' if is_one else found[0]

    shortened = escape(text.replace(settings.current().base, ""))
    return Markup(_NAMED.sub(link, shortened))  # noqa: S704  # escaped just before


def page(request: Request, template: str, *, status: int = 200, **shown: Any) -> HTMLResponse:
    """Fill a template in; what every page needs is added."""
    root = str(request.scope.get("root_path", ""))
    text = (
        _templates()
        .get_template(template)
        .render(
            root=root,
            path=request.url.path,
            kinds=tuple(KINDS),
            is_workshop=request.state.access.viewer is Viewer.WORKSHOP,
            **shown,
        )
    )
    return HTMLResponse(text, status)
