"""Following another catalogue: what it tells well is kept apart, and what it tells badly harms nothing."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import pytest

from guardbook.actions.harvest import Harvested, harvest
from guardbook.actions.harvested import drop_origin, find_harvested, list_origins, not_taken, show_harvested
from guardbook.catalogue.access import Access
from guardbook.catalogue.harvested import foreign
from guardbook.errors import Gone, NotAllowed, NotFound, SourceFailed, UnreadableFile, WrongUse
from guardbook.intake import feed as feeds
from guardbook.intake.remote import Remote
from guardbook.records.mapping import canonical
from guardbook.settings import DEFAULT_BASE, NAMESPACE, TERMS
from tests.actions.elsewhere import Away, Reply, quad, served
from tests.catalogue.shelf import save, strip

OURS = strip("strip of ours")


@pytest.fixture
def away() -> Iterator[Away]:
    with served() as catalogue:
        yield catalogue


def follow(access: Access, away: Away, **words: Any) -> Harvested:
    remote = Remote(allow_private=True, timeout_seconds=2)
    return harvest(access, words.pop("address", away.feed), remote=remote, **words)


def titles(access: Access, words: str) -> list[str]:
    return [hit.title for hit in find_harvested(access, words)]


def test_what_comes_changes_goes_and_comes_back_is_followed(workshop: Access, away: Away) -> None:
    for number in range(5):
        away.new(f"strip-{number}", f"Strip number {number}")
    assert follow(workshop, away).taken == 5
    away.put("strip-1", "A guard, as it turned out")
    away.tell("Update", "strip-1")
    away.tell("Delete", "strip-2")
    later = follow(workshop, away)
    assert (later.taken, later.gone, later.refused) == (1, 1, ())
    assert titles(workshop, "guard") == ["A guard, as it turned out"]
    assert sorted(titles(workshop, "strip num")) == ["Strip number 0", "Strip number 3", "Strip number 4"]
    with pytest.raises(Gone, match="strip-2"):
        show_harvested(workshop, away.iri("strip-2"))
    away.tell("Create", "strip-2")
    assert follow(workshop, away).taken == 1
    assert show_harvested(workshop, away.iri("strip-2")).record.title == "Strip number 2"


def test_only_what_is_new_is_asked_for(workshop: Access, away: Away) -> None:
    away.new("strip", "A strip", headers={"ETag": '"1"'})
    for _ in range(6):
        away.tell("Update", "strip")
    follow(workshop, away)
    assert away.asked.count("/documents/strip.nq") == 1
    away.asked.clear()
    assert follow(workshop, away).taken == 0
    assert sorted(away.asked) == ["/about", "/feed", "/page-3"]
    away.tell("Update", "strip")
    assert follow(workshop, away).unchanged == 1
    assert titles(workshop, "strip") == ["A strip"]


def test_a_document_that_is_gone_is_a_record_that_is_gone(workshop: Access, away: Away) -> None:
    away.new("strip", "A strip")
    follow(workshop, away)
    away.replies["/documents/strip.nq"] = Reply(b"", status=410)
    away.tell("Update", "strip")
    assert follow(workshop, away).gone == 1
    assert titles(workshop, "strip") == []


def test_a_reading_that_is_cut_short_goes_on_where_it_ended(workshop: Access, away: Away) -> None:
    for number in range(7):
        away.new(f"strip-{number}", f"Strip number {number}")
    good = away.replies["/documents/strip-4.nq"]
    away.replies["/documents/strip-4.nq"] = Reply(b"", status=503, headers={"Retry-After": "120"})
    with pytest.raises(SourceFailed, match="come back after 120"):
        follow(workshop, away)
    (origin,) = list_origins(workshop)
    assert (origin.records, "503" in origin.problem) == (3, True)
    away.replies["/documents/strip-4.nq"] = good
    away.asked.clear()
    assert follow(workshop, away).taken == 4
    assert "/documents/strip-2.nq" not in away.asked
    (origin,) = list_origins(workshop)
    assert (origin.records, origin.problem) == (7, "")


def test_a_damaged_document_is_told_of_and_tried_again(workshop: Access, away: Away) -> None:
    away.new("whole", "A whole one")
    away.new("torn", "A torn one")
    away.replies["/documents/torn.nq"] = Reply(b"<torn", "application/n-quads")
    first = follow(workshop, away)
    assert (first.taken, len(first.refused)) == (1, 1)
    (refused,) = not_taken(workshop, away.feed)
    assert (refused.iri, "cannot be read" in refused.problem) == (away.iri("torn"), True)
    assert list_origins(workshop)[0].damaged == 1
    away.put("torn", "A mended one")
    assert follow(workshop, away).taken == 1
    assert not_taken(workshop, "1") == ()
    assert titles(workshop, "mended") == ["A mended one"]


def test_no_record_of_ours_is_touched_by_what_another_claims(workshop: Access, away: Away) -> None:
    save(workshop, OURS)
    before = canonical(workshop.quads(OURS.id))
    theirs = away.iri("theirs")
    away.tell("Update", "x", object={"id": OURS.id, "type": "Dataset"})
    away.new("theirs", "Theirs", quad(OURS.id, "title", '"Now theirs"', theirs))
    away.new("graph", "In our graph", quad(away.iri("graph"), "note", '"x"', OURS.id))
    told = follow(workshop, away)
    assert told.taken == 0
    assert len(told.refused) == 3
    assert find_harvested(workshop, "theirs") == ()
    away.tell("Delete", "x", object={"id": OURS.id, "type": "Dataset"})
    follow(workshop, away)
    assert canonical(workshop.quads(OURS.id)) == before
    assert workshop.record(OURS.id).revision == 1
    with pytest.raises(NotFound):
        show_harvested(workshop, OURS.id)


@pytest.mark.parametrize(
    "space",
    [
        DEFAULT_BASE, f"{DEFAULT_BASE}fragment/", "https://guardbook.example/", NAMESPACE, TERMS,
        "https://", "http", "", "https://w3id.org/", "ftp://a.example/", "https://a.example", "https:///",
    ],
)  # fmt: skip
def test_a_catalogue_that_claims_our_addresses_or_everybody_s_is_not_followed(
    workshop: Access, away: Away, space: str
) -> None:
    away.new("strip", "A strip")
    away.space = space
    with pytest.raises((WrongUse, SourceFailed)):
        follow(workshop, away)
    assert list_origins(workshop) == ()


def test_two_catalogues_cannot_have_the_same_addresses(workshop: Access, away: Away) -> None:
    follow(workshop, away)
    with served() as copy:
        copy.space = f"{away.space}fragment/"
        with pytest.raises(WrongUse) as refused:
            follow(workshop, copy)
    assert away.feed in refused.value.faults[0].expected
    away.space = f"{away.base}moved/"
    with pytest.raises(WrongUse, match="tells of other records now"):
        follow(workshop, away)


HOSTILE = {
    "no RDF": Reply(b"<!doctype html><p>A page", "text/html"),
    "a blank node": Reply(b"_:a <http://a.example/p> <http://a.example/o> .\n", "application/n-quads"),
    "nothing": Reply(b"", "application/n-quads"),
    "no kind that is known": Reply(b"<http://a.example/s> <http://a.example/p> \"o\" .", "text/turtle"),
    "too long": Reply(b"#" * (feeds.MOST_BYTES + 1), "application/n-quads"),
    "not allowed": Reply(b"", status=403),
    "leads elsewhere": Reply(b"", status=302, headers={"Location": "http://127.0.0.1:1/"}),
    "leads to a file": Reply(b"", status=302, headers={"Location": "file:///etc/hostname"}),
}  # fmt: skip


@pytest.mark.parametrize("reply", HOSTILE.values(), ids=HOSTILE)
def test_a_hostile_document_is_refused_and_the_others_taken(
    workshop: Access, away: Away, reply: Reply
) -> None:
    away.new("bad", "A bad one")
    away.new("good", "A good one")
    away.replies["/documents/bad.nq"] = reply
    told = follow(workshop, away)
    assert (told.taken, len(told.refused)) == (1, 1)
    assert titles(workshop, "good") == ["A good one"]
    assert titles(workshop, "bad") == []


def test_a_document_with_more_statements_than_a_record_has_is_refused(
    workshop: Access, away: Away, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(foreign, "MOST_TRIPLES", 2)
    away.new("strip", "A strip", quad(away.iri("strip"), "note", '"one too many"', away.iri("strip")))
    assert "more than 2 statements" in follow(workshop, away).refused[0]


FEEDS = {
    "no JSON": Reply(b"<html>", "text/html"),
    "a list": Reply(b"[]"),
    "nested too deeply": Reply(b"[" * 100_000),
    "no feed": Reply(b'{"type": "Manifest"}'),
    "not there": Reply(b"", status=404),
    "too slow": Reply(b"{}", seconds=3),
    "round and round": Reply(b"", status=302, headers={"Location": "/feed"}),
    "a file": Reply(b"", status=302, headers={"Location": "file:///etc/hostname"}),
}


@pytest.mark.parametrize("reply", FEEDS.values(), ids=FEEDS)
def test_what_is_no_feed_is_told_of_and_nothing_is_kept(workshop: Access, away: Away, reply: Reply) -> None:
    away.replies["/feed"] = reply
    with pytest.raises((SourceFailed, UnreadableFile), match=r"feed|http"):
        follow(workshop, away)
    assert list_origins(workshop) == ()


@pytest.mark.parametrize(
    "item",
    [None, 1, "x", [], {}, {"type": "Create"}, {"type": "Create", "object": 1, "endTime": "2026"},
     {"type": "Create", "object": {"id": 1}, "endTime": "2026"}, {"type": "View", "object": "x"},
     {"type": "Create", "object": {"id": "x"}, "endTime": 2026}],
)  # fmt: skip
def test_an_activity_that_makes_no_sense_is_passed_over(workshop: Access, away: Away, item: Any) -> None:
    away.new("strip", "A strip")
    away.activities.insert(0, item)
    assert follow(workshop, away).taken == 1


def test_pages_that_lead_in_a_ring_or_to_another_host_are_not_followed_there(
    workshop: Access, away: Away
) -> None:
    away.new("strip", "A strip")
    ring = {
        "type": "OrderedCollectionPage",
        "orderedItems": away.activities,
        "prev": {"id": f"{away.base}page-1"},
    }
    away.replies["/page-1"] = Reply(json.dumps(ring).encode())
    assert follow(workshop, away).taken == 1
    away.tell("Update", "strip")
    with served() as other:
        elsewhere = {**ring, "orderedItems": [], "prev": {"id": f"{other.base}page-1"}}
        away.replies["/page-1"] = Reply(json.dumps(elsewhere).encode())
        with pytest.raises(UnreadableFile, match="is not at"):
            follow(workshop, away)
        assert other.asked == []


def test_a_feed_that_was_begun_anew_is_read_from_where_it_was(workshop: Access, away: Away) -> None:
    away.new("strip", "A strip")
    away.new("guard", "A guard")
    follow(workshop, away)
    away.activities = []
    for number in range(1, 9):
        away.put(f"new-{number}", f"New {number}")
        away.tell(
            "Create",
            f"new-{number}",
            id=f"{away.feed}#again-{number}",
            endTime=f"2026-02-01T00:00:0{number}Z",
        )
    assert follow(workshop, away).taken == 8
    assert titles(workshop, "strip") == ["A strip"]


def test_the_public_finds_what_the_workshop_says_it_may(workshop: Access, public: Access, away: Away) -> None:
    away.new("strip", "A strip")
    follow(workshop, away)
    assert (titles(public, "strip"), list_origins(public)) == ([], ())
    with pytest.raises(NotFound):
        show_harvested(public, away.iri("strip"))
    follow(workshop, away, show_public=True)
    assert titles(public, "strip") == ["A strip"]
    follow(workshop, away)
    assert titles(public, "strip") == ["A strip"]
    follow(workshop, away, show_public=False)
    assert titles(public, "strip") == []
    for deed in (lambda: follow(public, away), lambda: drop_origin(public, "1")):
        with pytest.raises((NotAllowed, NotFound)):
            deed()
    assert titles(workshop, "strip") == ["A strip"]


def test_a_record_from_elsewhere_is_shown_in_words_with_its_origin(workshop: Access, away: Away) -> None:
    iri = away.iri("strip")
    more = [
        quad(iri, "material", f"<{TERMS}material/parchment>", iri),
        quad(iri, "series", f"<{iri}#series-1>", iri),
        quad(f"{iri}#series-1", "note", '"<b>three holes</b>"', iri),
        quad(iri, "continuesOn", f"<{away.iri('guard')}>", iri),
        quad(iri, "keeper", f"<{away.space}institution/there>", iri),
        quad(iri, "licence", '"https://a.example/licence"', iri),
        quad(iri, "ofAVersionToCome", '"kept all the same"', iri),
    ]
    away.new("strip", "A strip", *more)
    away.new("guard", "The guard beside it")
    follow(workshop, away)
    shown = show_harvested(workshop, iri, "de")
    lines = {line.text for part in shown.parts for line in part.lines}
    assert "#series-1" not in lines
    assert {
        "Pergament",
        "<b>three holes</b>",
        "The guard beside it",
        f"{away.space}institution/there",
        "kept all the same",
    } <= lines
    assert [part.name for part in shown.parts] == ["", "series-1"]
    assert (shown.record.licence, shown.record.feed) == ("https://a.example/licence", away.feed)


def test_a_catalogue_that_is_dropped_leaves_nothing_behind(workshop: Access, away: Away) -> None:
    away.new("strip", "A strip")
    follow(workshop, away)
    drop_origin(workshop, "1")
    assert (titles(workshop, "strip"), list_origins(workshop)) == ([], ())
    with pytest.raises(NotFound, match="none"):
        drop_origin(workshop, "1")
    assert follow(workshop, away).taken == 1


def test_nothing_is_kept_before_something_is_harvested(workshop: Access, away: Away) -> None:
    assert list_origins(workshop) == ()
    assert find_harvested(workshop, "strip") == ()
    assert find_harvested(workshop, "") == ()
