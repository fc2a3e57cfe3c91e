"""What is printed is what programs that are not ours find on it.

Sources: PDF 1.7 (ISO 32000-1:2008), tagged PDF in 14.8, and PDF/UA-1 (ISO 14289-1:2014), both from memory, as
read by pikepdf (qpdf) and poppler; QR codes (ISO/IEC 18004) by zbar.
"""

from __future__ import annotations

import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from guardbook.actions.load_demo import load_demo
from guardbook.actions.make_bench_sheet import make_bench_sheet
from guardbook.actions.make_label import make_labels
from guardbook.actions.make_report import make_report
from guardbook.catalogue.access import Access, Viewer
from guardbook.catalogue.catalogue import Catalogue, open_catalogue
from guardbook.records import terms
from tests.catalogue.shelf import iri, made, save
from tests.outside.papers import fonts, opened, outline, read_codes, tags, text_of

Needs = Callable[[str], Path]
TOLL_BOOK, STRIP, SURVEY = "host/5JZSY8-3", "fragment/B89RYC-6", "host/0N5X64-V"
SHEET_OF_LETTERS = ("#import", "*bold*", "= title", "שלום", "e\u0301p\u0304", "漢")


@pytest.fixture(scope="module")
def demo() -> Iterator[Catalogue]:
    with open_catalogue(None) as catalogue:
        load_demo(catalogue.access(), if_empty=True)
        yield catalogue


@pytest.fixture(scope="module")
def papers(demo: Catalogue) -> dict[str, bytes]:
    """Give one of each paper."""
    access = demo.access()
    return {
        "owner": make_report(access, TOLL_BOOK),
        "scholar": make_report(access, STRIP, "scholar"),
        "labels": make_labels(access, [STRIP, TOLL_BOOK, SURVEY], "a4"),
        "bench": make_bench_sheet(access, TOLL_BOOK),
    }


@pytest.fixture(params=["owner", "scholar", "labels", "bench"])
def paper(request: pytest.FixtureRequest, papers: dict[str, bytes]) -> bytes:
    return papers[request.param]


