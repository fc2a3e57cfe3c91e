"""What a form sends is read like the cells of a spreadsheet; what it does not show stays as it is."""

from typing import Any

import pytest
from hypothesis import given, settings

from guardbook.intake.drafts import Findings, Mention, StageMention
from guardbook.intake.form_records import FormReader
from guardbook.intake.form_texts import texts_of
from guardbook.records.base import Record
from guardbook.records.documents import from_document, to_document
from guardbook.records.fragment import Fragment
from guardbook.records.placing import Placing
from guardbook.records.separation import Separation
from tests.records.strategies import records

NEW = {"id": "fragment/7K3QM2-J", "type": "Fragment"}


def read(texts: dict[str, str], base: dict[str, Any] | None = None) -> tuple[dict[str, Any], Findings]:
    """Read what was typed over a piece."""
    findings = Findings()
    typed = {f"fragment.{name}": (text,) for name, text in texts.items()}
    return FormReader(typed, findings).read(Fragment, "fragment", base or NEW), findings


def said(document: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in document.items() if name not in NEW}


@given(records())
@settings(max_examples=150)
def test_a_form_that_is_sent_without_a_change_changes_nothing(record: Record) -> None:
    before = to_document(record)
    findings = Findings()
    after = FormReader(texts_of(before, type(record), "r"), findings).read(type(record), "r", before)
    assert (after, findings.faults) == (before, [])


@given(records())
@settings(max_examples=150)
def test_what_a_form_shows_says_the_same_when_it_is_read_anew(record: Record) -> None:
    """Fields are typed into an empty form as they are shown; answers may not stand beside values there."""
    before = {name: value for name, value in to_document(record).items() if name != "answers"}
    shown = texts_of(before, type(record), "r")
    findings = Findings()
    empty = {"id": record.id, "type": before["type"]}
    document = FormReader(shown, findings).read(type(record), "r", empty)
    assert [fault for fault in findings.faults if not fault.doubt] == []
    assert from_document(named(document)) == from_document(named(before))


def named(value: Any) -> Any:
    """Put the identifiers in that were shown, as the catalogue would; no typed text ends in spaces.

    Parts of which nothing is said are left out, as a form does with rows that nobody filled in.
    """
    match value:
        case Mention(text) | StageMention(text):
            return text
        case str():
            return value.strip()
        case dict():
            return {key: named(item) for key, item in value.items()}
        case list():
            return [
                named(item) for item in value if not isinstance(item, dict) or item.keys() - {"id", "type"}
            ]
        case _:
            return value


@pytest.mark.parametrize(
    ("typed", "understood"),
    [
        ("12,5", "12.5"),
        ("1.2 cm", "12"),
        ("½ in", "12.70"),
        ("45.50", "45.50"),
    ],
)
def test_lengths_are_read_as_people_write_them(typed: str, understood: str) -> None:
    document, findings = read({"height": typed})
    assert (said(document), findings.faults) == ({"height": understood}, [])


def test_what_cannot_be_read_is_told_under_the_name_of_its_input() -> None:
    _, findings = read({"height": "long", "seenWhen": "last year", "material": "cheese"})
    assert {fault.where for fault in findings.faults} == {
        "fragment.height",
        "fragment.material",
        "fragment.seenWhen",
    }


def test_a_date_with_two_readings_is_asked_about() -> None:
    document, findings = read({"seenWhen": "03/04/2024"})
    assert said(document) == {"seenWhen": "2024-04-03"}
    assert [(fault.where, fault.doubt) for fault in findings.faults] == [("fragment.seenWhen", True)]


def test_a_text_is_what_was_typed_even_if_a_spreadsheet_would_run_it() -> None:
    document, _ = read({"note": "'=torn [cannot be known] - see job sheet"})
    assert said(document) == {"note": "'=torn [cannot be known] - see job sheet"}


