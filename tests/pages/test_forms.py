"""The pages of forms, filled in and sent without scripts."""

from __future__ import annotations

import re

import pytest

from guardbook.catalogue.catalogue import Catalogue
from guardbook.records.kinds import KINDS
from tests.api.client import Client
from tests.api.shelf import BOOK, OFF, PUT, SHELF, SLIP, STRIP
from tests.pages.sending import FormOf, send


def form_at(reader: Client, path: str) -> FormOf:
    reply = reader.get(path)
    assert reply.status_code == 200
    return FormOf(reply.text)


@pytest.mark.parametrize("record", SHELF, ids=lambda record: str(record.title))
def test_a_form_sent_back_unchanged_changes_nothing(
    reader: Client, catalogue: Catalogue, record: object
) -> None:
    short = record.short  # type: ignore[attr-defined]
    before = catalogue.access().sequence
    reply = send(reader, form_at(reader, f"/{short}/edit"))
    assert (reply.status_code, reply.headers["Location"]) == (303, f"/{short}/saved")
    assert catalogue.access().sequence == before


@pytest.mark.parametrize("kind", KINDS)
def test_there_is_an_empty_form_for_every_kind(reader: Client, kind: str) -> None:
    html = reader.get(f"/new/{kind}").text
    assert html.count("<h1") == 1
    assert 'name="' + kind + '.title"' in html


def test_a_saved_record_leads_on_to_its_label_and_to_what_is_missing(reader: Client) -> None:
    reply = send(reader, form_at(reader, f"/{STRIP.short}/edit"), fragment__height="41 mm")
    html = reader.get(reply.headers["Location"]).text
    for where in (STRIP.short, f"{STRIP.short}/label.pdf", f"{STRIP.short}/check", f"{STRIP.short}/edit"):
        assert f'href="/{where}"' in html
    assert "41" in reader.get(f"/{STRIP.short}.html").text


def test_what_is_wrong_is_told_on_top_with_a_way_to_the_input_and_beside_it(reader: Client) -> None:
    reply = send(
        reader, form_at(reader, f"/{STRIP.short}/edit"), fragment__height="tall", fragment__note="<b>"
    )
    assert reply.status_code == 422
    assert '<a href="#fragment-height">Height (mm)</a>' in reply.text
    beside = reply.text[reply.text.index('id="fragment-height"') :]
    assert 'aria-invalid="true"' in beside[:300]
    assert "found &#39;tall&#39;" in beside
    assert FormOf(reply.text).sent["fragment.height"] == ["tall"]
    assert FormOf(reply.text).sent["fragment.note"] == ["<b>"]
    assert "<b>" not in reply.text


def test_a_row_is_added_and_taken_out_without_scripts(reader: Client) -> None:
    form = FormOf(send(reader, form_at(reader, f"/{BOOK.short}/edit"), add="host.gatherings").text)
    assert form.sent["host.gatherings.0.id"] == ["#gathering-1"]
    form.sent["host.gatherings.0.number"] = ["1"]
    gone = FormOf(send(reader, form, remove="host.gatherings.0").text)
    assert "host.gatherings.0.number" not in gone.sent
    assert send(reader, form).status_code == 303
    assert '<tr id="gathering-1">' in reader.get(f"/{BOOK.short}.html").text


def test_both_versions_are_shown_where_somebody_was_quicker(reader: Client) -> None:
    mine = form_at(reader, f"/{STRIP.short}/edit")
    send(reader, mine, fragment__height="42", who="Berta")
    late = send(reader, mine, fragment__height="41")
    assert late.status_code == 422
    assert "Two versions" in late.text
    assert re.search(r"<th scope=\"row\">Height \(mm\)</th><td>41</td><td>42</td>", late.text)
    assert send(reader, FormOf(late.text)).status_code == 303


