"""Records of other catalogues are read on pages and over HTTP, and say whose they are."""

from __future__ import annotations

from collections.abc import Iterator
from urllib.parse import quote

import pytest

from guardbook.actions.harvest import harvest
from guardbook.catalogue.catalogue import Catalogue
from guardbook.intake.remote import Remote
from tests.actions.elsewhere import Away, quad, served
from tests.api.client import Client


@pytest.fixture
def away(catalogue: Catalogue) -> Iterator[Away]:
    with served() as source:
        iri = source.iri("strip")
        source.new(
            "strip",
            "Strip of <i>another</i> house",
            quad(iri, "note", '"</dd><script>alert(1)</script>"', iri),
        )
        harvest(catalogue.access(), source.feed, remote=Remote(allow_private=True))
        yield source


def test_a_search_finds_them_under_a_heading_of_their_own(reader: Client, away: Away) -> None:
    page = reader.get("/search?q=another+house").text
    assert "In other catalogues" in page
    assert f"/harvested/record?iri={quote(away.iri('strip'), safe='/')}" in page
    assert "In other catalogues" not in reader.get("/search?q=gradual").text


def test_the_page_says_whose_it_is_and_changes_nothing(reader: Client, away: Away) -> None:
    page = reader.get("/harvested/record", params={"iri": away.iri("strip")}).text
    assert "from another catalogue" in page
    assert f'href="{away.base}documents/strip.nq"' in page
    assert "<script>alert" not in page
    assert "Strip of &lt;i&gt;another&lt;/i&gt; house" in page
    assert page.count("<form") == reader.get("/harvested").text.count("<form")
    assert "noindex" in page


def test_the_catalogues_that_are_followed_are_listed(reader: Client, away: Away) -> None:
    page = reader.get("/harvested").text
    assert away.feed in page
    assert "None is stated" in page
    assert away.feed not in reader.get("/harvested?as=public").text


def test_the_public_is_told_nothing_of_them(away: Away, reader: Client, app: object) -> None:
    for path in (
        f"/harvested/record?iri={quote(away.iri('strip'))}",
        f"/api/harvested/record?iri={quote(away.iri('strip'))}",
    ):
        assert reader.get(f"{path}&as=public").status_code == 404
    assert reader.get("/api/harvested/records?q=house&as=public").json() == []
    assert reader.get("/api/harvested?as=public").json() == []


def test_programs_follow_list_and_drop(here: Client, away: Away) -> None:
    (hit,) = here.get("/api/harvested/records?q=house").json()
    assert (hit["iri"], hit["origin"]) == (away.iri("strip"), away.base.rstrip("/"))
    away.new("guard", "A guard")
    reply = here.request("POST", "/api/harvested", params={"address": away.feed, "allowPrivate": True})
    assert (reply.status_code, reply.json()["taken"]) == (200, 1)
    assert here.request("POST", "/api/harvested", params={"address": away.feed}).status_code == 502
    assert here.request("POST", "/api/harvested", params={"address": "no address"}).status_code == 400
    (origin,) = here.get("/api/harvested").json()
    assert (origin["records"], origin["feed"]) == (2, away.feed)
    assert here.request("DELETE", f"/api/harvested/{origin['number']}").status_code == 200
    assert here.get("/api/harvested").json() == []


def test_nobody_else_follows_or_drops_for_us(here: Client, away: Away) -> None:
    for method, path in (
        ("POST", f"/api/harvested?address={quote(away.feed)}"),
        ("DELETE", "/api/harvested/1"),
    ):
        assert here.request(method, f"{path}{'&' if '?' in path else '?'}as=public").status_code == 403
    assert len(here.get("/api/harvested").json()) == 1
