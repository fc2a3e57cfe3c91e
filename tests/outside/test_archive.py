"""Archives read by a validator that others wrote.

Source: PyPI `ocfl-py` 2.1 (the OCFL specification's own fixtures are its tests), OCFL 1.1, and OCFL Community
Extension 0003 for the places of objects.
"""

from __future__ import annotations

import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from guardbook.actions.archive_catalogue import archive_catalogue
from guardbook.actions.load_demo import load_demo
from guardbook.catalogue.access import Viewer
from guardbook.catalogue.catalogue import Catalogue, open_catalogue
from guardbook.exports.ocfl.layout import place_of
from tests.catalogue.shelf import changed, save, strip

LONG = "abcdefghij" * 26
DIGEST_OF_LONG = "55b432806f4e270da0cf23815ed338742179002153cd8d896f23b3e2d8a14359"


@pytest.fixture(scope="module", params=Viewer)
def root(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Keep the scenario in an archive by two runs, with records that were changed, added and taken out."""
    folder = tmp_path_factory.mktemp("archive") / "root"
    for catalogue in kept():
        viewer = catalogue.access(request.param)
        archive_catalogue(viewer, folder)
        workshop = catalogue.access()
        save(workshop, changed(strip(), title="Seen again"), from_revision=1)
        workshop.delete(strip("gone").id, started_from=1, who="Mira", why="entered twice")
        archive_catalogue(viewer, folder)
    return folder


def kept() -> Iterator[Catalogue]:
    with open_catalogue(None) as catalogue:
        load_demo(catalogue.access(), if_empty=True)
        save(catalogue.access(), strip(), strip("gone"))
        yield catalogue


@pytest.fixture
def validated(needs: Callable[[str], Path]) -> Callable[[Path], str]:
    """Give what the validator says of a storage root, all objects and digests checked."""
    program = needs("ocfl-py").parent / "ocfl-root.py"

    def words(folder: Path) -> str:
        command = [str(program), "validate", "--validate-objects", "--check-digests", "--root", str(folder)]
        done = subprocess.run(command, capture_output=True, text=True, check=False)
        return done.stdout + done.stderr

    return words


def test_the_validator_finds_every_object_valid_and_nothing_to_warn_of(
    root: Path, validated: Callable[[Path], str]
) -> None:
    words = validated(root)
    objects = len(list(root.rglob("0=ocfl_object_1.1")))
    assert f"Storage root {root} is VALID" in words
    assert f"Objects checked: {objects} / {objects} are VALID" in words
    assert "WARNING" not in words
    assert "[W" not in words


def test_the_validator_finds_a_file_that_was_tampered_with(
    root: Path, validated: Callable[[Path], str]
) -> None:
    content = root / place_of(strip().id) / "v1" / "content" / "record.nq"
    whole = content.read_bytes()
    content.write_bytes(whole.replace(b"strip", b"slip"))
    try:
        assert "E092" in validated(root)
    finally:
        content.write_bytes(whole)


@pytest.mark.parametrize(
    ("identifier", "path"),
    [
        ("object-01", "3c0/ff4/240/object-01"),
        ("..hor/rib:le-$id", "487/326/d8c/%2e%2ehor%2frib%3ale-%24id"),
        ("..Hor/rib:lè-$id", "373/529/21a/%2e%2eHor%2frib%3al%c3%a8-%24id"),
        (
            LONG,
            f"55b/432/806/{LONG[:100]}-{DIGEST_OF_LONG}",
        ),
    ],
)
def test_an_object_lies_where_the_extension_puts_it(identifier: str, path: str) -> None:
    """Source: the examples of OCFL Community Extension 0003."""
    assert str(place_of(identifier)) == path
