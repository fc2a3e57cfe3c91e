"""Dates, readings, examinations and options as pages and by the API, over the demo."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from guardbook.__main__ import application
from guardbook.actions.load_demo import load_demo
from guardbook.catalogue.access import Viewer
from guardbook.catalogue.catalogue import open_catalogue
from tests.api.client import Client

LAW_BOOK, TOLL_BOOK, REMOVAL = "host/N6Y9VM-C", "host/5JZSY8-3", "separation/W9V0WB-H"
SURVEY_DECISION = "decision/VP96S8-T"


@pytest.fixture(scope="module")
def browser() -> Iterator[Client]:
    with open_catalogue(None) as catalogue:
        access = catalogue.access(Viewer.WORKSHOP)
        load_demo(access, if_empty=True)
        views = {viewer: catalogue.access(viewer) for viewer in Viewer}
        yield Client(application(views.__getitem__), headers={"Accept": "text/html"})


def table_of(page: str) -> list[str]:
    """Give the rows of the table of readings as plain text, tags left out."""
    table = page.partition('<table class="stacks readings">')[2].partition("</table>")[0]
    rows = re.findall(r"<tr[^>]*>(.*?)</tr>", table, re.DOTALL)
    return [" ".join(re.sub(r"<[^>]+>", " ", row).split()) for row in rows]


def test_a_volume_tells_its_dates_with_their_reasons_on_a_timeline(browser: Client) -> None:
    page = browser.get(f"/{LAW_BOOK}/evidence").text
    assert page.count("<svg") == 2
    assert "Market prices of November 1846" in page


def test_each_bar_of_the_timeline_leads_to_the_statements_that_set_it(browser: Client) -> None:
    page = browser.get(f"/{LAW_BOOK}/evidence").text
    led_to = set(re.findall(r'href="#(time-\d+)"', page))
    assert led_to == set(re.findall(r'<h3 id="(time-\d+)"', page))
    assert len(led_to) == 7
    bound = page.partition('id="time-2"')[2].partition("</section>")[0]
    assert "<strong>Not before 1541</strong>: the text block of" in bound
    assert f'<a href="/{LAW_BOOK}">{LAW_BOOK}</a>' in bound
    assert "As a rule a text block is there before it is bound." in bound


def test_statements_that_cannot_all_hold_are_numbered_and_those_that_would_mend_it_marked(
    browser: Client,
) -> None:
    page = browser.get(f"/{LAW_BOOK}/evidence").text
    clash = page.partition('<div class="clash">')[2].partition("</div>")[0]
    assert "These two cannot both hold" in clash
    assert clash.count("<li") == 2
    assert clash.count('<li class="mends">') == 1
    assert "was not in two books at once" in clash
    assert "Taking back (2) alone would mend it." in clash


def test_where_it_is_open_whether_a_piece_is_original_both_cases_are_told(browser: Client) -> None:
    page = browser.get("/host/CP51DM-S/evidence").text
    case = page.partition('<div class="case">')[2].partition("</div>")[0]
    assert "Strap lined with parchment" in case
    assert [words in case for words in ("If it is:", "If it is not:", "What would decide it")] == [True] * 3


def test_worked_out_and_signed_readings_stand_side_by_side_by_strength(browser: Client) -> None:
    rows = table_of(browser.get(f"/{TOLL_BOOK}/evidence").text)
    settled, pointed = rows.index("Settled"), rows.index("Pointed to")
    between = rows[settled + 1 : pointed]
    assert [("Worked out" in row, "Entered by" in row) for row in between] == [(True, False), (False, True)]
    assert "34.0 mm apart" in between[0]
    assert "The same book was sewn again" in between[0]


def test_a_reading_that_is_not_settled_says_what_would_decide_it(browser: Client) -> None:
    rows = table_of(browser.get(f"/{TOLL_BOOK}/evidence").text)
    (folds,) = [row for row in rows if row.startswith("It had an earlier format")]
    assert "It was folded in storage (nothing recorded excludes it)" in folds
    assert "Look at the dirt and wear on both sides of the fold" in folds


def test_a_removal_tells_what_can_be_examined_only_now_with_its_cautions(browser: Client) -> None:
    page = browser.get(f"/{REMOVAL}/examinations").text
    assert "Only while it is lifted" in page
    assert "safety data sheet" in page


def test_options_lie_side_by_side_and_nothing_is_advised(browser: Client) -> None:
    page = browser.get(f"/{SURVEY_DECISION}/decision").text
    assert '<th scope="col">leave in place</th><th scope="col">lift and return</th>' in page
    assert "It is no advice" in page
    assert "should" not in page.partition("<main")[2].partition("</main")[0]


def test_a_weight_is_tried_out_without_being_saved(browser: Client) -> None:
    before = browser.get(f"/{SURVEY_DECISION}/decision").text
    tried = browser.get(f"/{SURVEY_DECISION}/decision?weight.criterion-1=6,5").text
    assert "tried out" not in before
    assert 'name="weight.criterion-1" value="6.5"' in tried
    assert re.search(r'Place</th><td></td><td data-label="leave in place">2</td>', tried)
    assert browser.get(f"/{SURVEY_DECISION}/decision").text == before


def test_the_weights_of_a_decision_can_be_tried_out_by_programs_too(browser: Client) -> None:
    told = browser.get(f"/api/records/{SURVEY_DECISION}/decision?weight=criterion-1:6.5").json()
    assert told["ranking"][0] == ["#option-2"]
    assert [one["tried"] for one in told["criteria"]] == [True, False, False, False, False]


@pytest.mark.parametrize("weight", ["criterion-1=much", "criterion-1=-1", "criterion-9=2", "criterion-1=1e9"])
def test_a_weight_that_cannot_be_understood_is_explained(browser: Client, weight: str) -> None:
    reply = browser.get(f"/{SURVEY_DECISION}/decision?weight.{weight}")
    assert reply.status_code == 400
    assert "expected" in reply.text.lower()


def test_the_consent_and_the_text_for_the_owner_stand_on_the_sheet(browser: Client) -> None:
    page = browser.get(f"/{SURVEY_DECISION}/decision").text
    assert "Consent given by Town Archive of Quelmarre, 2025-02-10." in page
    assert "There are 4 ways to go on." in page.partition('id="owner-text"')[2]


@pytest.mark.parametrize(
    "question", [f"{LAW_BOOK}/dates", f"{TOLL_BOOK}/evidence", f"{REMOVAL}/examinations"]
)
def test_the_api_answers_the_same_questions(browser: Client, question: str) -> None:
    reply = browser.get(f"/api/records/{question}")
    assert (reply.status_code, type(reply.json())) == (200, dict)


def test_what_has_no_such_answer_is_explained(browser: Client) -> None:
    assert browser.get(f"/api/records/{LAW_BOOK}/examinations").status_code == 400
