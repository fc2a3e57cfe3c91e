"""What holds of every replay, whatever the records say."""

from __future__ import annotations

import random

from hypothesis import given
from hypothesis import strategies as st

from guardbook.binding.dossier import Dossier
from guardbook.binding.host_states import HostState, lives_at_host, states_of
from guardbook.binding.pieces import pieces_of
from guardbook.binding.replay import life_of
from guardbook.binding.whereabouts import whereabouts
from guardbook.records.base import Record
from guardbook.records.event import Event
from tests.binding.bench import iri, piece, placing, separation
from tests.binding.happenings import HOSTS, PIECES, PLACES, RECORDS, happenings
from tests.records.strategies import records


def states(*found: Record) -> dict[str, list[tuple[int, frozenset[str]]]]:
    """Give what was in each volume at each stage, and how it lay."""
    dossier = Dossier.of(found)

    def summary(state: HostState) -> tuple[int, frozenset[str]]:
        return state.number, frozenset(repr((place.stay.piece, place.lying)) for place in state.pieces)

    hosts = [iri("host", name) for name in HOSTS]
    return {
        host: [summary(s) for s in states_of(dossier, host, lives_at_host(dossier, host))] for host in hosts
    }


@given(events=happenings(), chance=st.randoms(use_true_random=False))
def test_events_in_any_order_of_input_give_the_same_answer(
    events: list[Event], chance: random.Random
) -> None:
    mixed = [*RECORDS, *events]
    chance.shuffle(mixed)
    for name in PIECES:
        asked = iri("fragment", name)
        ours = whereabouts(Dossier.of([*RECORDS, *events]), asked)
        assert whereabouts(Dossier.of(mixed), asked).as_json() == ours.as_json()


@given(events=happenings(), stage=st.integers(1, 3), where=st.sampled_from(PLACES))
def test_placing_a_piece_and_taking_it_out_again_restores_the_state_before(
    events: list[Event], stage: int, where: dict[str, str]
) -> None:
    before = [*RECORDS, piece("Visitor"), *events]
    put = placing("visit", "Visitor", "Book", stage, where)
    off = separation("gone", "Visitor", "Book", stage + 1, undoes=put.id)
    after = states(*before, put, off)
    book = iri("host", "Book")
    visited = after.pop(book)[stage - 1]
    assert any(iri("fragment", "Visitor") in place for place in visited[1])
    untouched = states(*before)
    assert [s for s in states(*before, put, off)[book] if s[0] != stage] == [
        s for s in untouched.pop(book) if s[0] != stage
    ]
    assert after == untouched


@given(events=happenings())
def test_every_event_that_has_been_done_is_in_the_life_once_and_every_other_is_planned(
    events: list[Event],
) -> None:
    dossier = Dossier.of([*RECORDS, *events])
    for name in PIECES:
        life = life_of(dossier, iri("fragment", name))
        told = [step.event.id for step in life.steps] + [event.id for event in life.planned]
        assert sorted(told) == sorted(event.id for event in dossier.events_of_piece(life.piece))


@given(events=happenings())
def test_what_a_volume_says_of_a_piece_is_what_the_piece_says_of_the_volume(events: list[Event]) -> None:
    dossier = Dossier.of([*RECORDS, *events])
    for host in (iri("host", name) for name in HOSTS):
        for told in pieces_of(dossier, host).pieces:
            ours = whereabouts(dossier, told.piece)
            assert told.stays == tuple(one.stay for one in ours.stays if one.stay.host == host)
            assert told.now == ours.now


@given(events=happenings())
def test_every_contradiction_names_what_clashes_and_how_to_mend_it(events: list[Event]) -> None:
    dossier = Dossier.of([*RECORDS, *events])
    for name in PIECES:
        for clash in whereabouts(dossier, iri("fragment", name)).contradictions:
            assert clash.about
            assert set(clash.events) <= dossier.records.keys()
            assert clash.found.endswith(".")
            assert clash.mend.endswith(".")
            assert "{" not in clash.words()


@given(records=st.lists(records(), max_size=6))
def test_no_record_of_any_kind_makes_the_replay_fail(records: list[Record]) -> None:
    dossier = Dossier.of(records)
    asked = [*dossier.records, iri("fragment", "nobody knows")]
    for record in asked:
        assert whereabouts(dossier, record).words()
        assert pieces_of(dossier, record).words()
        assert whereabouts(dossier, record).as_json()["piece"] == record
