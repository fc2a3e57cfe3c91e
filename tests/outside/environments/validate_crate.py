"""Runs the validator of RO-Crates without a network: its cache is given the one document that it would fetch.

Run by the Python of roc-validator's own environment: CONTEXT (a file), CACHE (a path), and then the words of
`rocrate-validator validate`.
"""

# mypy: ignore-errors
# the packages are those of another environment

from __future__ import annotations

import io
import sys
from pathlib import Path

import requests
from requests_cache import CachedSession
from rocrate_validator.cli.main import cli
from urllib3 import HTTPResponse

CONTEXT = "https://w3id.org/ro/crate/1.2/context"


def fill(cache: str, body: bytes) -> None:
    """Put the context of RO-Crate into the cache as if it had been fetched."""
    session = CachedSession(cache_name=cache, backend="sqlite", expire_after=-1)
    answer = requests.Response()
    answer.status_code, answer.url = 200, CONTEXT
    answer.headers["Content-Type"] = "application/ld+json"
    answer.request = session.prepare_request(requests.Request("GET", CONTEXT))
    answer.raw = HTTPResponse(
        io.BytesIO(body), answer.headers, 200, preload_content=False, request_url=CONTEXT
    )
    session.cache.save_response(answer)


if __name__ == "__main__":
    context, cache, *words = sys.argv[1:]
    fill(cache, Path(context).read_bytes())
    sys.argv = ["rocrate-validator", "-y", "--disable-color", "validate"]
    sys.argv += ["--no-paging", "--offline", "--cache-path", cache, *words]
    cli()
