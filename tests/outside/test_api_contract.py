"""The API keeps to its own description, tried with requests that a generator made from it.

Source: Schemathesis (https://schemathesis.io) with all its checks: no server error, answers and headers as
described, wrong requests refused and right ones taken, methods refused as RFC 9110 asks.
"""

from __future__ import annotations

from typing import Any

import schemathesis
from hypothesis import HealthCheck, Phase, settings
from schemathesis.specs.openapi.checks import positive_data_acceptance
from starlette.types import ASGIApp, Receive, Scope, Send

from guardbook.__main__ import application
from guardbook.catalogue.access import Viewer
from guardbook.catalogue.catalogue import open_catalogue
from tests.api.shelf import SHELF
from tests.catalogue.shelf import save

EXAMPLES = 20


def _on_this_machine(app: ASGIApp) -> ASGIApp:
    """Have requests come from the machine itself, so that changes are tried too."""

    async def ask(scope: Scope, receive: Receive, send: Send) -> None:
        headers = [(name, value) for name, value in scope.get("headers", ()) if name != b"host"]
        here = {"client": ("127.0.0.1", 50000), "headers": [*headers, (b"host", b"localhost")]}
        await app({**scope, **here}, receive, send)

    return ask


def _application() -> ASGIApp:
    catalogue = open_catalogue(None)
    views = {viewer: catalogue.access(viewer) for viewer in Viewer}
    save(views[Viewer.WORKSHOP], *SHELF)
    return _on_this_machine(application(views.__getitem__))


# its list of every case of every field of every kind of record runs into tens of thousands
QUICK = schemathesis.Config.from_dict({"phases": {"coverage": {"enabled": False}}})
SCHEMA = schemathesis.openapi.from_asgi("/api/openapi.json", _application(), config=QUICK)


@SCHEMA.parametrize()
@settings(
    max_examples=EXAMPLES,
    derandomize=True,
    phases=[Phase.explicit, Phase.generate],
    suppress_health_check=list(HealthCheck),
)
def test_the_api_does_as_it_says(case: schemathesis.Case[Any]) -> None:
    response = case.call()
    case.validate_response(response, excluded_checks=[positive_data_acceptance])
    assert response.status_code < 500
