"""Headings of sheets: in any of the six languages, by the name of a field, with units, joined."""

from __future__ import annotations

import pytest

from guardbook.completeness.forms import forms_of
from guardbook.intake.columns import Column, Holds, columns_of
from guardbook.intake.drafts import Findings
from guardbook.intake.headings import Heading, label_in_sheet, match_headings
from guardbook.intake.words import models_of, sheet_kind, sheet_kinds, words
from guardbook.records.documents import TYPES
from guardbook.records.fields import all_models, fields_of
from guardbook.records.values import XSD, Datatype
from guardbook.wording import LANGUAGES


def matched(*texts: str, kind: str = "pieces") -> tuple[list[Heading | None], Findings]:
    findings = Findings()
    return match_headings([(text, f"column {text}") for text in texts], kind, findings), findings


def meant(*texts: str, kind: str = "pieces") -> list[tuple[str, str]]:
    headings, findings = matched(*texts, kind=kind)
    assert [str(fault) for fault in findings.faults if not fault.doubt] == []
    return [(column.model, column.name) for heading in headings if heading for column in heading.columns]


def find(kind: str, name: str) -> Column:
    return next(column for column in columns_of(kind) if column.name == name)


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("kind", sheet_kinds())
def test_every_column_has_a_heading_that_leads_back_to_it(kind: str, language: str) -> None:
    columns = columns_of(kind)
    headings, findings = matched(*(label_in_sheet(column, kind, language) for column in columns), kind=kind)
    assert findings.faults == []
    assert [heading.columns for heading in headings if heading] == [(column,) for column in columns]


@pytest.mark.parametrize("kind", sheet_kinds())
def test_every_column_goes_by_the_name_of_its_field_too(kind: str) -> None:
    names = [f"{column.kind}.{column.name}" for column in columns_of(kind)]
    assert meant(*names, kind=kind) == [(column.model, column.name) for column in columns_of(kind)]


def test_every_kind_of_record_has_a_sheet() -> None:
    assert {model for kind in sheet_kinds() for model in models_of(kind)} == set(TYPES)


def test_a_field_of_lengths_or_angles_says_so_in_its_label() -> None:
    """The unit in the label tells how a cell is read, so only bare numbers may have none."""
    numbers = {
        (model.__name__, field.json_name)
        for model in all_models()
        for field in fields_of(model)
        if isinstance(field.marker, Datatype) and field.marker.iri == XSD + "decimal"
    }
    forms = [form for model in all_models() for form in forms_of(model.__name__)]
    bare = {
        (form.model, form.name) for form in forms if not form.labels["en"].endswith(("(mm)", "(degrees)"))
    }
    plain = {"scale", "pixelsPerMm", "pixelX", "pixelY", "weight", "value"}
    assert {name for _, name in numbers & bare} == plain


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_word_of_the_table_is_there_in_every_language(language: str) -> None:
    tables = [*words()["sheets"].values(), *words()["before"].values(), *words()["columns"].values()]
    assert [table for table in [*tables, words()["words"]["guide"]] if not table.get(language)] == []


@pytest.mark.parametrize(
    ("name", "kind"),
    [("Volums", "volumes"), ("stücke", "pieces"), ("Séparations", "separations"), ("Tabelle1", None)],
)
def test_a_sheet_is_known_by_its_name_in_any_language(name: str, kind: str | None) -> None:
    assert sheet_kind(name) == kind


def test_headings_are_matched_whatever_the_case_accents_and_spaces() -> None:
    assert meant("  numero  de TALLER ", "alcada (MM)") == [
        ("Fragment", "workshopNumber"),
        ("Fragment", "height"),
    ]


def test_a_field_of_the_piece_comes_before_one_of_its_events() -> None:
    assert meant("Note", "Shelfmark") == [("Fragment", "note"), ("Fragment", "shelfmark")]


def test_a_heading_of_two_events_is_asked_to_name_one() -> None:
    (fault,) = matched("Date")[1].faults
    assert fault.mend == "Write 'Placing: Date' or 'Separation: Date'."
    assert meant("Separation: Date", "placing.when") == [("Separation", "when"), ("Placing", "when")]


def test_a_word_of_two_languages_means_what_it_means_in_the_language_of_the_others() -> None:
    assert meant("Volum portador", "Full", "Entrenervi") == [
        ("Placing", "host"),
        ("Placing", "positions.leaf"),
        ("Placing", "positions.panel"),
    ]


def test_a_heading_that_joins_dimensions_fills_each() -> None:
    sides = [("Fragment", "height"), ("Fragment", "width"), ("Fragment", "thickness")]
    assert meant("height x width") == sides[:2]
    assert meant("Hauteur × Largeur × Épaisseur (mm)") == sides


def test_a_unit_in_a_heading_is_asked_about() -> None:
    (heading,), findings = matched("Höhe (cm)")
    assert heading is not None
    assert heading.unit == "cm"
    assert [fault.doubt for fault in findings.faults] == [True]
    assert "45 being 450 mm" in str(findings.faults[0])


def test_an_unknown_heading_is_named_with_the_nearest() -> None:
    (fault,) = matched("Heigth")[1].faults
    assert fault.where == "column Heigth"
    assert "'Height (mm)'" in fault.mend


def test_a_column_is_left_out_when_its_heading_begins_with_a_hash() -> None:
    headings, findings = matched("# our own remarks", "")
    assert (headings, findings.faults) == ([None, None], [])


def test_the_same_column_twice_is_a_fault() -> None:
    headings, findings = matched("Height (mm)", "Alçada")
    assert headings[1] is None
    assert "each column once" in str(findings.faults[0])


def test_what_no_cell_can_hold_is_sent_to_json() -> None:
    (fault,) = matched("Planes", kind="volumes")[1].faults
    assert "give it in JSON or Turtle" in fault.mend


def test_holes_have_a_column_for_each_kind() -> None:
    assert find("pieces", "features.sewing-hole").holds is Holds.HOLES
    assert meant("Heftloch") == meant("trou de couture") == [("Fragment", "features.sewing-hole")]
