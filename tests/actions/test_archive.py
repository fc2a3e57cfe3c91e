"""An archive holds every record with its history, grows by what is new, and comes back bit for bit."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path

import pytest
from pydantic import ValidationError

from guardbook.actions.archive_catalogue import MODEL, Archived, archive_catalogue
from guardbook.actions.import_packet import Imported, import_archive
from guardbook.actions.load_demo import load_demo
from guardbook.catalogue.access import Access, Viewer
from guardbook.catalogue.catalogue import Catalogue, open_catalogue
from guardbook.errors import InvalidRecord, NotAllowed, UnreadableFile, WrongUse
from guardbook.exports.ocfl.layout import place_of
from guardbook.intake.ocfl.inventory import Inventory, inventory_from
from guardbook.records.base import Record
from tests.actions.packing import forms
from tests.catalogue.shelf import WHO, changed, made, placing, save, strip, volume
from tests.exports.taken_pictures import SECRETS, jpeg

PHOTO = made("image", "photo", file="images/p.jpg")


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """Give where the archive is to lie."""
    return tmp_path / "archive"


@pytest.fixture
def shelf(workshop: Access, own_data: Path) -> Access:
    """Keep a strip in a book, saved twice, its photograph, and a strip that was taken out."""
    save(workshop, strip(), volume(), placing(strip(), volume()), PHOTO, strip("gone"))
    save(workshop, changed(strip(), title="Seen again"), from_revision=1)
    workshop.delete(strip("gone").id, started_from=1, who=WHO, why="entered twice")
    keep_photograph(own_data, jpeg())
    return workshop


def keep_photograph(data: Path, content: bytes) -> None:
    (data / "images").mkdir(parents=True, exist_ok=True)
    (data / "images" / "p.jpg").write_bytes(content)


def inventory(root: Path, record: Record | str) -> Inventory:
    identifier = record if isinstance(record, str) else record.id
    return inventory_from((root / place_of(identifier) / "inventory.json").read_bytes())


def all_bytes(root: Path) -> dict[str, bytes]:
    return {
        path.relative_to(root).as_posix(): path.read_bytes() for path in root.rglob("*") if path.is_file()
    }


def done(result: Archived) -> tuple[int, int]:
    return result.new, result.versions


def imported(access: Access, root: Path, data: Path, *, dry_run: bool = False) -> Imported:
    return import_archive(access, root, who="Mira", what_for="read back", data=data, dry_run=dry_run)


def imported_anew(root: Path, data: Path) -> dict[str, str]:
    with open_catalogue(None) as catalogue:
        imported(catalogue.access(), root, data)
        return forms(catalogue.access())


def test_every_version_has_its_day_who_saved_it_and_what_for(shelf: Access, root: Path) -> None:
    archive_catalogue(shelf, root)
    told = list(inventory(root, strip()).in_order())
    assert [name for name, _ in told] == ["v1", "v2"]
    for (_, version), revision in zip(told, shelf.history(strip().id), strict=True):
        assert version.created == revision.when
        assert version.message == f"Revision {revision.number}: to have it"
        assert version.user is not None
        assert version.user.name == WHO
    content = root / place_of(strip().id) / "v2" / "content" / "record.nq"
    assert hashlib.sha256(content.read_bytes()).hexdigest() == shelf.history(strip().id)[-1].sha256


def test_a_record_that_was_taken_out_ends_with_a_version_without_files(shelf: Access, root: Path) -> None:
    archive_catalogue(shelf, root)
    first, last = (version for _, version in inventory(root, strip("gone")).in_order())
    assert list(first.files) == ["record.nq"]
    assert (last.files, last.message) == ({}, "Revision 2, taken out: entered twice")


def test_the_words_of_the_records_are_explained_in_an_object_of_their_own(shelf: Access, root: Path) -> None:
    archive_catalogue(shelf, root)
    (_, version), *more = inventory(root, MODEL).in_order()
    assert {"model/ontology.ttl", "model/context.jsonld", "model/terms/functions.ttl"} <= version.files.keys()
    assert more == []


def test_a_second_run_writes_nothing_and_a_third_only_what_is_new(shelf: Access, root: Path) -> None:
    assert done(archive_catalogue(shelf, root)) == (5, 8)
    before = all_bytes(root)
    assert done(archive_catalogue(shelf, root)) == (0, 0)
    assert all_bytes(root) == before
    save(shelf, changed(volume(), title="Rebound"), from_revision=1)
    save(shelf, strip("third"))
    assert done(archive_catalogue(shelf, root)) == (1, 2)
    after = all_bytes(root)
    at = place_of(volume().id).as_posix()
    altered = {path for path in before if after[path] != before[path]}
    assert altered == {f"{at}/inventory.json", f"{at}/inventory.json.sha512"}
    assert [name for name, _ in inventory(root, volume()).in_order()] == ["v1", "v2"]


def test_a_picture_that_comes_later_is_added_to_its_record(shelf: Access, root: Path, own_data: Path) -> None:
    photograph = own_data / "images" / "p.jpg"
    photograph.unlink()
    assert len(archive_catalogue(shelf, root).left_out) == 1
    keep_photograph(own_data, jpeg())
    assert done(archive_catalogue(shelf, root)) == (0, 1)
    assert done(archive_catalogue(shelf, root)) == (0, 0)
    save(shelf, changed(PHOTO, title="The back"), from_revision=1)
    assert done(archive_catalogue(shelf, root)) == (0, 1)
    versions = [version.files for _, version in inventory(root, PHOTO).in_order()]
    assert [len(files) for files in versions] == [1, 2, 2]
    assert (root / place_of(PHOTO.id) / "v2" / "content" / "images" / "p.jpg").read_bytes() == jpeg()


def test_the_whole_scenario_comes_back_bit_for_bit(root: Path, tmp_path: Path) -> None:
    with open_catalogue(None) as catalogue:
        access = catalogue.access()
        load_demo(access, if_empty=True)
        archive_catalogue(access, root)
        assert imported_anew(root, tmp_path / "other") == forms(access)
    assert len(list((tmp_path / "other").rglob("*.jpg"))) == 25


def test_what_was_taken_out_does_not_come_back_and_older_versions_stay_behind(
    shelf: Access, root: Path, tmp_path: Path
) -> None:
    archive_catalogue(shelf, root)
    assert imported_anew(root, tmp_path / "other") == forms(shelf)
    assert (tmp_path / "other" / "images" / "p.jpg").read_bytes() == jpeg()


def test_one_object_alone_is_read_too(shelf: Access, root: Path, tmp_path: Path) -> None:
    archive_catalogue(shelf, root)
    assert list(imported_anew(root / place_of(strip().id), tmp_path / "other")) == [strip().id]


@pytest.fixture
def owned(catalogue: Catalogue, own_data: Path) -> tuple[Access, Access, Record]:
    """Keep a strip of an owner who may be named, and a photograph with all that its camera noted."""
    workshop = catalogue.access()
    owner = made("agent", "owner", name="Brun Okell", mayBeNamed=True)
    piece = strip(owner=owner.id, boxLocation="safe 4", note="Lent by Brun Okell")
    save(workshop, owner, piece, strip("hidden", visibility="workshop"), PHOTO)
    keep_photograph(own_data, jpeg())
    return workshop, catalogue.access(Viewer.PUBLIC), owner


def test_an_archive_for_the_public_holds_what_the_public_may_see(
    owned: tuple[Access, Access, Record], root: Path, tmp_path: Path
) -> None:
    _, public, _ = owned
    archive_catalogue(public, root)
    told = b"".join(all_bytes(root).values())
    assert b"Brun Okell" in told
    for word in ("safe 4", WHO, "to have it", strip("hidden").identifier, *SECRETS[1:]):
        assert word.encode() not in told
    assert imported_anew(root, tmp_path / "other") == forms(public)


def test_an_owner_who_takes_back_consent_is_gone_from_older_versions_too(
    owned: tuple[Access, Access, Record], root: Path
) -> None:
    workshop, public, owner = owned
    archive_catalogue(public, root)
    save(workshop, changed(owner, may_be_named=False), from_revision=1)
    result = archive_catalogue(public, root)
    assert (result.written_anew, result.taken_out) == ((strip().id,), (owner.id,))
    assert not any(
        b"Okell" in content or owner.identifier in path for path, content in all_bytes(root).items()
    )
    assert not (root / place_of(owner.id)).parent.exists()


def test_an_archive_for_the_public_is_not_filled_with_what_is_for_the_workshop(
    owned: tuple[Access, Access, Record], root: Path
) -> None:
    workshop, public, _ = owned
    archive_catalogue(public, root)
    with pytest.raises(WrongUse, match=", the public, and not of"):
        archive_catalogue(workshop, root)


def test_a_folder_that_holds_something_else_is_left_alone(shelf: Access, root: Path) -> None:
    root.mkdir()
    (root / "letter.txt").write_text("Dear Mira")
    with pytest.raises(WrongUse, match="holds something else"):
        archive_catalogue(shelf, root)
    assert list(all_bytes(root)) == ["letter.txt"]


def test_an_archive_whose_history_was_changed_is_not_carried_on(shelf: Access, root: Path) -> None:
    archive_catalogue(shelf, root)
    path = root / place_of(strip().id) / "inventory.json"
    told = json.loads(path.read_bytes())
    told["versions"]["v1"]["message"] = "Revision 1: nothing to see"
    path.write_text(json.dumps(told))
    with pytest.raises(UnreadableFile, match="versions that the catalogue never had"):
        archive_catalogue(shelf, root)


def test_a_run_that_was_cut_short_is_put_right_by_the_next(shelf: Access, root: Path) -> None:
    archive_catalogue(shelf, root)
    whole = all_bytes(root)
    place = root / place_of(strip().id)
    (place / "v3" / "content").mkdir(parents=True)
    (place / "v3" / "content" / "record.nq").write_bytes(b"half")
    (place / "inventory.json.sha512").write_bytes(b"of an older one")
    (place / ".inventory.json").write_bytes(b"half")
    (root / ".coming-1" / "object").mkdir(parents=True)
    (root / ".coming-1" / "object" / "inventory.json").write_bytes(b"half")
    archive_catalogue(shelf, root)
    assert all_bytes(root) == whole


def test_the_public_imports_no_archive(shelf: Access, public: Access, root: Path, tmp_path: Path) -> None:
    archive_catalogue(shelf, root)
    with pytest.raises(NotAllowed):
        imported(public, root, tmp_path / "other")


def test_an_archive_imported_twice_changes_nothing_and_overwrites_nothing(
    shelf: Access, root: Path, tmp_path: Path
) -> None:
    archive_catalogue(shelf, root)
    sequence = shelf.sequence
    assert imported(shelf, root, tmp_path / "other").new == ()
    assert shelf.sequence == sequence
    save(shelf, changed(volume(), title="Mine"), from_revision=1)
    with pytest.raises(InvalidRecord, match="says something else"):
        imported(shelf, root, tmp_path / "other")


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("head", "v3"),
        ("type", "https://ocfl.io/1.0/spec/#inventory"),
        ("versions", {}),
        ("manifest", {}),
        ("extra", 1),
        ("id", ""),
        ("contentDirectory", ".."),
    ],
)
def test_an_inventory_that_does_not_hold_together_is_refused(
    shelf: Access, root: Path, field: str, value: object
) -> None:
    archive_catalogue(shelf, root)
    told = json.loads(inventory(root, strip()).as_json())
    assert inventory_from(json.dumps(told).encode()) == inventory(root, strip())
    with pytest.raises(ValidationError):
        inventory_from(json.dumps({**told, field: value}).encode())


def test_nothing_is_left_aside(shelf: Access, root: Path) -> None:
    archive_catalogue(shelf, root)
    assert not [path for path in root.iterdir() if path.name.startswith(".")]
    assert list(root.parent.glob("*archive*")) == [root]
