"""Our citations read by software that others wrote.

Sources: PyPI `citeproc-py` (the citation processor, with the Harvard style it carries), `bibtexparser`
(BibTeX, with LaTeX decoded by `pylatexenc`), `rispy` (RIS), and `datacite` (the JSON schema of DataCite's
kernel 4.5).
"""

from __future__ import annotations

import json

import pytest
import rispy
from bibtexparser.entrypoint import parse_string
from bibtexparser.middlewares import LatexDecodingMiddleware
from citeproc import Citation, CitationItem, CitationStylesBibliography, CitationStylesStyle, formatter
from citeproc.source.json import CiteProcJSON
from datacite import schema45
from hypothesis import given, settings

from guardbook.records.base import Record
from tests.exports.citing import HARD_TITLES, KEEPER, cited, on_one_line, piece
from tests.records.strategies import records

hard_titles = pytest.mark.parametrize("title", HARD_TITLES)


def in_harvard_style(csl: str) -> list[str]:
    items = json.loads(csl)
    style = CitationStylesStyle("harvard-cite-them-right", validate=False)
    bibliography = CitationStylesBibliography(style, CiteProcJSON(items), formatter.plain)
    for item in items:
        bibliography.register(Citation([CitationItem(item["id"].lower())]))
    return [str(entry) for entry in bibliography.bibliography()]


def test_a_citation_processor_sets_a_reference_from_csl_json() -> None:
    (entry,) = in_harvard_style(cited("csl", piece()))
    assert entry == (
        "Mira Taskovent (2024) “Strip 2 of the spine”, Guardbook. "
        f"Available at: {piece().id} (Accessed: February 1, 2026)."
    )


@hard_titles
def test_a_citation_processor_keeps_a_hard_title(title: str) -> None:
    (entry,) = in_harvard_style(cited("csl", piece(title)))
    plain = on_one_line(title)
    assert plain in entry or plain.replace('"', "”") in entry.replace("“", "”").replace("‘", "”")


@hard_titles
def test_bibtex_is_parsed_to_the_same_words(title: str) -> None:
    library = parse_string(
        cited("bibtex", piece(title), KEEPER), append_middleware=[LatexDecodingMiddleware()]
    )
    assert library.failed_blocks == []
    assert [entry.key for entry in library.entries] == [
        one.short.replace("/", "-") for one in (piece(), KEEPER)
    ]
    fields = {field.key: field.value for field in library.entries[0].fields}
    assert fields["title"] == on_one_line(title)
    assert fields["author"] == "Mira Taskovent"
    assert (fields["url"], fields["version"], fields["date"]) == (piece().id, "3", "2024-03-05")


@hard_titles
def test_ris_is_parsed_to_the_same_words(title: str) -> None:
    first, second = rispy.loads(cited("ris", piece(title), KEEPER))
    assert first["title"] == on_one_line(title)
    assert (first["type_of_reference"], first["authors"]) == ("ELEC", ["Mira Taskovent"])
    assert first["urls"] == [piece().id]
    assert (first["year"], first["date"], first["access_date"]) == ("2024", "2024/03/05", "2026/02/01")
    assert (first["database_provider"], first["call_number"]) == ("Library of the Weir", "Bri. 17, strip 2")
    assert second["title"] == "Library of the Weir"
    assert "unknown_tag" not in first


@given(record=records())
@settings(max_examples=60)
def test_metadata_of_any_record_is_valid_for_datacite(record: Record) -> None:
    (line,) = cited("datacite", record).splitlines()
    assert list(schema45.validator.iter_errors(json.loads(line))) == []


def test_the_schema_of_datacite_refuses_metadata_without_a_title() -> None:
    metadata = json.loads(cited("datacite", piece()))
    assert schema45.validator.is_valid(metadata)
    del metadata["titles"]
    assert not schema45.validator.is_valid(metadata)


@given(record=records())
@settings(max_examples=60)
def test_any_record_is_one_reference_in_every_form(record: Record) -> None:
    assert len(json.loads(cited("csl", record))) == 1
    assert len(rispy.loads(cited("ris", record))) == 1
    library = parse_string(cited("bibtex", record))
    assert (len(library.entries), library.failed_blocks) == (1, [])
