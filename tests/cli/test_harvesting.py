"""One running instance is followed by another over real HTTP, and asked in SPARQL from the terminal."""

from __future__ import annotations

import json
import os
import socket
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Any

import httpx
import pytest

from guardbook import settings
from guardbook.catalogue.catalogue import open_catalogue
from guardbook.cli import main
from guardbook.errors import WrongUse
from guardbook.settings import DEFAULT_BASE, NAMESPACE
from tests.catalogue.shelf import save, strip
from tests.cli.conftest import Run

LICENCE = "https://creativecommons.org/publicdomain/zero/1.0/"


def test_a_refused_reading_leaves_an_empty_catalogue_free_to_choose_its_base(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder, ours = tmp_path / "empty", settings.current()
    with pytest.raises(SystemExit) as ended:
        main(["harvest", f"http://127.0.0.1:{free_port()}/", "--data", str(folder)])
    assert ended.value.code
    monkeypatch.setattr(settings, "current", lambda: replace(ours, base="https://books.example/"))
    open_catalogue(folder).close()
    monkeypatch.setattr(settings, "current", lambda: ours)
    with open_catalogue(folder) as catalogue:
        save(catalogue.access(), strip())
    monkeypatch.setattr(settings, "current", lambda: replace(ours, base="https://books.example/"))
    with pytest.raises(WrongUse, match=r"begun with the base https://guardbook\.example/"):
        open_catalogue(folder)


def free_port() -> int:
    with socket.create_server(("127.0.0.1", 0)) as listener:
        return int(listener.getsockname()[1])


class Source:
    """Another workshop's instance, with addresses of its own, that is served on this machine."""

    def __init__(self, folder: Path) -> None:
        self.base = f"http://127.0.0.1:{free_port()}/"
        self.folder = folder
        own = {"GUARDBOOK_BASE": self.base, "GUARDBOOK_NAME": "Away", "GUARDBOOK_LICENCE": LICENCE}
        self._env = {**os.environ, **own}

    @contextmanager
    def served(self, *words: str) -> Iterator[httpx.Client]:
        """Serve it for a while; give a program on that machine."""
        port = self.base.rpartition(":")[2].rstrip("/")
        command = [
            sys.executable,
            "-m",
            "guardbook",
            "serve",
            "--port",
            port,
            "--data",
            str(self.folder),
            *words,
        ]
        with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=self._env) as process:
            try:
                assert process.stdout
                assert any("The catalogue is at" in line for line in process.stdout)
                with httpx.Client(base_url=self.base, timeout=60) as client:
                    yield client
            finally:
                process.terminate()
                process.communicate(timeout=60)


pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def source(tmp_path_factory: pytest.TempPathFactory) -> Source:
    return Source(tmp_path_factory.mktemp("away") / "data")


def harvest(run: Run, source: Source) -> dict[str, Any]:
    ran = run("harvest", source.base, "--allow-private", "--json")
    assert ran.code == 0, ran.err
    told: dict[str, Any] = json.loads(ran.out)
    return told


def test_another_instance_is_followed_as_it_changes(run: Run, source: Source) -> None:
    with source.served("--demo") as away:
        records = {
            record["iri"]: record for record in away.get("/api/records?limit=1000&as=public").json()["hits"]
        }
        first = harvest(run, source)
        assert (first["taken"], first["refused"], first["title"], first["licence"]) == (
            len(records),
            [],
            "Away",
            LICENCE,
        )
        again = harvest(run, source)
        assert (again["taken"], again["gone"], again["unchanged"]) == (0, 0, 0)

        strips = [iri for iri, record in records.items() if record["kind"] == "fragment"]
        one, other = (iri.removeprefix(source.base) for iri in strips[:2])
        start = {"If-Match": away.get(f"/api/records/{one}").headers["ETag"]}
        away.patch(
            f"/api/records/{one}", json={"title": "A strip that was looked at anew"}, headers=start
        ).raise_for_status()
        start = {"If-Match": away.get(f"/api/records/{other}").headers["ETag"]}
        away.patch(f"/api/records/{other}", json={"visibility": "workshop"}, headers=start).raise_for_status()
        later = harvest(run, source)
        assert later["taken"] >= 1
        assert later["gone"] >= 1

    found = run("find", "looked", "anew")
    assert f"{source.base}{one}" in found.out
    assert "Away" in found.out
    assert "0 found" not in found.out
    unreachable = run("harvest", source.base, "--allow-private")
    assert (unreachable.code, "could not be read" in unreachable.err) == (2, True)
    listed = json.loads(run("harvested", "--json").out)
    (origin,) = listed["origins"]
    assert (origin["records"], origin["licence"]) == (len(records) - later["gone"], LICENCE)
    assert "ended early" in run("harvested").out


def test_what_is_another_s_is_asked_with_its_origin_and_never_handed_on(run: Run, source: Source) -> None:
    with source.served("--demo"):
        harvest(run, source)
    query = f"""PREFIX prov: <http://www.w3.org/ns/prov#>
        SELECT ?piece ?from {{ ?piece a <{NAMESPACE}Fragment> ; prov:hadPrimarySource ?from }}"""
    rows = run("sparql", query).out.splitlines()
    assert len(rows) > 10
    assert all(source.base in row and ".nq" in row for row in rows[1:])
    assert run("sparql", query, "--public").out.split() == ["piece,from"]
    assert source.base not in run("export", "--as", "nquads").out
    assert "agree" in run("verify").out
    dropped = run("harvested", "--drop", "1")
    assert (dropped.code, "no longer followed" in dropped.out) == (0, True)
    assert json.loads(run("harvested", "--json").out) == {"origins": [], "notTaken": []}
    assert run("sparql", query).out.split() == ["piece,from"]


def test_an_instance_with_our_own_addresses_is_not_followed(source: Source, tmp_path: Path) -> None:
    words = ["harvest", source.base, "--allow-private", "--data", str(tmp_path / "ours")]
    with source.served("--demo"):
        ran = subprocess.run(
            [sys.executable, "-m", "guardbook", *words],
            env={**os.environ, "GUARDBOOK_BASE": source.base},
            capture_output=True,
            text=True,
            check=False,
        )
    assert ran.returncode == 2
    assert "GUARDBOOK_BASE of its own" in ran.stderr


def test_a_machine_of_the_own_network_is_not_asked_by_mistake(run: Run, source: Source) -> None:
    with source.served():
        ran = run("harvest", source.base)
    assert (ran.code, "--allow-private" in ran.err) == (2, True)
    assert DEFAULT_BASE not in ran.err
    assert json.loads(run("harvested", "--json").out)["origins"] == []


def test_a_question_in_sparql_is_answered_on_the_terminal(run: Run) -> None:
    assert run("sparql", "ASK {}", "--as", "json").out == '{"head":{},"boolean":true}'
    refused = run("sparql", "SELECT * {")
    assert (refused.code, "line 1, column" in refused.err) == (2, True)
    assert run("sparql", "ASK {}", "--as", "pdf").code == 2
