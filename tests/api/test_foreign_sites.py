"""A page of another site has a browser change nothing here."""

from __future__ import annotations

import pytest

from tests.api.client import HERE, Client
from tests.api.shelf import STRIP

FOREIGN = [
    {"Sec-Fetch-Site": "cross-site"},
    {"Sec-Fetch-Site": "same-site"},
    {"Sec-Fetch-Site": "cross-site", "Origin": HERE},
    {"Origin": "https://elsewhere.example"},
    {"Origin": "http://localhost:9999"},
    {"Origin": "https://localhost:8000"},
    {"Origin": "null"},
]
OWN = [
    {},
    {"Origin": HERE},
    {"Sec-Fetch-Site": "same-origin", "Origin": HERE},
    {"Sec-Fetch-Site": "none"},
    {"Origin": "https://guardbook.example"},
]
CHANGES = [
    ("POST", "/language", {"data": {"language": "ca"}}),
    ("POST", "/api/records", {"json": {"type": "Fragment", "title": "From elsewhere"}}),
    ("PATCH", f"/api/records/{STRIP.short}", {"json": {"title": "Changed"}, "headers": {"If-Match": '"1"'}}),
    ("DELETE", f"/api/records/{STRIP.short}?why=spite", {"headers": {"If-Match": '"1"'}}),
    ("POST", "/no/such/form", {}),
]


@pytest.mark.parametrize("headers", FOREIGN, ids=str)
@pytest.mark.parametrize(("method", "path", "words"), CHANGES, ids=lambda value: str(value)[:30])
def test_what_another_site_sends_is_refused_before_anything_is_done(
    here: Client, method: str, path: str, words: dict[str, object], headers: dict[str, str]
) -> None:
    own = words.get("headers", {})
    assert isinstance(own, dict)
    reply = here.request(method, path, **{**words, "headers": {**own, **headers}})
    assert reply.status_code == 403
    assert reply.json()["type"].endswith("/not-allowed")
    assert "Set-Cookie" not in reply.headers
    assert here.get(f"/api/records/{STRIP.short}").headers["ETag"] == '"1"'
    assert "From elsewhere" not in here.get("/api/records?limit=100").text


@pytest.mark.parametrize("headers", OWN, ids=str)
def test_what_this_site_or_a_program_sends_is_taken(here: Client, headers: dict[str, str]) -> None:
    reply = here.request("POST", "/language", data={"language": "ca"}, headers=headers)
    assert reply.status_code == 303


@pytest.mark.parametrize("headers", FOREIGN, ids=str)
def test_another_site_may_link_here_and_read_what_is_public(here: Client, headers: dict[str, str]) -> None:
    reply = here.get(f"/api/records/{STRIP.short}", headers=headers)
    assert reply.status_code == 200
    assert "boxLocation" not in reply.json()


@pytest.mark.parametrize(
    "path", [f"/api/records/{STRIP.short}", f"/{STRIP.short}.ttl", "/dump.nq.gz", "/iiif/collection.json"]
)
def test_a_script_of_another_site_may_ask_first_whether_it_may_read(here: Client, path: str) -> None:
    asked = {"Origin": "https://elsewhere.example", "Access-Control-Request-Method": "GET"}
    reply = here.request("OPTIONS", path, headers=asked)
    assert (reply.status_code, reply.headers["Access-Control-Allow-Origin"]) == (204, "*")
    assert reply.headers["Access-Control-Allow-Methods"] == "GET, HEAD"
    assert "If-None-Match" in reply.headers["Access-Control-Allow-Headers"]
    assert {"GET", "HEAD", "OPTIONS"} <= set(reply.headers["Allow"].split(", "))
    read = here.get(path, headers={"Origin": "https://elsewhere.example"})
    assert read.headers["Access-Control-Expose-Headers"] == "ETag, Last-Modified, Link"


def test_no_other_site_is_told_that_it_may_read_what_the_workshop_sees(here: Client) -> None:
    assert "Access-Control-Allow-Origin" not in here.request("OPTIONS", f"/{STRIP.short}.ttl").headers
    assert here.request("OPTIONS", "/nothing").status_code == 404


def test_a_refused_form_is_told_of_on_a_page(here: Client) -> None:
    headers = {"Accept": "text/html", "Sec-Fetch-Site": "cross-site"}
    reply = here.request("POST", "/language", data={"language": "ca"}, headers=headers)
    assert (reply.status_code, reply.headers["Content-Type"]) == (403, "text/html; charset=utf-8")
    assert "another site" in reply.text


def test_pages_run_files_of_ours_and_what_is_handed_in_runs_nothing(here: Client) -> None:
    policies = {
        path: here.get(path, headers={"Accept": "text/html"}).headers["Content-Security-Policy"]
        for path in ("/", "/static/mark.svg", f"/api/records/{STRIP.short}", f"/{STRIP.short}.ttl")
    }
    page = policies.pop("/")
    assert "script-src 'self';" in page
    assert all("script-src" not in policy for policy in policies.values())
    for policy in (page, *policies.values()):
        assert policy.startswith("default-src 'none'; ")
        assert "frame-ancestors 'none'" in policy
        assert "unsafe" not in policy


@pytest.mark.parametrize("path", ["/", "/nothing", f"/api/records/{STRIP.short}", "/static/style.css"])
def test_every_answer_keeps_browsers_careful(here: Client, path: str) -> None:
    headers = here.get(path).headers
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Referrer-Policy"] == "same-origin"
    assert headers["Cross-Origin-Opener-Policy"] == "same-origin"
    assert "camera=()" in headers["Permissions-Policy"]
