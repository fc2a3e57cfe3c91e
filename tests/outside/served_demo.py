"""The demo served by a real process on this machine, for clients that we did not write."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import httpx

LIMITS = {
    "GUARDBOOK_SPARQL_SECONDS": "6",
    "GUARDBOOK_SPARQL_MEMORY_MB": "300",
    "GUARDBOOK_SPARQL_ROWS": "500",
}


@contextmanager
def served_demo(folder: Path) -> Iterator[httpx.Client]:
    """Serve the demo, with narrow limits of SPARQL; give a client that knows the address."""
    command = [sys.executable, "-m", "guardbook", "serve", "--demo", "--port", "0", "--data", str(folder)]
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, text=True, env={**os.environ, **LIMITS}
    ) as process:
        try:
            assert process.stdout
            line = next(line for line in process.stdout if "The catalogue is at" in line)
            with httpx.Client(base_url=line.split()[4], timeout=120) as client:
                yield client
        finally:
            process.terminate()
            process.communicate(timeout=60)
