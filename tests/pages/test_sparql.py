"""Questions in SPARQL on a page, the page of the dataset, and what search engines read of a page."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from guardbook.__main__ import application
from guardbook.actions.load_demo import load_demo
from guardbook.catalogue.access import Viewer
from guardbook.catalogue.catalogue import Catalogue, open_catalogue
from guardbook.pages import sparql
from guardbook.settings import NAMESPACE
from tests.api.client import Client
from tests.api.shelf import ANNA, BOOK, CITY, PUT, STRIP
from tests.catalogue.shelf import changed, save

TITLE = (
    f"SELECT ?piece ?title {{ ?piece a <{NAMESPACE}Fragment> ; <{NAMESPACE}title> ?title }} ORDER BY ?title"
)
EXAMPLES = sorted((Path(sparql.__file__).parent / "examples").glob("*.rq"))


@pytest.fixture(scope="module")
def demo_reader() -> Iterator[Client]:
    """Give a browser on the machine of the invented workshop."""
    with open_catalogue(None) as opened:
        views = {viewer: opened.access(viewer) for viewer in Viewer}
        load_demo(views[Viewer.WORKSHOP], if_empty=True)
        yield Client(application(views.__getitem__), headers={"Accept": "text/html"})


def asked(reader: Client, query: str, **more: str) -> str:
    reply = reader.get("/sparql.html", params={"query": query, **more})
    assert reply.status_code == 200
    return reply.text


def test_the_page_offers_a_query_to_begin_with_and_every_example(reader: Client) -> None:
    page = reader.get("/sparql.html").text
    assert "SELECT ?material" in page
    assert len(re.findall(r'href="/sparql\.html\?query=', page)) == len(EXAMPLES)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_example_is_answered_by_the_demo(demo_reader: Client, path: Path) -> None:
    page = asked(demo_reader, path.read_text(encoding="utf-8"))
    assert "<td>" in page or "<pre>" in page


def test_an_answer_is_a_table_whose_records_can_be_followed(reader: Client) -> None:
    page = asked(reader, TITLE)
    assert f'<td><a href="/{STRIP.short}">{STRIP.short}</a></td>' in page
    assert 'href="/sparql?query=' in page
    assert asked(reader, TITLE, **{"as": "public"}).count("<td>") == 2
    assert "as=public" in asked(reader, TITLE, **{"as": "public"})


def test_yes_no_nothing_and_a_graph_are_told_in_their_own_way(reader: Client) -> None:
    assert "Yes." in asked(reader, "ASK {}")
    assert "No." in asked(reader, "ASK { ?x ?x ?x }")
    assert "Nothing fits." in asked(reader, "SELECT * { ?x ?x ?x }")
    assert "<pre>" in asked(reader, f"CONSTRUCT WHERE {{ <{STRIP.id}> ?p ?o }}")


def test_what_cannot_be_asked_is_told_beside_the_query(reader: Client) -> None:
    reply = reader.get("/sparql.html", params={"query": "SELECT * { <script>alert(1)</script>"})
    assert reply.status_code == 400
    assert "line 1, column" in reply.text
    assert "<script>alert" not in reply.text
    assert 'aria-invalid="true"' in reply.text


def test_values_of_a_query_are_shown_as_text_and_only_web_addresses_lead_away(reader: Client) -> None:
    page = asked(
        reader, 'SELECT * { VALUES ?x { "<b>&" <javascript:alert(1)> <https://a.example/?a=1&b=2> } }'
    )
    assert "&lt;b&gt;&amp;" in page
    assert "<td><span>javascript:alert(1)</span></td>" in page
    assert '<a href="https://a.example/?a=1&amp;b=2" rel="external nofollow">' in page


def test_the_page_of_the_dataset_says_what_there_is_and_where(reader: Client) -> None:
    page = reader.get("/dataset.html").text
    for address in ("/dump.nq.gz", "/dataset.ttl", "/activity/all-changes", "/sparql.html"):
        assert f'href="{address}"' in page
    assert block(page)["@type"] == "Dataset"


def block(page: str) -> dict[str, Any]:
    (found,) = re.findall(r'<script type="application/ld\+json">(.*?)</script>', page)
    said: dict[str, Any] = json.loads(found)
    return said


def test_search_engines_are_told_what_a_record_is(reader: Client) -> None:
    piece = block(reader.get(f"/{STRIP.short}.html").text)
    assert (piece["@type"], piece["@id"], piece["material"]) == ("ArchiveComponent", STRIP.id, "parchment")
    volume = block(reader.get(f"/{BOOK.short}.html").text)
    assert volume["holdingArchive"] == {
        "@type": "ArchiveOrganization", "@id": CITY.id, "name": CITY.display_title
    }  # fmt: skip
    assert block(reader.get(f"/{ANNA.short}.html").text)["@type"] == "Person"


def test_search_engines_are_told_nothing_where_they_have_no_word_for_it(reader: Client) -> None:
    assert '<script type="application/ld+json' not in reader.get(f"/{PUT.short}.html").text


def test_no_text_of_a_record_ends_the_block_or_escapes_from_it(reader: Client, catalogue: Catalogue) -> None:
    hostile = "</script><script>alert(1)</script><!-- & \u2028"
    save(catalogue.access(), changed(STRIP, title=hostile), from_revision=1)
    page = reader.get(f"/{STRIP.short}.html").text
    assert block(page)["name"] == hostile
    assert "<script>alert" not in page