def test_a_doubtful_value_is_kept_once_it_is_confirmed(reader: Client) -> None:
    asked = send(reader, form_at(reader, f"/{STRIP.short}/edit"), fragment__seenWhen="03/04/2024")
    sure = re.search(r'name="sure" value="([^"]+)"', asked.text)
    assert sure
    form = FormOf(asked.text)
    assert send(reader, form).status_code == 422
    assert send(reader, form, sure=sure[1]).status_code == 303


def test_a_form_begins_with_what_its_address_says(reader: Client) -> None:
    form = form_at(reader, f"/new/separation?piece={STRIP.short}&status=planned")
    assert (form.sent["separation.piece"], form.sent["separation.status"]) == ([STRIP.short], ["planned"])


def test_the_place_of_a_piece_can_be_picked_on_the_drawing_of_its_volume(reader: Client) -> None:
    html = reader.get(f"/{PUT.short}/edit").text
    assert f'data-placing data-root="" data-host="{BOOK.short}" data-stage="1"' in html
    assert 'data-part="x"' in html
    assert '<input type="hidden" value="20.0" data-part="width">' in html


def test_what_is_understood_is_told_while_one_types(reader: Client) -> None:
    def told(model: str, field: str, text: str) -> dict[str, str]:
        asked = {"model": model, "field": field, "text": text}
        reply: dict[str, str] = reader.get("/form/understood", params=asked).json()
        return reply

    assert told("Fragment", "height", "½ in") == {"understood": "12.70 mm"}
    assert told("Fragment", "height", "12") == {"understood": ""}
    assert "one length" in told("Fragment", "height", "tall")["expected"]
    assert "2024-03-04" in told("Fragment", "seenWhen", "03/04/2024")["doubt"]
    assert told("Separation", "piece", SLIP.workshop_number or "") == {"understood": "Slip under the strip"}
    assert told("Fragment", "holes", "x 30: 12 48.5 | 97") == {"understood": "3 holes, in 2 series"}
    assert told("Fragment", "folds", "97 x 30") == {"understood": "2 folds"}
    assert reader.get("/form/understood?model=Fragment&field=colour&text=x").status_code == 404


def test_records_that_could_be_meant_are_suggested(reader: Client) -> None:
    found = reader.get("/form/suggested?kinds=fragment&words=slip").json()
    assert [one["value"] for one in found] == [SLIP.workshop_number]
    assert reader.get("/form/suggested?kinds=book&words=x").status_code == 404


def test_the_public_has_no_forms(reader: Client, away: Client) -> None:
    form = form_at(reader, f"/{OFF.short}/edit")
    for path in (
        f"/{STRIP.short}/edit",
        "/new/fragment",
        "/register",
        f"/register/piece?volume={BOOK.short}",
    ):
        assert away.get(path).status_code == 403
    assert send(away, form).status_code == 403
    assert "/edit" not in away.get(f"/{STRIP.short}.html").text
    assert away.get("/form/suggested?kinds=fragment&words=slip").json() == []


def test_a_piece_is_registered_without_scripts(reader: Client) -> None:
    start = reader.get("/register?volume=tithes").text
    assert f'href="/register/piece?volume={BOOK.short}"' in start
    form = form_at(reader, f"/register/piece?volume={BOOK.short}")
    reply = send(reader, form, fragment__title="Sewing guard 3", placing__positions__0__plane="fold")
    assert reply.status_code == 303
    html = reader.get(reply.headers["Location"]).text
    assert "Saved: Sewing guard 3" in html
    assert "What belongs to it" in html


def test_an_empty_catalogue_leads_to_a_volume_that_is_new(reader: Client) -> None:
    html = reader.get("/register?volume=nothing+like+it").text
    assert "Nothing was found" in html
    assert 'href="/register/piece?volume=new"' in html


def test_a_registration_without_a_volume_asks_for_it_first(reader: Client) -> None:
    reply = reader.get("/register/piece")
    assert (reply.status_code, reply.headers["Location"]) == (303, "/register")
