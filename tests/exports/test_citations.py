"""What a citation says: what is cited, which revision of it, and when it was read."""

from __future__ import annotations

import io
import json

import pytest

from guardbook.actions.export_records import export_records
from guardbook.catalogue.access import Access, Viewer
from guardbook.catalogue.catalogue import Catalogue
from tests.catalogue.shelf import changed, made, save, strip
from tests.exports.citing import HARD_TITLES, KEEPER, MIRA, cited, piece

FORMS = ("citation", "csl", "bibtex", "ris", "datacite")


def test_a_plain_citation_names_describer_keeper_revision_address_and_days() -> None:
    assert cited("citation", piece()) == (
        "Mira Taskovent. Strip 2 of the spine. Library of the Weir, Bri. 17, strip 2. "
        "Guardbook, revision 3 of 2024-03-05. "
        f"{piece().id} (read 2026-02-01).\n"
    )


def test_a_piece_is_cited_as_its_keeper_wishes() -> None:
    assert " Weir MS 4, strip. Guardbook" in cited("citation", piece(citation="Weir MS 4, strip."))
    assert cited("citation", piece(citation="Weir MS 4, strip.")).count("Bri. 17") == 0


def test_who_bound_a_book_is_no_author_of_the_record_that_says_so() -> None:
    event = made("separation", "out", piece=piece().id, by=[MIRA.id])
    reading = made("reading", "read", about=[piece().id], by=MIRA.id, claim="A strip of the psalter")
    assert "author" not in json.loads(cited("csl", event))[0]
    assert json.loads(cited("csl", reading))[0]["author"] == [{"literal": "Mira Taskovent"}]


@pytest.mark.parametrize("title", HARD_TITLES)
def test_a_plain_citation_stays_on_one_line(title: str) -> None:
    assert len(cited("citation", piece(title), KEEPER).splitlines()) == 2


def export(access: Access, form: str, *names: str) -> str:
    output = io.BytesIO()
    export_records(access, names or None, form, output)
    return output.getvalue().decode()


@pytest.fixture
def shelf(catalogue: Catalogue) -> Catalogue:
    """Keep a strip whose describer and keeper want no name."""
    hidden = changed(MIRA, may_be_named=False)
    owner = made("institution", "owner", name="House of Okell", visibility="workshop")
    one = strip(seenBy=hidden.id, keeper=owner.id, note="Lent by the House of Okell")
    save(catalogue.access(), hidden, owner, one)
    return catalogue


@pytest.mark.parametrize("form", FORMS)
def test_a_name_that_is_withheld_stands_in_no_citation(shelf: Catalogue, form: str) -> None:
    public = export(shelf.access(Viewer.PUBLIC), form)
    assert strip().id in public
    assert "Taskovent" not in public
    assert "Okell" not in public
    assert "Taskovent" in export(shelf.access(), form)


@pytest.mark.parametrize("form", FORMS)
def test_the_revision_cited_is_the_one_that_is_handed_on(shelf: Catalogue, form: str) -> None:
    access = shelf.access()
    save(access, changed(access.record(strip().id).record, title="A strap"), from_revision=1)
    text = export(access, form, strip().id)
    assert "A strap" in text
    assert access.record(strip().id).when.date().isoformat() in text.replace("/", "-") or form == "csl"
    assert {"citation": "revision 2", "csl": '"version": "2"', "bibtex": "version = {2}",
            "ris": "ET  - revision 2", "datacite": '"version": "2"'}[form] in text  # fmt: skip
