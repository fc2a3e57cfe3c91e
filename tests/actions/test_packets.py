"""A packet holds all that it should, and comes back bit for bit."""

from __future__ import annotations

import csv
import hashlib
import io
import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from guardbook import settings
from guardbook.actions.load_demo import load_demo
from guardbook.actions.make_packet import make_packet
from guardbook.catalogue.access import Access, Viewer
from guardbook.catalogue.catalogue import Catalogue, open_catalogue
from guardbook.errors import InvalidRecord, NotAllowed, NotFound, WrongUse
from guardbook.intake.packet import place_in_packet
from tests.actions.packing import files_of, forms, imported, imported_anew, packed, zipped
from tests.catalogue.shelf import changed, made, placing, save, strip, volume
from tests.exports.taken_pictures import SECRETS, jpeg

BOOK = volume()


@pytest.fixture(scope="module")
def demo() -> Iterator[Catalogue]:
    with open_catalogue(None) as catalogue:
        load_demo(catalogue.access(), if_empty=True)
        yield catalogue


def test_the_whole_scenario_comes_back_bit_for_bit_with_its_pictures(demo: Catalogue, tmp_path: Path) -> None:
    access = demo.access()
    with open_catalogue(None) as catalogue:
        fresh = catalogue.access()
        done = imported(fresh, packed(access), tmp_path)
        assert forms(fresh) == forms(access)
        assert fresh.verify() == ()
        hashes = {rev.iri: rev.sha256 for iri in fresh.iris() for rev in fresh.history(iri)}
        again = packed(fresh)
    assert hashes == {iri: access.history(iri)[-1].sha256 for iri in access.iris()}
    assert (len(done.new), done.unchanged) == (len(list(access.iris())), ())
    kept = {path.relative_to(tmp_path).as_posix(): path.read_bytes() for path in tmp_path.rglob("*.jpg")}
    assert len(kept) == done.pictures
    assert all(content == (settings.current().demo / name).read_bytes() for name, content in kept.items())
    one, other = files_of(packed(access)), files_of(again)
    assert one["data/records/records.trig"] == other["data/records/records.trig"]


def test_what_the_public_gets_comes_back_too(demo: Catalogue, tmp_path: Path) -> None:
    public = demo.access(Viewer.PUBLIC)
    assert imported_anew(packed(public), tmp_path) == forms(public)


def test_a_packet_that_is_imported_twice_changes_nothing(demo: Catalogue, tmp_path: Path) -> None:
    data = packed(demo.access())
    with open_catalogue(None) as catalogue:
        access = catalogue.access()
        imported(access, data, tmp_path)
        sequence = access.sequence
        again = imported(access, data, tmp_path)
        assert (again.new, access.sequence) == ((), sequence)
        assert len(again.unchanged) == len(list(access.iris()))


def test_a_dry_run_keeps_nothing(demo: Catalogue, workshop: Access, tmp_path: Path) -> None:
    assert imported(workshop, packed(demo.access()), tmp_path, dry_run=True).new
    assert (list(workshop.iris()), list(tmp_path.iterdir())) == ([], [])


@pytest.fixture
def shelf(workshop: Access) -> Access:
    """Keep a strip in a book, with its keeper and reading, and another strip beside them."""
    keeper = made("institution", "keeper", name="Library of the Weir")
    piece = strip(keeper=keeper.id)
    reading = made("reading", "read", about=[piece.id], claim="A psalter")
    save(workshop, keeper, piece, BOOK, placing(piece, BOOK), reading, strip("other"))
    return workshop


@pytest.mark.parametrize("name", [strip().id, BOOK.id])
def test_with_a_piece_or_a_volume_goes_all_that_it_hangs_on(shelf: Access, name: str, tmp_path: Path) -> None:
    back = imported_anew(packed(shelf, name), tmp_path)
    assert sorted(iri.split("/")[-2] for iri in back) == [
        "fragment",
        "host",
        "institution",
        "placing",
        "reading",
    ]
    assert strip("other").id not in back


def test_a_packet_of_no_records_or_of_unknown_ones_is_refused(shelf: Access) -> None:
    with pytest.raises(WrongUse):
        make_packet(shelf, [], io.BytesIO())
    with pytest.raises(NotFound):
        make_packet(shelf, ["W-999"], io.BytesIO())


def test_nothing_private_stands_in_any_file_of_a_public_packet(workshop: Access, public: Access) -> None:
    owner = made("agent", "owner", name="Brun Okell", mayBeNamed=False)
    piece = strip(owner=owner.id, boxLocation="safe 4", valuation="900 marks", note="Lent by Brun Okell")
    hidden = strip("hidden", title="Kept from sight", visibility="workshop")
    save(workshop, owner, piece, hidden)
    everything = b"\n".join(files_of(packed(public)).values()).decode()
    assert piece.id in everything
    for word in ("Okell", "safe 4", "900 marks", "Kept from sight", hidden.identifier, owner.identifier):
        assert word not in everything
        assert word in b"\n".join(files_of(packed(workshop)).values()).decode()


