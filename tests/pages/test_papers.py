"""What is printed is had from the pages of a piece and a volume, as a page and as PDF."""

from __future__ import annotations

import re

import pytest

from guardbook.catalogue.catalogue import Catalogue
from tests.api.client import Client
from tests.api.shelf import BOOK, SLIP, STRIP
from tests.outside.papers import opened

PDFS = (
    f"/fragment/{STRIP.identifier}/label.pdf",
    f"/fragment/{STRIP.identifier}/report.pdf",
    f"/fragment/{STRIP.identifier}/sheet.pdf",
    f"/host/{BOOK.identifier}/label.pdf",
    f"/host/{BOOK.identifier}/report.pdf",
    f"/host/{BOOK.identifier}/sheet.pdf",
    f"/host/{BOOK.identifier}/bench-sheet.pdf",
    "/bench-sheet.pdf",
    f"/labels.pdf?id={STRIP.id}&id={BOOK.id}&start=14",
)


@pytest.mark.parametrize("path", PDFS)
def test_a_paper_is_had_as_pdf(path: str, reader: Client) -> None:
    answer = reader.get(path)
    assert (answer.status_code, answer.headers["content-type"]) == (200, "application/pdf")
    assert answer.content.startswith(b"%PDF-")
    assert answer.headers["content-disposition"].startswith("inline")


def test_a_paper_speaks_the_language_of_the_page_or_the_one_asked_for(reader: Client) -> None:
    path = f"/fragment/{STRIP.identifier}/sheet.pdf"
    for answer, language in (
        (reader.get(path, headers={"Accept-Language": "fr"}), "fr"),
        (reader.get(path + "?language=ca", headers={"Accept-Language": "fr"}), "ca"),
    ):
        with opened(answer.content) as pdf:
            assert pdf.Root.Lang == language
    assert reader.get(path + "?language=xx").status_code == 400


def test_labels_are_shown_as_a_page_to_print(reader: Client) -> None:
    page = reader.get(f"/labels?id={STRIP.id}&id={BOOK.id}").text
    assert page.count('class="label"') == 2
    assert len(re.findall(r'aria-label="QR code that leads to [^"]+"', page)) == 2
    assert STRIP.identifier in page
    assert reader.get(f"/fragment/{STRIP.identifier}/label").status_code == 200


def test_the_bench_sheet_is_shown_as_a_page_to_print(reader: Client) -> None:
    page = reader.get(f"/host/{BOOK.identifier}/bench-sheet").text
    assert "Book of tithes" in page
    assert "Before lifting" in page
    assert "This rule is 100 mm long." in page
    assert "Squares of 5 mm" in reader.get("/bench-sheet").text


def test_a_page_to_print_has_no_style_of_its_own_that_the_policy_would_refuse(reader: Client) -> None:
    for path in (f"/host/{BOOK.identifier}/bench-sheet", f"/fragment/{STRIP.identifier}/label"):
        page = reader.get(path).text
        assert " style=" not in page
        assert "<style" not in page


@pytest.mark.parametrize("query", ["start=x", "start=-1", "labelWidth=nan", "on=a3", "columns=9"])
def test_a_sheet_that_cannot_be_is_refused(query: str, reader: Client) -> None:
    assert reader.get(f"/labels.pdf?id={STRIP.id}&{query}").status_code == 400


def test_what_is_not_for_the_public_is_not_printed_for_it(catalogue: Catalogue, away: Client) -> None:
    assert away.get(f"/fragment/{SLIP.identifier}/label.pdf").status_code == 404
    assert away.get(f"/labels?id={SLIP.id}").status_code == 404
    assert away.get(f"/fragment/{STRIP.identifier}/report.pdf").status_code == 200


def test_the_same_is_had_over_http(here: Client) -> None:
    for path in (
        f"/api/labels?id={STRIP.id}&on=letter&start=3",
        "/api/bench-sheet?language=de",
        f"/api/records/host/{BOOK.identifier}/bench-sheet",
        f"/api/records/host/{BOOK.identifier}/report?for=scholar&language=it",
        f"/api/records/fragment/{STRIP.identifier}/report",
    ):
        answer = here.get(path)
        assert answer.headers["content-type"] == "application/pdf", path
    assert here.get("/api/labels").status_code in {400, 422}
    assert here.get(f"/api/records/host/{BOOK.identifier}/report?for=king").status_code in {400, 422}
