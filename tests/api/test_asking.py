"""Who counts as the workshop: this very machine, asking for itself."""

import pytest
from starlette.types import ASGIApp

from guardbook.__main__ import application
from guardbook.catalogue.access import Viewer
from guardbook.catalogue.catalogue import Catalogue
from tests.api.client import Client
from tests.api.shelf import ANNA, SLIP, STRIP

PRIVATE = f"/api/records/{SLIP.short}"


@pytest.mark.parametrize(
    ("base_url", "address"),
    [
        ("http://localhost:8000", "127.0.0.1"),
        ("http://127.0.0.1:8000", "127.0.0.1"),
        ("http://[::1]:8000", "::1"),
        ("http://localhost:8000", "::ffff:127.0.0.1"),
        ("http://LOCALHOST", "127.8.9.1"),
    ],
)
def test_the_machine_itself_sees_what_is_not_public(app: ASGIApp, base_url: str, address: str) -> None:
    assert Client(app, base_url, address).get(PRIVATE).status_code == 200


@pytest.mark.parametrize(
    ("base_url", "address", "headers"),
    [
        pytest.param("http://localhost:8000", "203.0.113.7", {}, id="another machine"),
        pytest.param("http://localhost:8000", "::ffff:203.0.113.7", {}, id="another machine, mapped"),
        pytest.param("http://localhost:8000", "", {}, id="nobody knows who"),
        pytest.param("http://rebound.example:8000", "127.0.0.1", {}, id="a foreign name for this machine"),
        pytest.param(
            "http://localhost.rebound.example", "127.0.0.1", {}, id="a foreign name that looks local"
        ),
        pytest.param(
            "http://localhost:8000",
            "127.0.0.1",
            {"Origin": "https://other.example"},
            id="a page of another site",
        ),
        pytest.param("http://localhost:8000", "127.0.0.1", {"Origin": "null"}, id="a page of nowhere"),
        pytest.param(
            "http://localhost:8000", "127.0.0.1", {"Origin": "http://localhost:9000"}, id="another port"
        ),
        pytest.param(
            "http://localhost:8000", "127.0.0.1", {"Sec-Fetch-Site": "cross-site"}, id="a link elsewhere"
        ),
        pytest.param(
            "http://localhost:8000", "127.0.0.1", {"Sec-Fetch-Site": "same-site"}, id="a sister site"
        ),
        pytest.param("http://localhost:8000", "127.0.0.1", {"X-Forwarded-For": "203.0.113.7"}, id="a proxy"),
        pytest.param(
            "http://localhost:8000", "127.0.0.1", {"Forwarded": "for=203.0.113.7"}, id="a proxy, RFC 7239"
        ),
        pytest.param(
            "http://localhost:8000", "127.0.0.1", {"Via": "1.1 proxy.example"}, id="a proxy, RFC 9110"
        ),
    ],
)
def test_everybody_else_is_the_public(
    app: ASGIApp, base_url: str, address: str, headers: dict[str, str]
) -> None:
    client = Client(app, base_url, address, headers)
    assert client.get(PRIVATE).status_code == 404
    assert client.get(f"/api/records/{STRIP.short}").status_code == 200
    assert client.request("POST", "/api/records", json={"type": "Fragment"}).status_code == 403


def test_the_workshop_can_look_as_the_public_does(here: Client) -> None:
    assert here.get(f"{PRIVATE}?as=public").status_code == 404
    assert here.get(f"/api/records/{STRIP.short}").json()["boxLocation"] == "Drawer 4"
    assert "boxLocation" not in here.get(f"/api/records/{STRIP.short}?as=public").json()


def test_a_server_for_the_public_knows_no_workshop(catalogue: Catalogue) -> None:
    views = {viewer: catalogue.access(viewer) for viewer in Viewer}
    client = Client(application(views.__getitem__, public_only=True))
    assert client.get(PRIVATE).status_code == 404
    assert client.request("DELETE", f"/api/records/{STRIP.short}?why=x").status_code == 403


@pytest.mark.parametrize(
    ("method", "path"),
    [
        ("POST", "/api/records"),
        ("PUT", f"/api/records/{STRIP.short}"),
        ("PATCH", f"/api/records/{STRIP.short}"),
        ("DELETE", f"/api/records/{STRIP.short}?why=tidying"),
        ("POST", "/api/import"),
        ("GET", "/api/verify"),
    ],
)
def test_the_public_changes_nothing_and_looks_behind_nothing(away: Client, method: str, path: str) -> None:
    reply = away.request(method, path)
    assert reply.status_code == 403
    assert reply.json()["type"].endswith("/not-allowed")


@pytest.mark.parametrize(
    "path",
    [
        "/",
        "/search?q=strip",
        f"/{STRIP.short}.html",
        f"/{STRIP.short}.ttl",
        f"/{STRIP.short}.jsonld",
        f"/{STRIP.short}/check",
        f"/{STRIP.short}/history",
        f"/api/records/{STRIP.short}",
        f"/api/records/{STRIP.short}/where",
        f"/api/records/{STRIP.short}/check",
        f"/api/records/{STRIP.short}/history",
        "/api/records",
        "/api/export?format=nquads",
        "/api/export?format=csv",
        "/api/export?format=crm",
    ],
)
def test_nothing_private_gets_out_by_any_way(away: Client, path: str) -> None:
    reply = away.get(path, headers={"Accept": "text/html, */*;q=0.1"})
    assert reply.status_code == 200
    for secret in ("Anna Verrin", ANNA.identifier, SLIP.identifier, "Slip under", "Drawer 4", "Mira"):
        assert secret not in reply.text


def test_what_is_not_public_is_kept_from_other_sites(here: Client, away: Client) -> None:
    path = f"/api/records/{STRIP.short}"
    assert here.get(path).headers["Cross-Origin-Resource-Policy"] == "same-origin"
    assert "Access-Control-Allow-Origin" not in here.get(path).headers
    assert here.get(path).headers["Cache-Control"] == "private, no-cache"
    assert away.get(path).headers["Access-Control-Allow-Origin"] == "*"
