"""What is printed is set from data: nothing of a record is ever read as markup, and nothing breaks it."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
import typst

from guardbook import settings
from guardbook.exports.paper.blocks import Document, Picture, Pictures, as_data, set_document, table
from guardbook.exports.paper.label import Label, set_labels
from guardbook.exports.paper.label_sheet import SHEETS
from guardbook.exports.paper.qr import qr_svg
from guardbook.exports.paper.said import date_said, label_of, millimetres, size
from guardbook.exports.paper.signs import printable, unprintable
from guardbook.exports.paper.typesetting import TEMPLATES, typeset
from guardbook.wording import LANGUAGES, speaking

WHEN = datetime(2024, 5, 6, 7, 8, 9, 1234, tzinfo=UTC)
# what would do something, or fail, if it were read as Typst
MARKUP = (
    '#import "secret.typ"',
    "#panic()",
    "*bold* _slanted_ $x^2$",
    "= Heading",
    "- item\n+ item",
    "<label> @reference",
    "`raw` ```raw```",
    "\\ // comment /* comment */",
    "#{",
    "]",
    "~--- https://example.org/",
)
SCRIPTS = (
    "שלום עולם",
    "نص عربي",
    "e\u0301 p\u0304",
    "\U00010000 \U0001f4d6",
    "漢字",
    "\u2068x\u2069",
    "a\u200db",
)


def label(**said: str) -> Label:
    blank = dict.fromkeys(("number", "title", "what", "where"), "")
    iri = "https://guardbook.example/fragment/000000-0"
    return Label(
        **{"iri": iri, "identifier": "000000-0", "qr": qr_svg(iri), "qr_says": "QR", **blank, **said}
    )


def document(*blocks: object, title: str = "A strip", **said: object) -> Document:
    return Document(
        kind="Report",
        title=title,
        subtitle="",
        running=title,
        below="",
        facts=(("Label", title),),
        qr=qr_svg("https://guardbook.example/"),
        qr_says="QR",
        blocks=blocks,  # type: ignore[arg-type]  # blocks of whichever kind
        colophon=(title,),
        **said,  # type: ignore[arg-type]  # fields of a document
    )


@pytest.mark.parametrize("text", [*MARKUP, *SCRIPTS])
def test_any_text_can_stand_on_a_label_and_in_a_report(text: str) -> None:
    made = set_labels([label(title=text, where=text, what=text, number=text)], SHEETS["label"])
    assert made.startswith(b"%PDF-")
    rows = table(("Head " + text,), [(text,)], (1.0,))
    assert set_document(document(*rows, title=text), WHEN).startswith(b"%PDF-")


def test_the_same_data_give_the_same_bytes_whenever_they_are_printed() -> None:
    first, second = (set_labels([label(title="A strip")], SHEETS["a4"], WHEN) for _ in range(2))
    assert first == second
    assert first != set_labels([label(title="A strip")], SHEETS["a4"], WHEN.replace(year=2025))


def test_a_paper_reads_no_file_but_those_given_to_it() -> None:
    (picture, *_) = sorted((settings.current().demo / "images").glob("*.jpg"))
    given = Picture(file="one.jpg", caption="", alternative="A picture")
    pictures = {"one.jpg": picture.read_bytes()}
    assert set_document(document(Pictures((given,)), pictures=pictures), WHEN)
    for elsewhere in (str(picture), "../" * 12 + str(picture).lstrip("/"), "@preview/example:0.1.0"):
        other = Picture(file=elsewhere, caption="", alternative="A picture")
        with pytest.raises(typst.TypstError):
            set_document(document(Pictures((other,))), WHEN)


def test_a_sign_that_no_font_has_is_printed_by_its_number() -> None:
    text = "ꝑ\u0304fectio 漢"
    missing = unprintable(text)
    assert printable(text, missing) == "[U+A751+U+0304]fectio [U+6F22]"
    assert missing["漢"].name == "CJK UNIFIED IDEOGRAPH-6F22"


@pytest.mark.parametrize("text", ["Pergamí d’Òc: ç ñ ß ø", "ΑΒΓ Кириллица", "אָלֶף", "ابجد", "— “” × … · ½"])
def test_a_sign_that_some_font_has_is_printed_as_it_is(text: str) -> None:
    assert unprintable(text) == {}


def test_every_template_stands_beside_its_module() -> None:
    templates = {path.stem for path in TEMPLATES.glob("*.typ")}
    assert templates == {"style", "label", "bench_sheet", "document"}
    for name in templates - {"style"}:
        with pytest.raises(typst.TypstError):
            typeset(name, {"title": "without what it tells of"})


def test_a_column_in_which_nothing_stands_is_not_printed() -> None:
    (made,) = as_data(table(("Piece", "Noted", "When"), [("A", "", "1"), ("B", "", "")], (1.0, 2.0, 3.0)))
    assert (made["head"], made["widths"]) == (("Piece", "When"), (1.0, 3.0))
    assert table(("Piece",), [], (1.0,)) == ()


def test_ten_thousand_rows_go_over_pages() -> None:
    rows = [(f"hole-{number}", f"{number / 10} mm") for number in range(10_000)]
    assert len(set_document(document(*table(("Hole", "y"), rows, (1.0, 1.0))), WHEN)) > 100_000


@pytest.mark.parametrize(
    ("language", "edtf", "said"),
    [
        ("en", "2019-09-16", "16 September 2019"),
        ("de", "2019-09-16", "16. September 2019"),
        ("ca", "2024-11", "novembre del 2024"),
        ("en", "2021-10-05/2021-10-19", "5 October 2021 to 19 October 2021"),
        ("en", "1512~", "about 1512"),
        ("en", "0000-13-01", "0000-13-01"),
        ("en", None, ""),
    ],
)
def test_days_are_written_out_as_the_language_does(language: str, edtf: str | None, said: str) -> None:
    with speaking(language):
        assert date_said(edtf) == said


def test_lengths_bear_their_unit_once_and_the_decimal_sign_of_the_language() -> None:
    with speaking("fr"):
        assert millimetres(45.5) == "45,5\u00a0mm"
        assert size(None, None) == ""
        assert "mm" not in label_of("HostVolume", "thickness")
    with speaking("en"):
        assert millimetres(45.5) == "45.5\u00a0mm"


def test_papers_speak_all_our_languages() -> None:
    made = set()
    for language in LANGUAGES:
        with speaking(language):
            made.add(set_labels([label(title="A strip")], SHEETS["label"], WHEN))
    assert len(made) == len(LANGUAGES)