def test_a_packet_for_the_public_says_what_is_withheld_and_not_whether_there_is_any(
    workshop: Access, public: Access
) -> None:
    save(workshop, strip())
    before = told_in(public)
    save(workshop, strip("hidden", visibility="workshop"), made("agent", "owner", name="Brun Okell"))
    assert told_in(public) == before
    assert "records that are not public" in before
    assert "private notes" in before
    assert "Nothing was left out." in told_in(workshop)


def told_in(access: Access, *names: str) -> str:
    """Give the words at the end of the README of a packet, on one line."""
    readme = files_of(packed(access, *names))["data/README.txt"].decode()
    return " ".join(readme.partition("sorted.")[2].split())


def test_a_packet_of_a_piece_names_the_other_pieces_of_its_volume(shelf: Access, public: Access) -> None:
    other, hidden = strip("other"), strip("hidden", visibility="workshop")
    save(shelf, placing(other, BOOK), hidden, placing(hidden, BOOK))
    assert f"other pieces of {BOOK.short} (A volume), with what happened to them: " in told_in(
        shelf, strip().id
    )
    assert all(one.short in told_in(shelf, strip().id) for one in (other, hidden))
    assert other.short in told_in(public, strip().id)
    assert hidden.short not in told_in(public, strip().id)
    assert "Nothing was left out." in told_in(shelf, BOOK.id)


def test_the_crm_of_a_packet_tells_of_every_record(shelf: Access) -> None:
    told = files_of(packed(shelf))["data/records/crm.ttl"].decode()
    assert [iri for iri in shelf.iris() if iri not in told] == []


def picture(file: str, content: bytes | None) -> None:
    path = settings.current().data / file
    if content is not None:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)


@pytest.mark.parametrize("content", [None, b"another picture"])
def test_a_picture_that_is_missing_or_is_another_is_named_and_left_out(
    workshop: Access, content: bytes | None, own_data: Path
) -> None:
    image = made("image", "photo", depicts=[strip().id], file="images/p.jpg", sha256="0" * 64)
    save(workshop, strip(), image)
    picture("images/p.jpg", content)
    output = io.BytesIO()
    done = make_packet(workshop, None, output)
    assert (done.pictures, [image.short in line for line in done.left_out]) == (0, [True])
    assert image.short in files_of(output.getvalue())["data/README.txt"].decode()


@pytest.mark.parametrize(
    "file", ["images/a b.jpg", "images/ànec (2)%0A.jpg", "images/x/../y:z.PNG", "images/נ.tif"]
)
def test_a_picture_of_any_name_comes_back_to_its_place(
    workshop: Access, file: str, own_data: Path, tmp_path: Path
) -> None:
    content = b"a picture"
    save(
        workshop,
        strip(),
        made("image", "photo", depicts=[strip().id], file=file, sha256=hashlib.sha256(content).hexdigest()),
    )
    (own_data / "images" / "x").mkdir(parents=True)
    picture(file, content)
    other = tmp_path / "other"
    imported_anew(packed(workshop), other)
    assert [path.read_bytes() for path in other.rglob("*") if path.is_file()] == [content]
    assert (other / file).resolve().is_file()
    assert place_in_packet(file).isascii()


def test_a_record_that_says_something_else_here_is_not_overwritten(shelf: Access, tmp_path: Path) -> None:
    data = packed(shelf)
    save(shelf, changed(strip("other"), title="Mine"), from_revision=1)
    with pytest.raises(InvalidRecord) as refusal:
        imported(shelf, data, tmp_path)
    assert [fault.where for fault in refusal.value.faults] == [strip("other").short]
    assert "revision 2" in refusal.value.faults[0].expected


def test_a_record_that_was_taken_out_here_does_not_come_back_unasked(shelf: Access, tmp_path: Path) -> None:
    data = packed(shelf)
    shelf.delete(strip("other").id, started_from=1, who="Mira", why="entered twice")
    with pytest.raises(InvalidRecord, match="taken out"):
        imported(shelf, data, tmp_path)


def test_the_public_imports_nothing(shelf: Access, public: Access, tmp_path: Path) -> None:
    with pytest.raises(NotAllowed):
        imported(public, packed(shelf), tmp_path)


