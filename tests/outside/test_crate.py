"""The RO-Crate of a packet held to the specification, requirement by requirement, by software others wrote.

Source: PyPI `roc-validator` 0.13 with its profile of RO-Crate 1.2, offline; the context it would fetch comes
from npm `ro-crate` 3.7.2.
"""

from __future__ import annotations

import json
import subprocess
import zipfile
from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest

from guardbook.actions.load_demo import load_demo
from guardbook.catalogue.access import Viewer
from guardbook.catalogue.catalogue import open_catalogue
from tests import parts
from tests.actions.packing import packed

DRIVER = Path(parts.ENVIRONMENTS_FOLDER) / "validate_crate.py"
LAW_BOOK, STRIP = "N6Y9VM-C", "B89RYC-6"
# what RO-Crate recommends and our packets cannot say
NOT_SAID = {
    "ro-crate-1.2_85.0": "each record and picture has its own licence; a file tells of them all",
    "ro-crate-1.2_89.0": "a workshop has no ROR identifier that we know of",
    "ro-crate-1.2_90.1": "nobody's contact is public",
    "ro-crate-1.2_93.0": "nobody's contact is public",
}


def unpacked(folder: Path, viewer: Viewer, *names: str) -> Path:
    """Unpack a packet of the scenario, of all or of some records with reports on paper."""
    with open_catalogue(None) as catalogue:
        load_demo(catalogue.access(), if_empty=True)
        with zipfile.ZipFile(BytesIO(packed(catalogue.access(viewer), *names))) as archive:
            archive.extractall(folder)  # an archive of our own
    return folder / "guardbook-packet" / "data"


@pytest.fixture(scope="module")
def crate(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return unpacked(tmp_path_factory.mktemp("packet"), Viewer.WORKSHOP, LAW_BOOK, STRIP)


Validated = Callable[[Path, str], Any]


@pytest.fixture
def validated(needs: Callable[[str], Path], tmp_path: Path) -> Validated:
    """Give what the validator says of a crate, down to a severity."""
    python, context = needs("roc-validator"), needs("RO-Crate context")

    def report(folder: Path, severity: str) -> Any:
        words = ["-f", "json", "-o", str(tmp_path / "report.json"), "-l", severity, str(folder)]
        command = [str(python), str(DRIVER), str(context), str(tmp_path / "cache"), *words]
        done = subprocess.run(command, capture_output=True, text=True, check=False)
        assert (tmp_path / "report.json").is_file(), done.stdout + done.stderr
        return json.loads((tmp_path / "report.json").read_text(encoding="utf-8"))

    return report


def test_every_requirement_is_met_and_every_recommendation_that_can_be(
    crate: Path, validated: Validated, tmp_path: Path
) -> None:
    check_report(validated(crate, "recommended"))
    check_report(validated(unpacked(tmp_path / "packet", Viewer.PUBLIC), "recommended"))


def check_report(report: Any) -> None:
    assert report["statistics"]["total_passed_checks"] > 100
    assert {issue["check"]["identifier"] for issue in report["issues"]} == NOT_SAID.keys()


def altered(crate: Path, change: Callable[[list[dict[str, Any]]], None]) -> bytes:
    path = crate / "ro-crate-metadata.json"
    whole = path.read_bytes()
    told = json.loads(whole)
    change(told["@graph"])
    path.write_text(json.dumps(told), encoding="utf-8")
    return whole


@pytest.mark.parametrize(
    ("spoil", "names"),
    [
        (lambda graph: graph[1].pop("license"), "license"),
        (lambda graph: graph[1].pop("datePublished"), "datePublished"),
        (lambda graph: graph[1].pop("name"), "name"),
    ],
)
def test_the_validator_finds_what_was_tampered_with(
    crate: Path, validated: Validated, spoil: Callable[[list[dict[str, Any]]], None], names: str
) -> None:
    whole = altered(crate, spoil)
    try:
        report = validated(crate, "required")
    finally:
        (crate / "ro-crate-metadata.json").write_bytes(whole)
    assert not report["passed"]
    assert any(names in issue["message"] for issue in report["issues"])


def test_the_validator_finds_that_a_file_is_missing(crate: Path, validated: Validated) -> None:
    kept = (crate / "citations.txt").read_bytes()
    (crate / "citations.txt").unlink()
    try:
        report = validated(crate, "required")
    finally:
        (crate / "citations.txt").write_bytes(kept)
    assert any("citations.txt" in json.dumps(issue) for issue in report["issues"])
