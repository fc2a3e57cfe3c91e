"""`python -m guardbook` is the `guardbook` command; what it serves is put together here."""

from __future__ import annotations

from collections.abc import Callable

from starlette.types import ASGIApp

from guardbook import cli
from guardbook.catalogue.access import Access, Viewer


def application(access_for: Callable[[Viewer], Access], *, public_only: bool = False) -> ASGIApp:
    """Put the API and the pages together; errors are pages to readers and problems to programs.

    `access_for` gives the catalogue as one viewer sees it; with `public_only` everybody is the public.
    """
    # the other commands should not wait for a web framework that they have no use for
    from guardbook.api.app import add_things, make_api  # noqa: PLC0415
    from guardbook.api.asking import Asking  # noqa: PLC0415
    from guardbook.api.foreign_sites import OwnSiteOnly  # noqa: PLC0415
    from guardbook.api.headers import CarefulHeaders, HeadAsGet  # noqa: PLC0415
    from guardbook.pages.languages import Speaking  # noqa: PLC0415
    from guardbook.pages.problem_pages import ProblemPages  # noqa: PLC0415
    from guardbook.pages.site import add_pages  # noqa: PLC0415

    app = make_api()
    add_pages(app)
    add_things(app)
    answering = Speaking(ProblemPages(OwnSiteOnly(app)))
    return Asking(CarefulHeaders(HeadAsGet(answering)), access_for, public_only)


def main() -> None:
    """Run the command."""
    cli.main(application=application)


if __name__ == "__main__":
    main()