def test_an_emptied_input_takes_the_value_away_and_one_that_is_not_shown_stays() -> None:
    document, _ = read({"height": ""}, {**NEW, "height": "40", "width": "20"})
    assert said(document) == {"width": "20"}


def test_a_row_that_is_taken_out_of_the_form_is_taken_out_of_the_record() -> None:
    holes = [{"id": f"#feature-{n}", "featureKind": "fold", "y": str(n)} for n in (1, 2)]
    document, _ = read(
        {"features": "rows", "features.1.id": "#feature-2", "features.1.y": "2", "features.4.y": ""},
        {**NEW, "features": holes},
    )
    assert document["features"] == [holes[1]]


def test_a_list_of_holes_becomes_a_series_of_its_own() -> None:
    document, findings = read({"holes.0.kind": "sewing-hole", "holes.0.list": "x 3: 12 48,5 97 | 10; 50"})
    assert findings.faults == []
    assert [(hole.get("x"), hole["y"], hole["inSeries"]) for hole in document["features"]] == [
        ("3", "12", "#series-1"),
        ("3", "48.5", "#series-1"),
        ("3", "97", "#series-1"),
        (None, "10", "#series-2"),
        (None, "50", "#series-2"),
    ]
    assert from_document(document).short == "fragment/7K3QM2-J"


def test_holes_are_added_to_those_already_there() -> None:
    before = {"features": [{"id": "#feature-1", "featureKind": "stain"}], "series": [{"id": "#series-1"}]}
    document, _ = read({"holes.0.kind": "fold", "holes.0.list": "12"}, {**NEW, **before})
    assert [one["featureKind"] for one in document["features"]] == ["stain", "fold"]
    assert document["features"][1]["inSeries"] == "#series-2"


def test_an_answer_in_place_of_a_value_is_kept_with_how_it_was_looked_for() -> None:
    answer = {"answers.watermark.answer": "looked-for-not-found", "answers.watermark.reason": "light sheet"}
    document, findings = read(answer)
    expected = {"asked": "watermark", "answer": "looked-for-not-found", "reason": "light sheet"}
    assert (document["answers"], findings.faults) == ([expected], [])


def test_a_value_that_is_found_after_all_ends_the_answer() -> None:
    before = [{"id": "#answer-1", "asked": "height", "answer": "cannot-be-known"}]
    typed = {"height": "40", "answers.height.answer": "cannot-be-known", "answers.height.reason": ""}
    document, findings = read(typed, {**NEW, "answers": before})
    assert (said(document), findings.faults) == ({"height": "40"}, [])


def test_an_answer_beside_a_value_is_a_fault() -> None:
    _, findings = read({"height": "40", "answers.height.answer": "cannot-be-known"})
    assert [fault.where for fault in findings.faults] == ["fragment.answers.height.answer"]


def test_an_answer_may_be_typed_into_the_input_itself() -> None:
    document, _ = read({"thickness": "[cannot be known]"})
    assert said(document) == {"answers": [{"asked": "thickness", "answer": "cannot-be-known"}]}


def test_records_and_stages_are_named_as_people_name_them() -> None:
    texts = {"placing.host": ("V-12",), "placing.stage": ("2",), "placing.by": ("Anna; Berta",)}
    document = FormReader(texts, Findings()).read(Placing, "placing", {})
    assert document == {
        "host": Mention("V-12"),
        "stage": StageMention("2"),
        "by": [Mention("Anna"), Mention("Berta")],
    }


def test_a_dash_or_a_semicolon_in_a_list_of_texts_is_what_was_typed() -> None:
    findings = Findings()
    typed = {"separation.notRecordedBefore": ("the layers; the glue\n-\n;",)}
    empty = {"id": "https://guardbook.example/separation/000000-0", "type": "Separation"}
    document = FormReader(typed, findings).read(Separation, "separation", empty)
    assert document["notRecordedBefore"] == ["the layers; the glue", "-", ";"]
