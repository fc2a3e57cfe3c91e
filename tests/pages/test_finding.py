"""The page to find records, as it is sent: what it says of each, and where its links and forms lead."""

from __future__ import annotations

import html
import re
from urllib.parse import urlencode

import pytest
from hypothesis import given
from hypothesis import strategies as st
from starlette.datastructures import QueryParams

from guardbook.catalogue.facets import OPEN_AFTER, OPEN_BEFORE
from guardbook.pages.asked import VIEWS, Question, question_in
from guardbook.pages.found_drawn import axis_of, draw_bounds
from guardbook.records.dates import bounds
from tests.api.client import Client
from tests.api.shelf import BOOK, CITY, SLIP, STRIP

WORDS = st.text(max_size=12)
YEARS = st.sampled_from(["", "1500", "-50", "−50", "0", "9999"])
FACETS = st.dictionaries(st.sampled_from(["function", "material", "hasImage"]), WORDS.filter(bool))


@given(
    st.builds(
        Question,
        words=WORDS,
        kind=st.sampled_from(["", "fragment"]),
        view=st.sampled_from(VIEWS),
        start=st.integers(0, 999),
        chosen=FACETS,
        as_public=st.booleans(),
    )
)
def test_an_address_holds_the_whole_question(question: Question) -> None:
    query = question.address.partition("?")[2]
    assert question_in(QueryParams(query)) == question


@given(YEARS, YEARS)
def test_years_are_asked_for_as_a_date_that_can_be_read(since: str, until: str) -> None:
    asked = question_in(QueryParams(urlencode({"from": since, "to": until})))
    if asked.wrong or not (since or until):
        assert "date" not in asked.facets
        return
    limits = bounds(asked.facets["date"])
    for text, limit in ((since, limits.earliest), (until, limits.latest)):
        assert limit is None if not text else limit and limit[0] == int(text.replace("−", "-"))


@pytest.mark.parametrize(
    ("since", "until", "said"),
    [
        ("1600", "1500", "comes after"),
        ("c. 1500", "", "c. 1500"),
        ("", "99999", "99999"),
        ("15.5", "", "15.5"),
    ],
)
def test_years_that_make_no_sense_are_told_of_beside_their_fields(
    reader: Client, since: str, until: str, said: str
) -> None:
    reply = reader.get("/search", params={"from": since, "to": until})
    assert reply.status_code == 200
    assert said in html.unescape(re.findall(r'id="years-wrong">([^<]+)<', reply.text)[0])
    assert f'name="from" inputmode="numeric" size="5" maxlength="5" autocomplete="off" value="{since}"' in (
        reply.text
    )


def test_a_piece_found_is_told_with_its_material_its_volume_and_where_it_is(reader: Client) -> None:
    found = reader.get("/search?q=strip&kind=fragment").text
    assert "parchment" in found
    assert f'<a href="/{BOOK.short}">sewing guard in Book of tithes</a>' in found
    assert "Now: not known" in found
    assert "kept by City Library, T 12" in reader.get("/search?kind=host").text


def test_what_hangs_on_several_records_is_a_way_to_narrow_down(reader: Client) -> None:
    found = reader.get("/search?kind=fragment&whereNow=unknown&hasImage=no").text
    assert "Where it is now: not known" in found
    assert "Picture: without a picture" in found
    assert f'href="/{STRIP.short}"' in found
    assert "Nothing found." in reader.get("/search?kind=fragment&whereNow=lost").text


def test_the_public_is_neither_shown_nor_counted_what_is_not_for_it(reader: Client, away: Client) -> None:
    path = "/search?kind=fragment"
    page = {"Accept": "text/html"}
    assert "1 to 2 of 2 found" in reader.get(path).text
    for view in VIEWS:
        told = away.get(f"{path}&view={view}", headers=page).text
        assert "1 to 1 of 1 found" in told
        assert SLIP.identifier not in told
        assert "Complete for" not in told
    narrowed = reader.get(f"{path}&as=public").text
    assert 'href="/search?kind=fragment&amp;material=parchment&amp;as=public"' in narrowed


def test_nothing_found_is_followed_by_what_may_help(reader: Client) -> None:
    found = reader.get("/search?q=zzz&material=parchment").text
    for help_given in ("Take back one of the choices", "Use fewer words", "Begin again with all pieces"):
        assert help_given in found


def test_a_volume_can_be_chosen_by_name_and_its_keeper_taken_back(reader: Client) -> None:
    found = reader.get("/search", params={"keeper": CITY.id}).text
    assert "Kept by: City Library" in found
    assert f'href="/{BOOK.short}"' in found


def test_a_bar_reaches_as_far_as_a_date_may_and_is_pointed_where_nothing_bounds_it() -> None:
    axis = axis_of([(14000101, 14991231), None, (15500101, OPEN_AFTER)])
    assert axis
    assert (axis.first, axis.last) == (1400, 1559)
    closed = draw_bounds((14000101, 14791231), axis, "1400–1479")
    assert 'd="M0.00 2H50.00V10H0.00Z"' in closed
    assert 'aria-label="1400–1479"' in closed
    open_after = draw_bounds((14800101, OPEN_AFTER), axis, "1480 or later")
    assert 'd="M50.00 2H98.00L100.00 6L98.00 10H50.00Z"' in open_after
    open_before = draw_bounds((OPEN_BEFORE, 14791231), axis, "1479 or earlier")
    assert 'd="M2.00 2H50.00V10H2.00L0.00 6Z"' in open_before


def test_undated_records_alone_have_no_axis() -> None:
    assert axis_of([None, (OPEN_BEFORE, OPEN_AFTER)]) is None
