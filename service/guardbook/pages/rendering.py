"""Turn an answer into a page."""

from __future__ import annotations

import re
from functools import lru_cache, partial
from typing import Annotated, Any, cast

from fastapi import Depends
from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup, escape
from starlette.requests import Request
from starlette.responses import HTMLResponse

from guardbook import settings, wording
from guardbook.catalogue.access import Access, Viewer
from guardbook.exports.taken_away import ways_to_take
from guardbook.pages.languages import NAMES, here
from guardbook.records import identifiers, terms
from guardbook.records.date_words import date_words
from guardbook.records.kinds import KINDS
from guardbook.wording import _


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
        extensions=["jinja2.ext.i18n"],
    )
    # the three look the language up when they are called, so one environment speaks all languages
    made.install_gettext_callables(  # type: ignore[attr-defined]  # the extension adds it
        _, wording.ngettext, newstyle=False, pgettext=wording.pgettext
    )
    made.filters.update(ways_to_take=ways_to_take)
    made.filters.update(short=short, linked=linked, dated=date_words, labelled=labelled)
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


def _ways_through(request: Request) -> list[tuple[str, str]]:
    """Give the ways through the catalogue that lie open to whoever asks, in the language now spoken."""
    for_all = [("/search?kind=fragment", _("Find")), ("/terms", _("Terms"))]
    if request.state.access.viewer is not Viewer.WORKSHOP:
        return for_all
    return [("/register", _("Register")), ("/bench", _("On the bench")), *for_all]


def _asks_as_public(request: Request) -> bool:
    """Tell whether it is the workshop that asked to see what the public sees."""
    return request.query_params.get("as") == "public"


def labelled(slug: str, scheme: str) -> str:
    """Give the label of a trade term in the language now spoken."""
    return terms.label(scheme, slug, wording.language())


def page(request: Request, template: str, *, status: int = 200, **shown: Any) -> HTMLResponse:
    """Fill a template in; what every page needs is added."""
    root = str(request.scope.get("root_path", ""))
    text = (
        _templates()
        .get_template(template)
        .render(
            root=root,
            path=request.url.path.removeprefix(root),
            come_back_to=here(request),
            asked_as_public=_asks_as_public(request),
            ways_through=partial(_ways_through, request),
            language=wording.language(),
            languages_named=NAMES,
            site_name=settings.current().name,
            kinds=tuple(KINDS),
            is_workshop=request.state.access.viewer is Viewer.WORKSHOP,
            **shown,
        )
    )
    return HTMLResponse(text, status)
