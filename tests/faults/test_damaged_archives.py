"""An archive that was damaged or changed is refused, with everything that is wrong; nothing of it is kept."""

from __future__ import annotations

import hashlib
import json
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from guardbook.actions.archive_catalogue import archive_catalogue
from guardbook.actions.import_packet import import_archive
from guardbook.catalogue.access import Access
from guardbook.catalogue.catalogue import open_catalogue
from guardbook.errors import UnreadableFile
from guardbook.exports.ocfl.layout import place_of
from tests.catalogue.shelf import changed, save, strip, volume

AT = place_of(strip().id)


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Keep an archive of a strip that was saved twice, and of a volume."""
    root = tmp_path_factory.mktemp("kept") / "archive"
    with open_catalogue(None) as catalogue:
        save(catalogue.access(), strip(), volume())
        save(catalogue.access(), changed(strip(), title="Seen again"), from_revision=1)
        archive_catalogue(catalogue.access(), root)
    return root


@pytest.fixture
def root(kept: Path, tmp_path: Path) -> Path:
    """Give a copy of it to be damaged."""
    return Path(shutil.copytree(kept, tmp_path / "archive"))


@pytest.fixture
def empty() -> Iterator[Access]:
    with open_catalogue(None) as catalogue:
        yield catalogue.access()


@pytest.fixture
def refused(empty: Access, tmp_path: Path) -> Callable[[Path], str]:
    """Give the words with which an archive is refused, once nothing of it is kept."""

    def words(folder: Path) -> str:
        with pytest.raises(UnreadableFile) as refusal:
            import_archive(empty, folder, who="Mira", what_for="tried", data=tmp_path / "data")
        assert (list(empty.iris()), (tmp_path / "data").exists()) == ([], False)
        return str(refusal.value)

    return words


Refused = Callable[[Path], str]


def test_the_archive_itself_is_taken(root: Path, empty: Access, tmp_path: Path) -> None:
    done = import_archive(empty, root, who="Mira", what_for="tried", data=tmp_path / "data")
    assert sorted(done.new) == sorted([strip().id, volume().id])


@pytest.mark.parametrize(
    "path",
    [
        AT / "inventory.json",
        AT / "inventory.json.sha512",
        AT / "v1" / "inventory.json",
        AT / "v2" / "inventory.json.sha512",
        AT / "v1" / "content" / "record.nq",
        AT / "v2" / "content" / "record.nq",
        AT / "0=ocfl_object_1.1",
    ],
    ids=str,
)
def test_a_changed_file_is_named(root: Path, path: Path, refused: Refused) -> None:
    data = (root / path).read_bytes()
    (root / path).write_bytes(data.replace(b"a", b"b", 1) + b" ")
    assert AT.name in refused(root)


@pytest.mark.parametrize(
    "path",
    [AT / "inventory.json", AT / "inventory.json.sha512", AT / "v1" / "content" / "record.nq"],
    ids=str,
)
def test_a_missing_file_is_named(root: Path, path: Path, refused: Refused) -> None:
    (root / path).unlink()
    assert f"{AT.name}, " in refused(root)


@pytest.mark.parametrize(
    "path",
    [
        AT / "letter.txt",
        AT / "v1" / "content" / "letter.txt",
        AT / "v3" / "content" / "record.nq",
        AT.parent / "letter.txt",
        Path("abc") / "letter.txt",
    ],
    ids=str,
)
def test_a_file_that_nobody_listed_is_named(root: Path, path: Path, refused: Refused) -> None:
    (root / path).parent.mkdir(parents=True, exist_ok=True)
    (root / path).write_bytes(b"hello")
    assert path.name in refused(root)


@pytest.mark.parametrize("path", [AT / "v1" / "content" / "empty", Path("abc")], ids=str)
def test_an_empty_folder_is_named(root: Path, path: Path, refused: Refused) -> None:
    (root / path).mkdir(parents=True)
    assert "an empty folder" in refused(root)


def test_a_link_to_a_file_elsewhere_is_not_followed(root: Path, refused: Refused, tmp_path: Path) -> None:
    content = root / AT / "v2" / "content" / "record.nq"
    (tmp_path / "secret.nq").write_bytes(content.read_bytes())
    content.unlink()
    content.symlink_to(tmp_path / "secret.nq")
    assert "E090" in refused(root)


def altered(root: Path, change: Callable[[dict[str, dict[str, object]]], None]) -> None:
    """Change an inventory and write digests that fit it, as one who forges an archive would."""
    for folder in (root / AT, root / AT / "v2"):
        told = json.loads((folder / "inventory.json").read_bytes())
        change(told)
        data = json.dumps(told).encode()
        (folder / "inventory.json").write_bytes(data)
        (folder / "inventory.json.sha512").write_text(f"{hashlib.sha512(data).hexdigest()} inventory.json\n")


def test_a_forged_inventory_that_leads_out_of_the_object_is_refused(root: Path, refused: Refused) -> None:
    def lead_out(told: dict[str, dict[str, object]]) -> None:
        told["manifest"] = {key: ["v1/content/../../../../../secret.nq"] for key in told["manifest"]}

    altered(root, lead_out)
    assert "E099" in refused(root)


def test_a_forged_inventory_that_gives_an_old_version_other_files_is_refused(
    root: Path, refused: Refused
) -> None:
    def swap(told: dict[str, dict[str, object]]) -> None:
        first, second = (told["versions"][name] for name in ("v1", "v2"))
        first["state"], second["state"] = second["state"], first["state"]  # type: ignore[index]  # of a version

    altered(root, swap)
    assert "E066" in refused(root)


def test_a_record_under_the_name_of_another_is_refused(root: Path, refused: Refused) -> None:
    def rename(told: dict[str, dict[str, object]]) -> None:
        told["id"] = strip("other").id  # type: ignore[assignment]  # a text

    altered(root, rename)
    assert strip().id in refused(root)


def test_a_folder_that_is_no_archive_is_refused(tmp_path: Path, refused: Refused) -> None:
    (tmp_path / "photographs").mkdir()
    assert "0=ocfl_1.1" in refused(tmp_path / "photographs")


def test_every_fault_of_every_object_is_told_at_once(root: Path, refused: Refused) -> None:
    other = place_of(volume().id)
    for at in (AT, other):
        (root / at / "v1" / "content" / "record.nq").write_bytes(b"")
    words = refused(root)
    assert AT.name in words
    assert other.name in words
