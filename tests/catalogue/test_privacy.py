"""What is not for the public comes out by no way at all."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import pytest

from guardbook.catalogue.access import Access
from guardbook.errors import Gone, GuardbookError, NotFound
from guardbook.records.documents import to_document
from guardbook.records.kinds import KINDS
from tests.catalogue.shelf import WHO, changed, iri, made, placing, save, strip, volume

OWNER = made(
    "agent", "owner", name="Berta Quiroga Sanç", contact="berta@letters.example", workshopNumber="P-ONE"
)
HIDDEN_HOST = volume("sealed", title="Sealed ledger", visibility="workshop", shelfmark="SEALEDMARK")
PARTNER_CARRIER = made("carrier", "sold", title="Gradual soldsecretly", visibility="partners")
OPEN_HOST = volume("open", owner=OWNER.id, boxLocation="BOXSECRET shelf", note="Lent by BERTA QUIROGA-SANÇ.")
PIECE = strip(
    owner=OWNER.id,
    keeper=OWNER.id,
    seenBy=OWNER.id,
    note="Bought by Quiroga Sanç, Berta? No: by Berta Quiroga Sanc, and hers still.",
    shelfmark="Coll. Berta Quiroga Sanç 4",
    licence="https://rights.example/berta_quiroga_sanc/terms",
    valuation="VALUESECRET 900",
    boxLocation="BOXSECRET 4",
    privateNote="NOTESECRET",
    series=[{"host": HIDDEN_HOST.id, "note": "older holes"}],
    carrierPlaces=[{"carrier": PARTNER_CARRIER.id, "note": "CARRIERSECRET upper half"}],
    answers=[{"asked": "valuation", "answer": "cannot-be-known", "reason": "ANSWERSECRET of the insurer"}],
)
PUT = placing(PIECE, OPEN_HOST, function="tacket", by=[OWNER.id], stage=OPEN_HOST.id + "#stage-1")
HIDDEN_PUT = placing(PIECE, HIDDEN_HOST, function="hollow-tube", note="PLACESECRET")
ALL = (OWNER, HIDDEN_HOST, PARTNER_CARRIER, OPEN_HOST, PIECE, PUT, HIDDEN_PUT)
HIDDEN = (OWNER, HIDDEN_HOST, PARTNER_CARRIER, HIDDEN_PUT)
SECRETS = (
    *(
        "berta",
        "quiroga",
        "sanç",
        "sanc",
        "letters.example",
        "p-one",
        "secret",
        "sealed",
        "hollow",
        "gradual",
    ),
    *(record.identifier.lower() for record in HIDDEN),
    WHO.lower(),
)
FACETS = ("owner", "keeper", "host", "carrier")
SEARCHES = (
    "",
    *SECRETS,
    "lent by",
    "4",
    "900",
    "insurer",
    "upper half",
    "older",
    "bought",
    "coll",
    "strip",
    "tacket",
)


@pytest.fixture(params=["owner first", "owner last", "renamed", "named before"])
def full(request: pytest.FixtureRequest, workshop: Access, public: Access) -> Access:
    """Give the public's view of a shelf with secrets, saved in several orders, and changed in between."""
    match request.param:
        case "owner first":
            save(workshop, *ALL)
        case "owner last":
            for record in reversed(ALL):
                save(workshop, record)
        case "renamed":
            save(workshop, *ALL)
            save(workshop, changed(OWNER, name="Someone Else"), from_revision=1)
        case "named before":
            save(workshop, changed(OWNER, may_be_named=True), *ALL[1:])
            assert public.find("quiroga").total > 0
            save(workshop, OWNER, from_revision=1)
    return public


def attempts(public: Access) -> Iterator[tuple[str, Callable[[str], Any]]]:
    """Give every way of reading there is, with everything it may be tried on."""
    yield "", lambda _: list(public.iris())
    for asked in SEARCHES:
        yield asked, lambda words: public.find(words, limit=100)
        yield asked, public.resolve
    for kind in KINDS:
        yield kind, lambda kind: (list(public.iris(kind)), public.find(kind=kind))
    ways: list[Callable[[str], Any]] = [
        public.record,
        lambda name: to_document(public.record(name).record),
        public.quads,
        public.about,
        lambda name: public.referring([name, name + "#stage-1"]),
        lambda name: [public.linked(name, field) for field in ("owner", "keeper", "by", "piece", "carrier")],
        public.history,
        lambda name: public.at_revision(name, 1),
        lambda name: public.difference(name, 1, 1),
        public.resolve,
    ]
    yield from ((record.id, way) for record in ALL for way in ways)
    yield from ((record.id, by_facet(public, name)) for record in HIDDEN for name in FACETS)


def by_facet(public: Access, name: str) -> Callable[[str], Any]:
    """Give the search for records by what one facet names."""
    return lambda iri: public.find(facets={name: iri})


def told(asked: str, way: Callable[[str], Any]) -> str:
    """Give all that is told, also by refusing, in lower case; a refusal may repeat what was asked."""
    try:
        return repr(way(asked)).lower()
    except GuardbookError as error:
        said = f"{error!r} {error} {error.problem()}".lower()
        return said.replace(asked.lower(), "") if asked else said


def test_no_way_of_reading_tells_the_public_a_secret(full: Access) -> None:
    for asked, way in attempts(full):
        said = told(asked, way)
        for secret in SECRETS:
            assert secret not in said, (asked, secret)


