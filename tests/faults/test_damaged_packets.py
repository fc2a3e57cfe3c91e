"""A packet that was damaged, forged or made to do harm is refused, with what is wrong; nothing is kept."""

from __future__ import annotations

import io
import stat
import zipfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from guardbook.catalogue.access import Access
from guardbook.catalogue.catalogue import open_catalogue
from guardbook.errors import GuardbookError, UnreadableFile
from guardbook.intake.packet import place_in_packet
from tests.actions.packing import TOP, files_of, forms, imported, imported_anew, packed, with_sums, zipped
from tests.catalogue.shelf import made, placing, save, strip, volume

Files = dict[str, bytes]
RECORDS = "data/records/records.trig"


def _packet() -> tuple[bytes, dict[str, str]]:
    """Make a small packet, and give the canonical forms of its records."""
    with open_catalogue(None) as catalogue:
        access = catalogue.access()
        keeper = made("institution", "keeper", name="Library of the Weir")
        piece = strip(keeper=keeper.id, height="45.50")
        save(access, keeper, piece, volume(), placing(piece, volume()))
        return packed(access), forms(access)


WHOLE, FORMS = _packet()
FILES = files_of(WHOLE)


@pytest.fixture
def empty() -> Iterator[Access]:
    with open_catalogue(None) as catalogue:
        yield catalogue.access()


@pytest.fixture
def refused(empty: Access, tmp_path: Path) -> Callable[[bytes], str]:
    """Give the words with which a packet is refused, once nothing of it is kept."""

    def words(data: bytes) -> str:
        with pytest.raises(UnreadableFile) as refusal:
            imported(empty, data, tmp_path / "data")
        assert (list(empty.iris()), list(tmp_path.iterdir())) == ([], [])
        assert refusal.value.faults
        return str(refusal.value)

    return words


Refused = Callable[[bytes], str]


def without(name: str) -> Files:
    return {path: content for path, content in FILES.items() if path != name}


def test_the_packet_itself_is_taken(tmp_path: Path) -> None:
    assert imported_anew(WHOLE, tmp_path) == FORMS
    assert imported_anew(zipped(with_sums(FILES)), tmp_path) == FORMS


@pytest.mark.parametrize("name", sorted(path for path in FILES if "/model/" not in path))
def test_a_changed_file_is_named_with_the_checksum_it_should_have(name: str, refused: Refused) -> None:
    assert name in refused(zipped({**FILES, name: FILES[name] + b" "}))


@pytest.mark.parametrize("name", sorted(path for path in FILES if "/model/" not in path))
def test_a_missing_file_is_named(name: str, refused: Refused) -> None:
    assert name in refused(zipped(without(name)))


def test_a_file_that_nobody_listed_is_named(refused: Refused) -> None:
    assert "data/extra.txt" in refused(zipped({**FILES, "data/extra.txt": b"hello"}))


def test_every_fault_is_told_at_once(refused: Refused) -> None:
    spoilt = {**without("data/citations.txt"), "data/README.txt": b"", "data/extra.txt": b""}
    words = refused(zipped(spoilt))
    assert all(name in words for name in ("citations.txt", "README.txt", "extra.txt"))


@pytest.mark.parametrize(
    ("name", "content", "expected"),
    [
        ("bagit.txt", b"BagIt-Version: 2.0\n", "version 1.0"),
        ("fetch.txt", b"https://far.example/a 1 data/a\n", "holds all its files"),
        (RECORDS, b"<a> <b> ", "TriG without syntax errors"),
        (
            RECORDS,
            b"<http://far.example/a> { <http://far.example/a> <http://x.example/b> 1 }",
            "GUARDBOOK_BASE",
        ),
        ("data/records/revisions.csv", b"record,sha256\n", "only records that are listed"),
    ],
)
def test_a_forged_packet_with_fitting_checksums_is_refused_too(
    name: str, content: bytes, expected: str, refused: Refused
) -> None:
    assert expected in refused(zipped(with_sums({**FILES, name: content})))


def test_a_measurement_changed_under_fitting_checksums_is_found_by_its_canonical_hash(
    refused: Refused,
) -> None:
    changed = FILES[RECORDS].replace(b"45.50", b"45.5")
    words = refused(zipped(with_sums({**FILES, RECORDS: changed})))
    assert strip().id in words
    assert "SHA-256" in words


