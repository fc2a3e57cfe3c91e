"""Another catalogue on this machine that tells whatever a test wants it to, well or badly."""

from __future__ import annotations

import http.server
import json
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any, ClassVar

from guardbook.settings import NAMESPACE

TYPE = "http://www.w3.org/1999/02/22-rdf-syntax-ns#type"
N_QUADS = "application/n-quads"
VOID = "http://rdfs.org/ns/void#"


@dataclass(frozen=True)
class Reply:
    """What is answered at an address."""

    body: bytes
    media_type: str = "application/ld+json"
    status: int = 200
    headers: dict[str, str] = field(default_factory=dict)
    seconds: float = 0


class Away:
    """What it tells: replies by path, a feed made of activities, and what was asked of it."""

    def __init__(self, base: str) -> None:
        self.base = base
        self.space = f"{base}kept/"
        self.replies: dict[str, Reply] = {}
        self.activities: list[dict[str, Any]] = []
        self.asked: list[str] = []
        self.on_a_page = 3

    @property
    def feed(self) -> str:
        return f"{self.base}feed"

    def iri(self, name: str) -> str:
        return f"{self.space}fragment/{name}"

    def tell(self, activity: str, name: str, **replaced: Any) -> None:
        """Add an activity to the feed."""
        number = len(self.activities) + 1
        thing = {
            "id": self.iri(name),
            "type": "Dataset",
            "seeAlso": [{"id": f"{self.base}documents/{name}.nq", "type": "Dataset", "format": N_QUADS}],
        }
        item = {
            "id": f"{self.feed}#{number}",
            "type": activity,
            "object": thing,
            "endTime": f"2026-01-01T00:00:{number:02}Z",
        }
        self.activities.append({**item, **replaced})

    def put(self, name: str, title: str, *more: str, **reply: Any) -> None:
        """Put the document of a record where its activities say it is."""
        lines = [_quad(self.iri(name), TYPE, f"<{NAMESPACE}Fragment>", self.iri(name))]
        lines += [_quad(self.iri(name), f"{NAMESPACE}title", json.dumps(title), self.iri(name)), *more]
        body = "".join(lines).encode()
        self.replies[f"/documents/{name}.nq"] = Reply(body, N_QUADS, **reply)

    def new(self, name: str, title: str, *more: str, **reply: Any) -> None:
        """Put a document, and tell of it."""
        self.put(name, title, *more, **reply)
        self.tell("Create", name)

    def reply(self, path: str) -> Reply:
        """Answer a path."""
        if path in self.replies:
            return self.replies[path]
        if path == "/feed":
            return _json(self._collection())
        if path.startswith("/page-"):
            return _json(self._page(int(path.removeprefix("/page-"))))
        if path == "/about":
            about = (
                f'@prefix void: <{VOID}> . <{self.base}about> a void:Dataset ; void:uriSpace "{self.space}" .'
            )
            return Reply(about.encode(), "text/turtle")
        return Reply(b"not here", "text/plain", 404)

    def _collection(self) -> dict[str, Any]:
        last = max(1, -(-len(self.activities) // self.on_a_page))
        return {
            "type": "OrderedCollection",
            "last": {"id": f"{self.base}page-{last}"},
            "seeAlso": [{"id": f"{self.base}about"}],
        }

    def _page(self, number: int) -> dict[str, Any]:
        first = (number - 1) * self.on_a_page
        before = {"prev": {"id": f"{self.base}page-{number - 1}"}} if number > 1 else {}
        some = self.activities[first : first + self.on_a_page]
        return {"type": "OrderedCollectionPage", "orderedItems": some, **before}


def _json(found: dict[str, Any]) -> Reply:
    return Reply(json.dumps(found).encode())


def _quad(subject: str, predicate: str, value: str, graph: str) -> str:
    return f"<{subject}> <{predicate}> {value} <{graph}> .\n"


def quad(subject: str, name: str, value: str, graph: str) -> str:
    """Give a statement in our namespace as a line of N-Quads."""
    return _quad(subject, NAMESPACE + name, value, graph)


class _Handler(http.server.BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"
    away: ClassVar[Away]

    def do_GET(self) -> None:
        """Answer."""
        self.away.asked.append(self.path)
        reply = self.away.reply(self.path)
        time.sleep(reply.seconds)
        is_known = self.headers.get("If-None-Match") == reply.headers.get("ETag", "none")
        body = b"" if is_known else reply.body
        self.send_response(304 if is_known else reply.status)
        for name, value in {
            "Content-Type": reply.media_type,
            "Content-Length": str(len(body)),
            **reply.headers,
        }.items():
            self.send_header(name, value)
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, format: str, *args: Any) -> None:  # noqa: A002  # the server's own name for it
        """Say nothing."""


@contextmanager
def served() -> Iterator[Away]:
    """Serve another catalogue for a while."""
    handler = type("Handler", (_Handler,), {})
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        away = Away(f"http://127.0.0.1:{server.server_port}/")
        handler.away = away  # type: ignore[attr-defined]  # declared on the class above
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield away
        server.shutdown()
