"""Placing a piece by the form alone, as where no scripts run: saved, refused by field, never lost."""

from __future__ import annotations

import re
from dataclasses import dataclass
from html import unescape

import pytest

from guardbook.catalogue.access import Access, Change
from guardbook.catalogue.catalogue import Catalogue
from guardbook.records.fragment import Fragment
from guardbook.records.placing import Placing, Position
from tests.api.client import Client
from tests.api.shelf import BOOK, OFF, PUT, SLIP, STRIP
from tests.binding.bench import at, placing

PLACE = f"/{BOOK.short}/place"
OPENED = f"{PLACE}?piece={STRIP.short}"
ROW = "placing.positions.0"
_INPUT = re.compile(r"<input ([^>]*)>")
_SELECT = re.compile(r'<select [^>]*name="([^"]+)"[^>]*>(.*?)</select>', re.DOTALL)
Form = dict[str, str]


@dataclass(frozen=True)
class Bench:
    """A workshop before its browser: what it sends, and what is then kept."""

    client: Client
    access: Access

    def form(self, path: str = OPENED) -> Form:
        """Give what the form at an address would send as it stands."""
        page = self.client.get(path)
        assert page.status_code == 200, page.text
        return filled_in(page.text)

    def send(self, form: Form) -> tuple[int, str]:
        reply = self.client.request("POST", PLACE, data=form)
        return reply.status_code, unescape(reply.text)

    def placings(self, piece: Fragment = STRIP) -> list[Placing]:
        records = [self.access.record(iri).record for iri in self.access.linked(piece.id, "piece")]
        return [record for record in records if isinstance(record, Placing)]

    def position(self) -> Position:
        return self.placings()[0].positions[0]


def filled_in(text: str) -> Form:
    """Give what a browser would send of the form on a page."""
    form = text.partition(f'<form method="post" action="{PLACE}"')[2]
    sent = {}
    for one in _INPUT.findall(form):
        attributes = dict(re.findall(r'([\w-]+)="([^"]*)"', one))
        if "name" in attributes and attributes.get("type") != "checkbox":
            sent[attributes["name"]] = unescape(attributes.get("value", ""))
    for name, options in _SELECT.findall(form):
        chosen = re.search(r'<option value="([^"]*)" selected', options)
        sent[name] = chosen[1] if chosen else ""
    return sent


@pytest.fixture
def bench(reader: Client, catalogue: Catalogue) -> Bench:
    return Bench(reader, catalogue.access())


def test_a_form_that_is_sent_unchanged_changes_nothing(bench: Bench) -> None:
    assert bench.send(bench.form())[0] == 303
    assert bench.placings() == [PUT]
    assert bench.access.record(PUT.id).revision == 1


def test_a_corrected_place_is_saved_with_the_digits_as_typed(bench: Bench) -> None:
    status, _ = bench.send({**bench.form(), f"{ROW}.x": "-27,50", f"{ROW}.y": "17,8 cm"})
    assert status == 303
    after, before = bench.position(), PUT.positions[0]
    assert (str(after.x), str(after.y)) == ("-27.50", "178")
    assert after.model_copy(update={"x": before.x, "y": before.y}) == before


def test_every_fault_stands_beside_its_input_and_nothing_typed_is_lost(bench: Bench) -> None:
    typed = {
        f"{ROW}.x": "wide",
        f"{ROW}.rotation": "400",
        "fragment.holes.0.list": "12 or 13",
        "whatFor": "a try",
    }
    status, text = bench.send({**bench.form(), **typed})
    assert status == 422
    assert filled_in(text).items() >= typed.items()
    assert text.count('aria-invalid="true"') == 3
    assert "found 'wide'" in text
    assert bench.access.record(PUT.id).revision == 1


def test_a_number_with_two_readings_is_asked_about_and_kept_once_one_is_sure(bench: Bench) -> None:
    status, text = bench.send({**bench.form(), f"{ROW}.x": "1,234"})
    assert status == 422
    assert 'name="sure"' in text
    assert bench.send({**filled_in(text), "sure": "yes"})[0] == 303
    assert str(bench.position().x) == "1.234"


def test_a_place_that_somebody_saved_in_between_is_shown_beside_ones_own(bench: Bench) -> None:
    mine, theirs = bench.form(), bench.form()
    assert bench.send({**theirs, f"{ROW}.x": "-20"})[0] == 303
    status, text = bench.send({**mine, f"{ROW}.x": "-30"})
    assert status == 412
    assert "<td>-20</td><td>-30</td>" in text
    assert bench.send(filled_in(text))[0] == 303
    assert str(bench.position().x) == "-30"


