"""Plain pages for people: of records, of the search, of words, of what went wrong."""

import re
from html.parser import HTMLParser
from urllib.parse import urljoin, urlsplit

import pytest

from guardbook.__main__ import application
from guardbook.catalogue.catalogue import open_catalogue
from tests.api.client import HERE, Client
from tests.api.shelf import BOOK, CITY, PUT, SHELF, SLIP, STRIP
from tests.binding.bench import piece

PAGES = [
    "/",
    "/search?q=strip",
    "/search?q=nothing+of+the+kind",
    "/terms",
    "/terms/",
    "/terms/function.html",
    "/terms/function/pastedown.html",
    "/ns.html",
    "/api",
    f"/{STRIP.short}/check?for=before-lifting",
    f"/{STRIP.short}/history",
    "/nothing",
    *(f"/{record.short}.html" for record in SHELF),
]


SCRIPT = re.compile(r"<script([^>]*)>(.*?)</script>", re.DOTALL)


def is_harmless(attributes: str, text: str) -> bool:
    """Tell whether a script is a file of ours, or data that no browser runs and that cannot end early."""
    data = attributes == ' type="application/ld+json"' and "<" not in text
    return data or (' src="/static/' in attributes and not text)


class Links(HTMLParser):
    """Gathers where the links of a page lead, what the page loads, and which elements it has."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.links: list[str] = []
        self.loaded: list[str] = []
        self.elements: list[str] = []
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = dict(attrs)
        self.elements.append(tag)
        if tag == "a":
            self.links.append(found.get("href") or "")
        if found.get("src") or (tag == "link" and found.get("rel") in {"stylesheet", "icon"}):
            self.loaded.append(found.get("src") or found.get("href") or "")


@pytest.mark.parametrize("path", PAGES)
def test_a_page_has_one_heading_a_title_and_a_way_past_the_header(reader: Client, path: str) -> None:
    html = reader.get(path).text
    assert html.count("<h1") == 1
    assert re.search(r"<title>[^<]+ – Guardbook</title>", html)
    assert '<html lang="en">' in html
    assert html.index('href="#main"') < html.index("<header>") < html.index('id="main"')


@pytest.mark.parametrize("path", PAGES)
def test_a_page_loads_nothing_from_elsewhere_and_runs_only_files_of_ours(reader: Client, path: str) -> None:
    reply = reader.get(path)
    page = Links(reply.text)
    assert {urlsplit(urljoin(HERE + path, address)).netloc for address in page.loaded} == {"localhost:8000"}
    assert not {"iframe", "style", "object"} & set(page.elements)
    assert all(is_harmless(*script) for script in SCRIPT.findall(reply.text))
    assert not re.search(r"<[^>]+ (style|on\w+)=", reply.text)
    assert reply.headers["Content-Security-Policy"].startswith("default-src 'none'")
    assert "unsafe" not in reply.headers["Content-Security-Policy"]


def test_every_link_of_every_page_leads_somewhere(reader: Client) -> None:
    waiting, seen = ["/"], set[str]()
    broken = []
    while waiting:
        path = waiting.pop().partition("#")[0]
        # what the public may not see is not there for it, so that way may well end
        if path in seen or urlsplit(path).netloc or "as=public" in path:
            continue
        seen.add(path)
        reply = reader.get(path)
        if reply.status_code >= 400:
            broken.append(path)
        if reply.has_redirect_location:
            waiting.append(reply.headers["Location"])
        elif reply.headers["Content-Type"].startswith("text/html") and not path.startswith("/terms/"):
            links = [urljoin(path, link) for link in Links(reply.text).links + Links(reply.text).loaded]
            # a question leads to others without end: those that the page without one leads to will do
            waiting += [link for link in links if "?" not in path or "?" not in link]
    assert broken == []
    assert {f"/{record.short}.html" for record in SHELF} <= seen


def test_a_record_is_shown_with_its_fields_links_and_other_forms(reader: Client) -> None:
    html = reader.get(f"/{STRIP.short}.html").text
    for said in (
        "<dt>Height (mm)</dt>",
        "40.0",
        "parchment",
        f'<a href="/{PUT.short}">put</a>',
        f"<code>{STRIP.id}</code>",
        f'<link rel="alternate" type="text/turtle" href="/{STRIP.short}.ttl">',
    ):
        assert said in html


def test_a_volume_is_shown_with_its_keeper_and_its_stages(reader: Client) -> None:
    html = reader.get(f"/{BOOK.short}.html").text
    assert f'<a href="/{CITY.short}">City Library</a>' in html
    assert '<caption class="unseen">Stages</caption>' in html
    assert '<tr id="stage-2">' in html


def test_it_is_told_where_a_piece_sat_with_the_way_to_the_volume(reader: Client) -> None:
    html = reader.get(f"/{STRIP.short}.html").text
    assert f'<a href="/{BOOK.short}">In Book of tithes (T 12), as sewing guard</a>' in html
    assert f'<a href="/{PUT.short}">{PUT.short}</a>' in html
    assert f'<a href="/{STRIP.short}">Strip of a gradual</a>' in reader.get(f"/{BOOK.short}.html").text


@pytest.mark.parametrize(
    ("once", "now"),
    [
        (f"/{STRIP.short}/where", f"/{STRIP.short}.html#where"),
        (f"/{BOOK.short}/pieces", f"/{BOOK.short}.html#pieces"),
        (f"/{BOOK.short}/drawn?stage=1&plane=fold-3", f"/{BOOK.short}.html?stage=1&plane=fold-3"),
    ],
)
def test_addresses_of_pages_that_became_one_still_lead_there(reader: Client, once: str, now: str) -> None:
    reply = reader.get(once)
    assert (reply.status_code, reply.headers["Location"]) == (301, now)


def test_what_is_missing_is_told_with_why_and_how(reader: Client) -> None:
    html = reader.get(f"/{STRIP.short}/check?for=before-lifting").text
    assert "Cannot be got later" in html
    assert "Why: " in html
    assert "How: " in html
    assert '<option value="before-lifting" selected>' in html


def test_a_search_narrows_down_and_takes_back(reader: Client) -> None:
    html = reader.get("/search?kind=fragment").text
    narrowed = "/search?kind=fragment&amp;material=parchment"
    assert f'href="{narrowed}"' in html
    assert "1 to 2 of 2 found" in html
    html = reader.get(narrowed.replace("&amp;", "&")).text
    assert "1 to 1 of 1 found" in html
    assert 'href="/search?kind=fragment" aria-current="true"' in html


def test_a_long_list_is_turned_page_by_page(reader: Client) -> None:
    more = [{"type": "Fragment", "title": f"Strip {number}"} for number in range(60)]
    assert reader.request("POST", "/api/records", json=more).status_code == 201
    html = reader.get("/search?q=strip&start=24").text
    assert re.search(r"25 to 48 of \d+ found", html)
    assert 'rel="prev" href="/search?q=strip">' in html
    assert 'rel="next" href="/search?q=strip&amp;start=48">' in html
    assert "past the last" in reader.get("/search?q=strip&start=500").text


def test_what_people_wrote_is_never_taken_for_html(reader: Client) -> None:
    evil = piece("Evil", title="<script>alert(1)</script>", note='"><img src=x onerror=alert(2)>')
    body = {"type": "Fragment", "title": evil.title, "note": evil.note}
    at = reader.request("POST", "/api/records", json=body).headers["Location"].removeprefix("/api/records")
    for path in (
        f"{at}.html",
        "/search?q=script",
        "/search?q=%22%3E%3Cscript%3E",
        f"{at}/check",
    ):
        page = reader.get(path).text
        assert all(is_harmless(*script) for script in SCRIPT.findall(page))
        assert "img" not in Links(page).elements


@pytest.mark.parametrize(
    ("path", "status", "said"),
    [
        ("/nothing", 404, "There is nothing at /nothing"),
        ("/search?kind=book", 400, "one of fragment, host"),
        ("/search?start=x", 400, "a whole number"),
        ("/search?view=map", 400, "one of list, pictures, timeline"),
        (
            f"/fragment/{STRIP.identifier[1] + STRIP.identifier[0] + STRIP.identifier[2:]}",
            404,
            STRIP.identifier,
        ),
        (f"/{BOOK.short}.html?stage=x", 400, "Expected a number in stage"),
        (f"/{STRIP.short}.html?stay=9", 400, "There is no stay 9"),
        (f"/{STRIP.short}/check?for=lunch", 400, "on-sight"),
        ("/terms/function/hat.html", 404, "has no term"),
    ],
)
def test_what_went_wrong_is_told_on_a_page(reader: Client, path: str, status: int, said: str) -> None:
    reply = reader.get(path)
    assert reply.status_code == status
    assert reply.headers["Content-Type"].startswith("text/html")
    assert said in re.sub(r"<[^>]+>", "", reply.text)


def test_a_record_taken_out_says_so_on_its_page(reader: Client) -> None:
    at = f"/api/records/{SLIP.short}?why=was+never+there"
    assert reader.request("DELETE", at, headers={"If-Match": '"1"'}).status_code == 200
    for path in (f"/{SLIP.short}", f"/{SLIP.short}.html"):
        reply = reader.get(path)
        assert (reply.status_code, "was never there" in reply.text) == (410, True)


def test_programs_are_told_what_went_wrong_as_data(here: Client, reader: Client) -> None:
    assert here.get("/nothing").headers["Content-Type"] == "application/problem+json"
    assert reader.get("/api/nothing").headers["Content-Type"] == "application/problem+json"
    assert here.get("/nothing").json()["detail"] in reader.get("/nothing").text


def test_the_reader_is_told_who_they_are_taken_for(reader: Client, away: Client) -> None:
    page = f"/{STRIP.short}.html"
    assert f'<a href="{page}?as=public">' in reader.get(page).text
    for html in (away.get(page).text, reader.get(f"{page}?as=public").text):
        assert "You see what is public." in html


def test_an_empty_catalogue_says_how_to_begin(reader: Client) -> None:
    with open_catalogue(None) as empty:
        begun = Client(application(empty.access), headers=reader.headers)
        assert "guardbook demo" in begun.get("/").text
    assert "guardbook demo" not in reader.get("/").text
