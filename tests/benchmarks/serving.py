"""A real server on a free port, in a thread of this process, for as long as it is needed."""

from __future__ import annotations

import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager

import uvicorn

from guardbook.__main__ import application
from guardbook.catalogue.access import Access


@contextmanager
def served(access: Access) -> Iterator[str]:
    """Serve this view of a catalogue to everybody; give the address."""
    app = application(lambda _viewer: access)
    server = uvicorn.Server(uvicorn.Config(app, host="127.0.0.1", port=0, log_level="warning"))
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    while not server.started:
        time.sleep(0.01)
    port = server.servers[0].sockets[0].getsockname()[1]
    try:
        yield f"http://127.0.0.1:{port}"
    finally:
        server.should_exit = True
        thread.join()