def test_a_piece_that_was_never_there_is_placed_at_a_stage(bench: Bench) -> None:
    form = bench.form(f"{PLACE}?piece={SLIP.short}&plane=fold-1")
    assert (form[f"{ROW}.plane"], form[f"{ROW}.gathering"]) == ("fold", "1")
    told = {f"{ROW}.x": "-3", f"{ROW}.y": "12,5", "placing.function": "sewing-guard"}
    status, text = bench.send({**form, **told, "stage": f"{BOOK.id}#stage-1"})
    assert status == 303, text
    (made,) = bench.placings(SLIP)
    assert (made.function, str(made.positions[0].y), made.positions[0].gathering) == (
        "sewing-guard",
        "12.5",
        1,
    )
    assert (made.host, made.stage) == (BOOK.id, f"{BOOK.id}#stage-1")


def test_holes_and_folds_are_added_to_the_piece_in_the_same_save(bench: Bench) -> None:
    lists = {"fragment.holes.0.list": "x 28: 5 20 (30, 9)", "fragment.folds": "x 28"}
    assert bench.send({**bench.form(), **lists})[0] == 303
    kept = bench.access.record(STRIP.id)
    assert isinstance(kept.record, Fragment)
    added = [(one.feature_kind, str(one.x), str(one.y)) for one in kept.record.features]
    holes = [("sewing-hole", "28", "5"), ("sewing-hole", "28", "20"), ("sewing-hole", "30", "9")]
    assert added == [*holes, ("fold", "28", "0")]
    assert len({one.in_series for one in kept.record.features}) == 2
    assert kept.revision == 2


def test_other_places_of_the_same_placing_stay_as_they_are(bench: Bench) -> None:
    two = placing("put", STRIP.title or "", BOOK.title or "", 1, at("0", "10.0"), at(None, None, panel=2))
    both = PUT.model_copy(update={"positions": two.positions})
    bench.access.save([Change(both, 1)], who="Anna", what_for="seen twice")
    page = bench.client.get(f"{OPENED}&position=position-2").text
    assert "Its places at the same time" in page
    assert (
        bench.send({**filled_in(page), "placing.positions.1.x": "4", "placing.positions.1.y": "9"})[0] == 303
    )
    first, second = bench.placings()[0].positions
    assert first == PUT.positions[0]
    assert (str(second.x), second.panel) == ("4", 2)


@pytest.mark.parametrize("method", ["GET", "POST"])
def test_the_public_places_nothing(away: Client, method: str) -> None:
    assert away.request(method, OPENED).status_code == 403


@pytest.mark.parametrize(
    ("query", "status", "told"),
    [
        ("", 400, "Name the piece"),
        (f"?piece={BOOK.short}", 400, "is no piece"),
        (f"?piece={STRIP.short}&placing={OFF.short}", 400, "no placing of this piece"),
        (f"?piece={SLIP.short}&plane=flap", 400, "no plane called"),
        (f"?piece={STRIP.short}&stage=first", 400, "number in stage"),
        (f"?piece={STRIP.short}&stage=9", 400, "has no stage 9"),
    ],
)
def test_what_cannot_be_placed_is_explained(bench: Bench, query: str, status: int, told: str) -> None:
    reply = bench.client.get(PLACE + query)
    assert (reply.status_code, told in unescape(reply.text)) == (status, True)


def test_the_ground_is_given_with_planes_that_nothing_lies_on_yet(bench: Bench) -> None:
    ground = bench.client.get(f"/{BOOK.short}/ground.json?stage=1&plane=fold-7").json()
    keys = [plane["key"] for plane in ground["planes"]]
    assert keys == ["textblock-spine", "fold-7"]
    spine, fold = ground["planes"]
    assert [piece["piece"] for piece in spine["pieces"]] == [STRIP.id]
    assert fold["parts"]["gathering"] == 7
    assert fold["pieces"] == []


@pytest.mark.parametrize("query", ["?plane=flap", "?stage=9", "?stage=x"])
def test_a_ground_that_there_is_not_is_refused(bench: Bench, query: str) -> None:
    assert bench.client.get(f"/{BOOK.short}/ground.json{query}").status_code == 400


def test_a_new_placing_that_is_sent_twice_is_made_once(bench: Bench) -> None:
    form = bench.form(f"{PLACE}?piece={SLIP.short}&plane=fold-1")
    told = {**form, f"{ROW}.x": "-3", f"{ROW}.y": "12,5", "stage": f"{BOOK.id}#stage-1"}
    assert [bench.send(told)[0], bench.send(told)[0]] == [303, 303]
    (made,) = bench.placings(SLIP)
    assert made.short == form["new"]
    assert bench.access.record(made.id).revision == 1