def test_another_picture_in_its_place_is_not_overwritten(
    demo: Catalogue, workshop: Access, tmp_path: Path
) -> None:
    taken = tmp_path / "images" / "tanners-cover-outside.jpg"
    taken.parent.mkdir()
    taken.write_bytes(b"mine")
    with pytest.raises(InvalidRecord, match=r"another images/tanners-cover-outside\.jpg"):
        imported(workshop, packed(demo.access()), tmp_path)
    assert (taken.read_bytes(), list(workshop.iris()), len(list(tmp_path.rglob("*.*")))) == (b"mine", [], 1)


@pytest.fixture
def photographed(workshop: Access, own_data: Path) -> bytes:
    """Keep a photograph in whose file the camera noted who, where and with what; give the file."""
    content = jpeg()
    picture("images/p.jpg", content)
    image = made("image", "photo", depicts=[strip().id], file="images/p.jpg", sha256=sha256(content))
    save(workshop, strip(), image)
    return content


def sha256(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


def test_a_public_packet_holds_the_picture_and_nothing_that_its_camera_noted(
    photographed: bytes, public: Access, own_data: Path, tmp_path: Path
) -> None:
    files = files_of(packed(public))
    given = files["data/images/p.jpg"]
    assert not any(word.encode() in b"".join(files.values()) for word in SECRETS)
    assert f"{sha256(given)}  data/images/p.jpg" in files["manifest-sha256.txt"].decode()
    assert sha256(given) in files["data/records/records.trig"].decode()
    assert sha256(photographed) not in b"".join(files.values()).decode("utf-8", errors="replace")
    assert (own_data / "images" / "p.jpg").read_bytes() == photographed
    imported_anew(packed(public), tmp_path / "other")
    assert (tmp_path / "other" / "images" / "p.jpg").read_bytes() == given


def test_a_packet_of_the_workshop_holds_the_file_as_it_is_kept(photographed: bytes, workshop: Access) -> None:
    assert files_of(packed(workshop))["data/images/p.jpg"] == photographed


def test_a_picture_that_cannot_be_given_to_the_public_is_named_and_left_out(
    workshop: Access, public: Access, own_data: Path
) -> None:
    for number, content in enumerate((b"GIF89a...", jpeg()[:100])):
        picture(f"images/{number}.jpg", content)
        save(workshop, made("image", f"photo {number}", file=f"images/{number}.jpg", sha256=sha256(content)))
    output = io.BytesIO()
    done = make_packet(public, None, output)
    assert (done.pictures, len(done.left_out)) == (0, 3)
    assert make_packet(workshop, None, io.BytesIO()).pictures == 2


def test_a_packet_of_a_volume_has_its_manifest_and_its_reports(demo: Catalogue) -> None:
    files = files_of(packed(demo.access(), "N6Y9VM-C"))
    assert json.loads(files["data/iiif/host-N6Y9VM-C.json"])["type"] == "Manifest"
    for reader in ("owner", "scholar"):
        assert files[f"data/papers/host-N6Y9VM-C-{reader}.pdf"].startswith(b"%PDF-")


def test_all_records_are_packed_without_reports_unless_these_are_asked_for(shelf: Access) -> None:
    assert not any("/papers/" in name for name in files_of(packed(shelf)))
    output = io.BytesIO()
    make_packet(shelf, None, output, with_reports=True)
    papers = [name for name in files_of(output.getvalue()) if "/papers/" in name]
    assert len(papers) == 2 * len([strip(), strip("other"), BOOK])


def test_the_same_packet_of_the_same_records_is_the_same_bytes(demo: Catalogue) -> None:
    names = ("N6Y9VM-C", "B89RYC-6")
    assert packed(demo.access(), *names) == packed(demo.access(), *names)


# what tells of the revision here, and of when that was
OF_THIS_CATALOGUE = {
    "manifest-sha256.txt",
    "tagmanifest-sha256.txt",
    "bag-info.txt",
    "data/ro-crate-metadata.json",
    "data/records/revisions.csv",
    "data/citations.txt",
    "data/tei/descriptions.xml",
}


def test_a_packet_of_what_came_by_packet_differs_only_in_what_tells_of_revisions(
    demo: Catalogue, tmp_path: Path
) -> None:
    one = files_of(packed(demo.access()))
    with open_catalogue(None) as catalogue:
        imported(catalogue.access(), zipped(one), tmp_path)
        other = files_of(packed(catalogue.access()))
    assert one.keys() == other.keys()
    assert {name for name in one if one[name] != other[name]} <= OF_THIS_CATALOGUE
    assert hashes_in(one) == hashes_in(other)


def hashes_in(files: dict[str, bytes]) -> dict[str, str]:
    """Give the canonical hash of each record that a packet lists."""
    rows = csv.DictReader(io.StringIO(files["data/records/revisions.csv"].decode()))
    return {row["record"]: row["sha256"] for row in rows}