def test_qpdf_finds_nothing_wrong_with_any_paper(paper: bytes, needs: Needs, tmp_path: Path) -> None:
    (tmp_path / "paper.pdf").write_bytes(paper)
    done = subprocess.run(
        [str(needs("qpdf")), "--check", "paper.pdf"],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr


def test_every_paper_is_tagged_and_says_its_title_language_and_standard(paper: bytes) -> None:
    with opened(paper) as pdf:
        assert pdf.Root.MarkInfo.Marked
        assert pdf.Root.Lang == "en"
        assert pdf.Root.ViewerPreferences.DisplayDocTitle
        with pdf.open_metadata() as metadata:
            assert metadata["dc:title"]
            assert metadata["{http://www.aiim.org/pdfua/ns/id/}part"] == "1"


def test_every_picture_on_a_paper_is_told_in_words(paper: bytes) -> None:
    with opened(paper) as pdf:
        figures = [tag for tag in tags(pdf) if tag.type == "/Figure"]
        assert figures
        assert all(tag.alternative for tag in figures)


def test_every_font_is_in_the_paper_and_open(paper: bytes) -> None:
    with opened(paper) as pdf:
        found = fonts(pdf)
    assert found
    assert all(found.values())
    assert {name.partition("-")[0] for name in found} <= {"LibertinusSerif", "SourceSansPro"}


def test_a_report_has_an_outline_with_its_parts_and_a_table_with_its_heads(papers: dict[str, bytes]) -> None:
    with opened(papers["owner"]) as pdf:
        types = [tag.type for tag in tags(pdf)]
        assert {"Found before treatment", "Treatment done", "Where each piece is now"} <= {
            title.lstrip("0123456789 ") for title in outline(pdf)
        }
    assert {"/H1", "/H2", "/TH", "/TD", "/P", "/Caption"} <= set(types)


def test_every_page_of_a_report_has_its_number(papers: dict[str, bytes], needs: Needs) -> None:
    text = text_of(papers["owner"], needs("pdftotext"))
    with opened(papers["owner"]) as pdf:
        count = len(pdf.pages)
    assert [f"Page {number} of {count}" in text for number in range(1, count + 1)] == [True] * count


def test_a_report_says_what_the_record_says(papers: dict[str, bytes], needs: Needs) -> None:
    text = text_of(papers["owner"], needs("pdftotext"))
    for said in (
        "Toll book of the weir bridge, 1563-1566",
        "Treatment agreement of 2 May 2019, paragraph 3.",
        "A second set of holes, and a title running up a spine that is no longer there.",
        "Mirela Taskovent",
        "16 September 2019",
        "For the owner; holds what is not for the public",
    ):
        assert said in text


def test_a_scholar_gets_two_pages(demo: Catalogue) -> None:
    access = demo.access(Viewer.PUBLIC)
    lengths = {}
    for name in [*list(access.iris("host")), *list(access.iris("fragment"))[::4]]:
        with opened(make_report(access, name, "scholar")) as pdf:
            lengths[name] = len(pdf.pages)
    assert set(lengths.values()) <= {1, 2}, lengths


def test_a_code_on_a_label_leads_to_the_record(
    papers: dict[str, bytes], needs: Needs, tmp_path: Path
) -> None:
    pdftoppm = needs("pdftotext").with_name("pdftoppm")
    read = read_codes(papers["labels"], tmp_path, pdftoppm, needs("zbarimg"))
    assert sorted(read) == sorted(f"https://guardbook.example/{name}" for name in (STRIP, TOLL_BOOK, SURVEY))


def test_a_label_says_who_it_is(papers: dict[str, bytes], needs: Needs) -> None:
    text = text_of(papers["labels"], needs("pdftotext"))
    for said in ("B89RYC-6", "Q21-008/1", "Strip of a psalter, spine panel 1", "panel 1"):
        assert said in text


def test_labels_begin_where_a_used_sheet_goes_on(demo: Catalogue) -> None:
    with opened(make_labels(demo.access(), [STRIP, TOLL_BOOK], "a4", start=14)) as pdf:
        assert len(pdf.pages) == 2


@pytest.mark.parametrize(("name", "points"), [("a4", (595, 842)), ("letter", (612, 792))])
def test_paper_is_as_large_as_it_is_called(demo: Catalogue, name: str, points: tuple[int, int]) -> None:
    for made_paper in (
        make_labels(demo.access(), [STRIP], name),
        make_bench_sheet(demo.access(), paper=name),
        make_report(demo.access(), STRIP, "scholar", paper=name),
    ):
        with opened(made_paper) as pdf:
            box = pdf.pages[0].mediabox
            assert (round(float(box[2])), round(float(box[3]))) == points


def test_the_bench_sheet_asks_in_the_words_of_the_shapes(papers: dict[str, bytes], needs: Needs) -> None:
    text = text_of(papers["bench"], needs("pdftotext"))
    assert text.index("On sight") < text.index("Before lifting") < text.index("Where it sits")
    assert "This rule is 100 mm long." in text
    for term in ("pastedown", "sewing-guard"):
        assert terms.label("function", term) in text


@pytest.mark.parametrize("title", SHEET_OF_LETTERS)
def test_a_title_is_printed_as_it_is_written(title: str, workshop: Access, needs: Needs) -> None:
    save(workshop, made("fragment", "odd", title=f"A {title} Z"))
    text = text_of(make_report(workshop, iri("fragment", "odd"), "scholar"), needs("pdftotext"))
    shown = {"漢": "[U+6F22]"}.get(title, title)
    assert shown in text
    assert ("CJK UNIFIED IDEOGRAPH-6F22" in text) == (title == "漢")
