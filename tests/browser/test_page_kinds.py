"""Pages that no other test of the browser goes through fit, let everybody in, and ask no other host."""

from __future__ import annotations

import pytest

from tests.browser.looking import Opener, Served, check_fits, check_no_axe_violations

PAGES = (
    "/terms",
    "/terms/fixing.html",
    "/terms/fixing/laced.html",
    "/ns.html",
    "/api",
    "/sparql.html",
    "/sparql.html?query=SELECT+%3Fg+WHERE+%7B+GRAPH+%3Fg+%7B+%3Fs+a+%3Ftype+%7D+%7D+LIMIT+3",
    "/dataset.html",
    "/harvested",
    "/fragment/B89RYC-6/check",
    "/fragment/B89RYC-6/history",
    "/host/F90AA2-P/laid-over?with=host/5JZSY8-3",
)


@pytest.mark.parametrize("width", [390, 1280])
@pytest.mark.parametrize("address", PAGES)
def test_a_page_of_any_kind_fits_and_lets_everybody_in(
    open_page: Opener, demo: Served, address: str, width: int
) -> None:
    page = open_page(demo, width=width, language="de")
    page.goto(address)
    check_fits(page)
    check_no_axe_violations(page)


def test_an_address_that_leads_nowhere_says_so_and_leads_on(open_page: Opener, demo: Served) -> None:
    page = open_page(demo, width=390, language="fr", may_fail=("status of 404",))
    reply = page.goto("/fragment/000000-0.html")
    assert reply is not None
    assert reply.status == 404
    check_fits(page)
    check_no_axe_violations(page)
