"""Serving from the terminal."""

import re
import signal
import socket
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import httpx
import pytest

from tests.cli.conftest import Run


def start(folder: Path, *words: str) -> subprocess.Popen[str]:
    command = [sys.executable, "-m", "guardbook", "serve", "--port", "0", "--data", str(folder), *words]
    return subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)


@pytest.fixture
def server(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[subprocess.Popen[str]]:
    process = start(tmp_path / "served", *getattr(request, "param", ()))
    yield process
    process.kill()
    process.communicate()


@pytest.mark.parametrize("server", [["--demo"]], indirect=True)
def test_the_demo_is_served_and_its_address_printed(server: subprocess.Popen[str], tmp_path: Path) -> None:
    assert server.stdout
    assert "records of the demo are loaded." in server.stdout.readline()
    found = re.fullmatch(
        r"The catalogue is at (http://127\.0\.0\.1:\d+/) \(Ctrl-C ends it\)\.\n", server.stdout.readline()
    )
    assert found
    page = httpx.get(found[1])
    assert (page.status_code, "server" in page.headers) == (200, False)
    assert "What is in the catalogue" in page.text
    busy = subprocess.run(
        [sys.executable, "-m", "guardbook", "find", "strip", "--data", tmp_path / "served"],
        capture_output=True,
        text=True,
        check=False,
    )
    assert (busy.returncode, str(server.pid) in busy.stderr) == (2, True)


@pytest.mark.parametrize("asked", [signal.SIGINT, signal.SIGTERM])
def test_a_server_asked_to_stop_ends_well(server: subprocess.Popen[str], asked: signal.Signals) -> None:
    assert server.stdout
    assert server.stdout.readline().startswith("The catalogue is at ")
    server.send_signal(asked)
    _, complaint = server.communicate(timeout=30)
    assert (server.returncode, complaint) == (0, "")


def test_a_port_that_is_taken_is_told(run: Run) -> None:
    with socket.create_server(("127.0.0.1", 0)) as other:
        port = other.getsockname()[1]
        ran = run("serve", "--port", port)
    assert ran.code == 2
    assert f"Port {port} is taken" in ran.err


def test_an_address_that_is_not_this_machines_is_told(run: Run) -> None:
    ran = run("serve", "--host", "203.0.113.7")
    assert ran.code == 2
    assert "Cannot listen on 203.0.113.7" in ran.err