@pytest.mark.parametrize("data", [b"", b"PK", b"not a packet", WHOLE[: len(WHOLE) // 2], zipped({})])
def test_what_is_no_archive_or_half_of_one_is_refused(data: bytes, refused: Refused) -> None:
    assert "p.zip" in refused(data)


@pytest.mark.parametrize("top", ["", "one/two/", "../", "/", "a:b/"])
def test_an_archive_laid_out_otherwise_is_refused(top: str, refused: Refused) -> None:
    assert "p.zip" in refused(zipped(FILES, top))


@pytest.mark.parametrize(
    "name",
    [
        "../../evil.txt",
        "/etc/evil",
        "..\\evil.txt",
        "C:evil",
        "data/./a",
        "data//a",
        "data/../../a",
        "a\x01b",
    ],
)
def test_a_name_that_leads_out_is_refused_before_anything_is_read(name: str, refused: Refused) -> None:
    output = io.BytesIO(WHOLE)
    with zipfile.ZipFile(output, "a") as archive:
        archive.writestr(name, b"evil")
    assert "evil" in refused(output.getvalue()) or "name" in refused(output.getvalue())


def added(entry: zipfile.ZipInfo, content: bytes) -> bytes:
    output = io.BytesIO(WHOLE)
    with zipfile.ZipFile(output, "a", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(entry, content)
    return output.getvalue()


def test_a_link_is_refused(refused: Refused) -> None:
    link = zipfile.ZipInfo(f"{TOP}data/link")
    link.external_attr = (stat.S_IFLNK | 0o777) << 16
    assert "a link or a device" in refused(added(link, b"/etc/passwd"))


@pytest.mark.parametrize("flag", [0x1, 0x20, 0x40])
def test_a_file_behind_a_password_is_refused(flag: int, refused: Refused) -> None:
    spoilt = bytearray(WHOLE)
    spoilt[WHOLE.rindex(b"PK\x01\x02") + 8] |= flag
    assert "password" in refused(bytes(spoilt))


def test_a_file_that_is_there_twice_is_refused(refused: Refused) -> None:
    assert "2 times" in refused(added(zipfile.ZipInfo(f"{TOP}DATA/README.TXT"), b"another"))


def test_an_archive_that_unpacks_to_a_flood_is_refused_unread(refused: Refused) -> None:
    flood = zipfile.ZipInfo(f"{TOP}data/flood")
    flood.compress_type = zipfile.ZIP_DEFLATED
    assert "flood" in refused(added(flood, bytes(150_000_000)))


def test_files_that_share_their_bytes_are_refused(refused: Refused) -> None:
    """As in archives whose many names all unpack the same bytes (Fifield, WOOT 2019)."""
    output = io.BytesIO(WHOLE)
    with zipfile.ZipFile(output, "a") as archive:
        first = archive.infolist()[0]
        again = zipfile.ZipInfo(f"{TOP}data/again")
        again.header_offset, again.compress_type = first.header_offset, first.compress_type
        again.CRC, again.compress_size, again.file_size = first.CRC, first.compress_size, first.file_size
        archive.filelist.append(again)
        archive.NameToInfo[again.filename] = again
        archive.comment = b"written anew"
    assert "share bytes" in refused(output.getvalue())


def test_a_picture_that_would_lie_outside_its_folder_is_refused(empty: Access, tmp_path: Path) -> None:
    content = b"a picture"
    file = "images/../../evil.jpg"
    image = made("image", "photo", depicts=[strip().id], file=file)
    place = f"data/{place_in_packet(file)}"
    with open_catalogue(None) as catalogue:
        save(catalogue.access(), strip(), image)
        files = files_of(packed(catalogue.access()))
    with pytest.raises(GuardbookError, match="evil"):
        imported(empty, zipped(with_sums({**files, place: content})), tmp_path / "data")
    assert (list(empty.iris()), list(tmp_path.rglob("*.jpg"))) == ([], [])


@given(at=st.integers(0, len(WHOLE) - 1), bit=st.integers(0, 7))
@settings(max_examples=150, suppress_health_check=[HealthCheck.too_slow])
def test_one_flipped_bit_anywhere_is_refused_or_does_no_harm(
    at: int, bit: int, tmp_path_factory: pytest.TempPathFactory
) -> None:
    spoilt = bytearray(WHOLE)
    spoilt[at] ^= 1 << bit
    try:
        back = imported_anew(bytes(spoilt), tmp_path_factory.mktemp("data"))
    except UnreadableFile:
        return
    assert back == FORMS
