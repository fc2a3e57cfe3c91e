"""The pages of records over the demo: the drawing first, then what is known and missing, and the citation."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from guardbook.__main__ import application
from guardbook.actions.load_demo import load_demo
from guardbook.catalogue.access import Viewer
from guardbook.catalogue.catalogue import open_catalogue
from tests.api.client import Client
from tests.api.shelf import SHELF
from tests.api.shelf import STRIP as SMALL_STRIP
from tests.catalogue.shelf import changed, save

LAW_BOOK, ACCOUNTS, TOLL_BOOK = "host/N6Y9VM-C", "host/F90AA2-P", "host/5JZSY8-3"
PSALTER, STRIP, COVER = "carrier/1NE28B-M", "fragment/B89RYC-6", "fragment/HBGE83-F"
LIFTED, BOUND_IN = "separation/43ERJK-Z", "placing/GS4BV7-F"
ROW = "Strip of a psalter, spine panel 1: panel spine lining"


@pytest.fixture(scope="module")
def browser() -> Iterator[Client]:
    with open_catalogue(None) as catalogue:
        load_demo(catalogue.access(Viewer.WORKSHOP), if_empty=True)
        views = {viewer: catalogue.access(viewer) for viewer in Viewer}
        yield Client(application(views.__getitem__), headers={"Accept": "text/html"})


def told(html: str) -> str:
    """Give a page as it is read, without its marks."""
    without = re.sub(r"<script[^>]*>.*?</script>", " ", html, flags=re.DOTALL)
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", without))


@pytest.mark.parametrize("path", [LAW_BOOK, STRIP, PSALTER, LIFTED, BOUND_IN])
def test_a_page_draws_first_then_tells_what_is_known_what_is_missing_and_how_to_cite(
    browser: Client, path: str
) -> None:
    page = browser.get(f"/{path}.html").text
    order = [page.index(mark) for mark in ("<svg", 'id="known"', 'id="missing"', 'id="cite"', 'id="history"')]
    assert order == sorted(order)


def test_a_volume_is_gone_through_stage_by_stage_and_a_piece_leads_to_its_page(browser: Client) -> None:
    page = browser.get(f"/{LAW_BOOK}.html?stage=3&plane=textblock-spine").text
    assert page.count("<svg") == 2
    assert all(f"stage={number}" in page for number in range(1, 6))
    drawing = page[page.index("<svg") : page.index("</svg>")]
    assert f'href="/{STRIP}"' in drawing


def test_removed_linings_are_back_in_their_places_at_the_stage_before(browser: Client) -> None:
    here = browser.get(f"/{LAW_BOOK}.html?stage=3&plane=textblock-spine").text
    gone = browser.get(f"/{LAW_BOOK}.html?stage=4&like=textblock-spine").text
    assert ROW in here
    assert ROW not in gone


def test_each_removed_piece_says_where_it_is_now_and_one_in_place_does_not(browser: Client) -> None:
    page = browser.get(f"/{LAW_BOOK}.html").text
    rows = {
        found[1]: found[0]
        for found in re.findall(r"(<li[^>]*>\s*<b class=\"letter\">(\w+)</b>.*?</li>)", page, re.DOTALL)
    }
    assert set("ABCDEFGHJKL") == set(rows)
    assert "Now it is kept by Library of the College of Saint Ovrin" in rows["C"]
    assert "gone at this stage" in rows["C"]
    assert "in place at this stage" in rows["L"]
    assert "Now it is" not in rows["L"]


def test_the_letters_beside_the_drawing_are_those_in_it(browser: Client) -> None:
    page = browser.get(f"/{LAW_BOOK}.html?stage=3&plane=textblock-spine").text
    drawing = page[page.index("<svg") : page.index("</svg>")]
    listed = re.search(r'<b class="letter">(\w+)</b>\s*<div>\s*<p><strong><a href="/' + STRIP, page)
    assert listed
    assert f"<title>{listed[1]}: Strip of a psalter, spine panel 1</title>" in drawing


def test_a_script_gets_the_drawing_and_its_list_alone(browser: Client) -> None:
    headers = {"HX-Request": "true", "HX-Target": "binding"}
    part = browser.get(f"/{LAW_BOOK}.html?stage=3", headers=headers).text
    assert part.lstrip().startswith("<section")
    assert ROW in part
    assert "<html" not in part


def test_a_volume_says_how_far_its_dates_are_proved_and_what_would_settle_the_rest(browser: Client) -> None:
    page = told(browser.get(f"/{LAW_BOOK}.html").text)
    assert "Stage 1 (As first bound): 1541 to 1543" in page
    assert "Not before 1541: the text block of “Decretals with commentary, printed 1541” is of 1541" in page
    assert "What would settle the rest" in page
    assert "These two cannot both hold" in page


def test_a_volume_leads_to_the_other_use_of_its_cover_and_to_its_own_stages_laid_over(
    browser: Client,
) -> None:
    page = browser.get(f"/{ACCOUNTS}.html").text
    assert f'href="/{ACCOUNTS}/laid-over?with={TOLL_BOOK}"' in page
    own = browser.get(f"/{LAW_BOOK}.html?stage=3").text
    assert f"/{LAW_BOOK}/laid-over?stage=3&amp;with={LAW_BOOK}&amp;withStage=5" in own


def test_two_uses_of_a_cover_are_laid_over_each_other_with_the_table_beside(browser: Client) -> None:
    page = browser.get(f"/{ACCOUNTS}/laid-over?with={TOLL_BOOK}").text
    assert page.count("<svg") == 2
    assert "lacing hole" in page


def test_two_stages_of_one_volume_are_laid_over_each_other_also_by_workshop_number(browser: Client) -> None:
    reply = browser.get(f"/{LAW_BOOK}/laid-over?stage=3&with=Q21-008&withStage=5")
    assert (reply.status_code, reply.text.count("<svg")) == (200, 2)
    assert browser.get(f"/{ACCOUNTS}/laid-over?stage=1&with=Q19-014+B&withStage=").status_code == 200


def test_a_piece_is_drawn_where_it_last_sat_and_outlined_boldly(browser: Client) -> None:
    page = browser.get(f"/{STRIP}.html").text
    assert "In its place in Decretals with commentary, printed 1541, stage 3" in page
    assert "the piece that is asked about" in page
    assert "Now it is kept by Library of the College of Saint Ovrin" in told(page)
    assert f"/{PSALTER}" in page


def test_a_piece_that_sat_in_two_volumes_is_drawn_in_either(browser: Client) -> None:
    first, last = (told(browser.get(f"/{COVER}.html{asked}").text) for asked in ("?stay=1", ""))
    assert "In its place in Accounts of the tanners" in first
    assert "In its place in Toll book of the weir bridge" in last


def test_a_cover_is_drawn_by_itself_on_both_faces_with_its_holes_from_the_tail(browser: Client) -> None:
    page = told(browser.get(f"/{COVER}.html").text)
    assert "The front, 334 × 490 mm" in page
    assert "The back, 334 × 490 mm" in page
    assert "lacing hole, first use, from the tail: 2 × 79, 2 × 178, 2 × 277 mm" in page


def test_a_lifting_shows_the_volume_before_it_and_after(browser: Client) -> None:
    page = browser.get(f"/{LIFTED}.html").text
    assert page.count("<svg") == 2
    before, after = page.index("Before: As received"), page.index("After: Spine bare")
    assert page.index("the piece that is asked about") < after
    assert "where the piece that is asked about lay" in page[after:]
    assert before < after


def test_what_was_there_from_the_first_has_no_drawing_before_it(browser: Client) -> None:
    page = browser.get(f"/{BOUND_IN}.html").text
    assert page.count("<svg") == 1
    assert "After: As first bound" in page


def test_the_leaf_of_a_carrier_is_shown_rejoined_on_its_page(browser: Client) -> None:
    page = browser.get(f"/{PSALTER}.html").text
    assert page.count("<svg") == 2
    assert f'href="/{STRIP}"' in page
    assert browser.get(f"/{PSALTER}/rejoined").headers["Location"] == f"/{PSALTER}.html"


def test_a_picture_is_shown_in_a_size_for_the_page_with_the_way_to_all_of_it(browser: Client) -> None:
    page = browser.get("/image/8K3DRK-7.html").text
    assert 'src="/images/8K3DRK-7.jpg?width=1280"' in page
    small = browser.get("/images/8K3DRK-7.jpg?width=320")
    assert (small.headers["Content-Type"], small.content[:2]) == ("image/jpeg", b"\xff\xd8")
    assert len(small.content) < len(browser.get("/images/8K3DRK-7.jpg").content)
    assert browser.get("/images/8K3DRK-7.jpg?width=5").status_code == 400


def test_the_page_of_a_piece_has_its_pictures_small(browser: Client) -> None:
    assert re.search(r'<img src="/images/[\w-]+\.jpg\?width=320"', browser.get(f"/{STRIP}.html").text)


def test_a_record_is_cited_in_words_and_in_the_forms_of_reference_managers(browser: Client) -> None:
    page = browser.get(f"/{STRIP}.html").text
    assert "Library of the College of Saint Ovrin, Sal. II 40, psalter strip 1. Guardbook, revision 1" in page
    for name in ("bibtex", "ris", "csl"):
        address = f"/api/export?format={name}&amp;id={STRIP}"
        assert f'href="{address}"' in page
        assert browser.get(address.replace("&amp;", "&")).status_code == 200
    volume = browser.get(f"/{LAW_BOOK}.html").text
    assert f'href="/iiif/{LAW_BOOK}/manifest.json"' in volume


def test_what_is_missing_begins_with_what_cannot_be_got_later(browser: Client) -> None:
    page = browser.get("/host/60CWNS-H.html").text
    part = page[page.index('id="missing"') : page.index('id="cite"')]
    assert 'href="/host/60CWNS-H/check"' in part


@pytest.mark.parametrize("asked", ["stage=x", "plane=flap", "stage=99"])
def test_what_cannot_be_drawn_is_explained(browser: Client, asked: str) -> None:
    assert browser.get(f"/{LAW_BOOK}.html?{asked}").status_code == 400


def test_every_record_of_the_demo_has_its_page_for_the_workshop_and_the_public(browser: Client) -> None:
    found = [
        hit["iri"].split("example/")[1]
        for start in (0, 100, 200)
        for hit in browser.get(f"/api/records?limit=100&offset={start}").json()["hits"]
    ]
    assert len(set(found)) > 250
    workshop = {path: browser.get(f"/{path}.html").status_code for path in found}
    public = {path: browser.get(f"/{path}.html?as=public").status_code for path in found}
    assert set(workshop.values()) == {200}
    assert set(public.values()) <= {200, 404}


def test_the_public_sees_no_box_in_which_a_piece_lies(browser: Client) -> None:
    assert "Cabinet F" in browser.get(f"/{STRIP}.html").text
    assert "Cabinet F" not in browser.get(f"/{STRIP}.html?as=public").text
    assert "Cabinet F" not in browser.get(f"/{LAW_BOOK}.html?as=public").text


@pytest.mark.parametrize(
    "path",
    [
        f"{LAW_BOOK}.html?stage=3&plane=textblock-spine",
        f"{ACCOUNTS}/laid-over?with={TOLL_BOOK}",
        f"{TOLL_BOOK}/evidence",
        f"{PSALTER}.html",
    ],
)
def test_lengths_are_written_with_the_decimal_sign_of_the_reader(browser: Client, path: str) -> None:
    german = told(browser.get(f"/{path}", headers={"Accept-Language": "de"}).text)
    assert re.findall(r".{30}\d\.\d+\s*mm", german) == []
    assert re.search(r"\d,\d+\s*mm", german)
    english = told(browser.get(f"/{path}", headers={"Accept-Language": "en"}).text)
    assert re.search(r"\d\.\d+\s*mm", english)


def test_what_each_revision_changed_is_told_and_the_record_shown_as_it_was_then() -> None:
    with open_catalogue(None) as catalogue:
        access = catalogue.access(Viewer.WORKSHOP)
        save(access, *SHELF)
        save(access, changed(SMALL_STRIP, title="Strip of a gradual", height="45.50"), from_revision=1)
        browser = Client(application(catalogue.access), headers={"Accept": "text/html"})
        name = SMALL_STRIP.short
        history = told(browser.get(f"/{name}/history").text)
        assert "Height (mm): 45.50 (was 40.0)" in history
        german = told(browser.get(f"/{name}/history", headers={"Accept-Language": "de"}).text)
        assert "Höhe (mm): 45,50 (vorher: 40,0)" in german
        first = browser.get(f"/{name}/history/1").text
        assert "45.50" not in told(first)
        assert f'href="/{name}"' in first
        assert "45.50" in told(browser.get(f"/{name}/history/2").text)
        assert browser.get(f"/{name}.html?revision=1").headers["Location"] == f"/{name}/history/1"
        assert browser.get(f"/{name}/history/3").status_code == 404