@pytest.mark.parametrize("record", HIDDEN, ids=lambda record: record.kind)
def test_a_record_that_is_not_for_the_public_is_not_there_for_it(full: Access, record: Any) -> None:
    for attempt in (
        full.record,
        full.quads,
        full.about,
        full.history,
        lambda name: full.at_revision(name, 1),
    ):
        with pytest.raises(NotFound):
            attempt(record.id)
    assert not full.has(record.id)
    assert record.id not in full.iris()


def test_what_is_public_stays_readable(full: Access) -> None:
    seen = full.record(PIECE.id).record
    assert seen.note == "Bought by [name withheld]? No: by [name withheld], and hers still."
    assert (seen.title, seen.owner, seen.keeper, seen.licence) == (PIECE.title, None, None, None)  # type: ignore[attr-defined]
    assert seen.carrier_places == seen.answers == ()  # type: ignore[attr-defined]
    assert [(part.note, part.host) for part in seen.series] == [("older holes", None)]  # type: ignore[attr-defined]
    assert full.about(PIECE.id) == (PUT.id,)
    assert [hit.iri for hit in full.find("tacket", kind="fragment").hits] == [PIECE.id]
    assert full.find("lent by").total == 1


def test_the_public_and_the_workshop_agree_once_the_owner_consents(full: Access, workshop: Access) -> None:
    revision = workshop.record(OWNER.id).revision
    save(workshop, changed(OWNER, may_be_named=True), from_revision=revision)
    assert full.record(OWNER.id).record.contact is None  # type: ignore[attr-defined]
    assert full.record(PIECE.id).record.owner == OWNER.id  # type: ignore[attr-defined]
    assert {hit.iri for hit in full.find("quiroga").hits} == {OWNER.id, PIECE.id, OPEN_HOST.id}
    assert full.find(facets={"keeper": OWNER.id}).total == 1
    assert workshop.verify() == ()


def test_consent_taken_back_reaches_old_revisions_too(workshop: Access, public: Access) -> None:
    save(workshop, changed(OWNER, may_be_named=True), *ALL[1:])
    save(workshop, changed(PIECE, note="Nothing."), from_revision=1)
    assert "Berta" in str(public.at_revision(PIECE.id, 1))
    save(workshop, OWNER, from_revision=1)
    assert "Berta" not in str(public.at_revision(PIECE.id, 1))
    with pytest.raises(NotFound):
        public.at_revision(OWNER.id, 1)


def test_a_revision_that_was_not_for_the_public_stays_so(workshop: Access, public: Access) -> None:
    private = strip(visibility="workshop", note="not yet")
    save(workshop, private)
    save(workshop, changed(private, visibility="public", note="now"), from_revision=1)
    assert [revision.number for revision in public.history(private.id)] == [2]
    with pytest.raises(NotFound):
        public.at_revision(private.id, 1)
    with pytest.raises(NotFound):
        public.difference(private.id, 1, 2)


def test_a_hidden_record_that_was_taken_out_is_still_not_there_for_the_public(
    full: Access, workshop: Access
) -> None:
    workshop.delete(OWNER.id, started_from=workshop.record(OWNER.id).revision, who=WHO, why="Berta asked us")
    with pytest.raises(NotFound):
        full.record(OWNER.id)
    assert "quiroga" not in str(full.record(PIECE.id)).lower()
    workshop.delete(OPEN_HOST.id, started_from=1, who=WHO, why="Berta Quiroga Sanç took it away")
    with pytest.raises(Gone) as caught:
        full.record(OPEN_HOST.id)
    assert caught.value.details["why"] == "[name withheld] took it away"
    assert WHO not in str(caught.value)
    assert workshop.verify() == ()


def test_an_event_stands_only_while_the_public_sees_what_it_happened_to(
    workshop: Access, public: Access
) -> None:
    piece, host = strip(), volume(visibility="workshop")
    put = placing(piece, host, function="tacket")
    save(workshop, put, piece, host)
    assert not public.has(put.id)
    assert public.find(facets={"function": "tacket"}).total == 0
    save(workshop, changed(host, visibility=None), from_revision=1)
    assert public.record(put.id).record == put
    assert public.find(facets={"function": "tacket"}).total == 3
    save(workshop, changed(piece, visibility="partners"), from_revision=1)
    assert not public.has(put.id)
    assert workshop.verify() == ()


def test_a_record_that_is_named_before_it_is_saved_is_shown_once_it_is_there(
    workshop: Access, public: Access
) -> None:
    library = made("institution", "library", name="Library of Vallfosca")
    piece = strip(keeper=library.id)
    save(workshop, piece)
    assert public.record(piece.id).record.keeper is None  # type: ignore[attr-defined]
    save(workshop, library)
    assert public.record(piece.id).record.keeper == library.id  # type: ignore[attr-defined]
    assert public.find(facets={"keeper": library.id}).total == 1
    assert iri("institution", "library") in public.find().facets["keeper"]
    assert workshop.verify() == ()


def test_the_public_is_not_told_what_names_a_hidden_record(full: Access, workshop: Access) -> None:
    for record in HIDDEN:
        assert full.referring([record.id, record.id + "#stage-1"]) == ()
    assert PIECE.id in workshop.referring([OWNER.id])


def test_hidden_records_are_not_even_counted(full: Access) -> None:
    seen = {PIECE.id, OPEN_HOST.id, PUT.id}
    assert set(full.iris()) == seen
    assert full.find().total == len(full.find().hits) == len(seen)
    assert sum(full.find(kind=kind).total for kind in KINDS) == len(seen)
