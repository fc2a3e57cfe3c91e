"""What search engines read of a page: a block of data in its head, which no browser runs."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from markupsafe import Markup
from starlette.requests import Request

from guardbook.actions.tell_search_engines import tell_search_engines
from guardbook.catalogue.access import Access
from guardbook.wording import language

# neither the end of the block nor the beginning of a comment can stand in it
_AS_ESCAPE = str.maketrans(
    {"<": "\\u003c", ">": "\\u003e", "&": "\\u0026", "\u2028": "\\u2028", "\u2029": "\\u2029"}
)


def schema_org(request: Request, access: Access, iri: str) -> Markup | None:
    """Give the block of a record for `schema_org.html`, or None where there are no words for its kind."""
    said = tell_search_engines(access, iri, str(request.base_url), language())
    return data_block(said) if said else None


def data_block(said: Mapping[str, Any]) -> Markup:
    """Give data as the text of a `script` that is no script."""
    return Markup(json.dumps(said, ensure_ascii=False).translate(_AS_ESCAPE))  # noqa: S704  # escaped just here
