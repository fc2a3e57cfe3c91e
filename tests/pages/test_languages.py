"""Pages speak the language of whoever reads them, and lead nobody away."""

from __future__ import annotations

import pytest

from guardbook.pages.languages import NAMES, liked_best
from guardbook.wording import LANGUAGES
from tests.api.client import Client
from tests.api.shelf import STRIP

TO_CHOOSE = "/language"


def spoken(reader: Client, path: str = "/terms", **headers: str) -> str:
    reply = reader.get(path, headers=headers)
    language = reply.headers["Content-Language"]
    assert f'<html lang="{language}">' in reply.text
    return language


@pytest.mark.parametrize(
    ("accepted", "language"),
    [
        ("", "en"),
        ("de", "de"),
        ("pt-BR, it;q=0.4, fr-CA;q=0.7", "fr"),
        ("CA-es", "ca"),
        ("de;q=0, es;q=0.1", "es"),
        ("*", "en"),
        ("xx;;q=,,,;q=2", "en"),
    ],
)
def test_a_page_is_in_the_language_that_the_browser_likes_best(
    reader: Client, accepted: str, language: str
) -> None:
    assert liked_best(accepted) == language
    assert spoken(reader, **{"Accept-Language": accepted}) == language


def test_what_the_reader_chose_goes_before_what_the_browser_asks_for(reader: Client) -> None:
    reply = reader.request("POST", TO_CHOOSE, data={"language": "it", "back": "/search?q=a&kind=host"})
    assert (reply.status_code, reply.headers["Location"]) == (303, "/search?q=a&kind=host")
    cookie = reply.headers["Set-Cookie"]
    assert {"HttpOnly", "SameSite=lax", "Path=/"} <= set(cookie.split("; "))
    chosen = cookie.partition(";")[0]
    assert spoken(reader, **{"Cookie": chosen, "Accept-Language": "de"}) == "it"
    assert spoken(reader, **{"Cookie": "language=klingon", "Accept-Language": "de"}) == "de"


@pytest.mark.parametrize(
    "back",
    [
        "https://elsewhere.example/",
        "//elsewhere.example/",
        "/\\elsewhere.example/",
        "\\\\elsewhere.example",
        "/\t/elsewhere.example",
        "javascript:alert(1)",
        "elsewhere",
        "/a\r\nSet-Cookie: b=c",
        "",
    ],
)
def test_choosing_a_language_leads_to_no_other_site(reader: Client, back: str) -> None:
    reply = reader.request("POST", TO_CHOOSE, data={"language": "ca", "back": back})
    assert (reply.status_code, reply.headers["Location"]) == (303, "/")
    assert reply.headers.get_list("Set-Cookie")[0].startswith("language=ca;")


def test_a_language_that_there_is_not_is_refused_by_name(reader: Client) -> None:
    reply = reader.request("POST", TO_CHOOSE, data={"language": "tlh"})
    assert reply.status_code == 400
    assert "one of en, ca, es, fr, de, it" in reply.text
    assert "Set-Cookie" not in reply.headers


def test_every_language_is_offered_on_every_page_with_the_way_back(reader: Client) -> None:
    assert tuple(NAMES) == LANGUAGES
    for path in ("/", "/search?q=strip&kind=fragment", f"/{STRIP.short}.html", "/nothing"):
        html = reader.get(path).text
        assert f'<input type="hidden" name="back" value="{path.replace("&", "&amp;")}">' in html
        for code, name in NAMES.items():
            assert f'value="{code}" lang="{code}"' in html
            assert name in html


def test_a_store_between_keeps_the_languages_apart(reader: Client) -> None:
    vary = reader.get("/terms").headers["Vary"]
    assert {"accept-language", "cookie"} <= {name.strip().lower() for name in vary.split(",")}


def test_programs_are_answered_the_same_whatever_they_accept(here: Client) -> None:
    path = f"/api/records/{STRIP.short}/where"
    german = here.get(path, headers={"Accept-Language": "de"})
    assert german.json() == here.get(path).json()
    assert "Content-Language" not in german.headers
