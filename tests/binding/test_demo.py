"""The demo scenario replayed: what was meant to contradict itself does, and nothing else."""

from __future__ import annotations

import re
from collections import defaultdict
from functools import cache

import pyoxigraph as ox

from guardbook import settings
from guardbook.binding.dossier import Dossier
from guardbook.binding.pieces import pieces_of
from guardbook.binding.stay_words import stage_words, stay_summary
from guardbook.binding.whereabouts import whereabouts
from guardbook.records.mapping import from_quads

COMB_IN_TWO_BOOKS = {"placing/0A9GX4-K", "placing/SJP0R2-2", "placing/D532BZ-2"}
CORE_OUT_BEFORE_IN = {"separation/EJ16H8-8"}


@cache
def demo() -> Dossier:
    graphs: dict[str, list[ox.Quad]] = defaultdict(list)
    for path in sorted(settings.current().demo.glob("*.ttl")):
        for quad in ox.parse(path=str(path), format=ox.RdfFormat.TURTLE):
            assert isinstance(quad.subject, ox.NamedNode)
            graphs[quad.subject.value.partition("#")[0]].append(quad)
    return Dossier.of(from_quads(quads) for quads in graphs.values())


def of_kind(kind: str) -> list[str]:
    return [iri for iri, record in demo().records.items() if record.kind == kind]


def clashing(events: set[str]) -> set[str]:
    return {"/".join(iri.rsplit("/", 2)[-2:]) for iri in events}


def test_the_two_contradictions_of_the_story_are_found_with_their_pieces_and_no_other() -> None:
    found = [clash for iri in of_kind("fragment") for clash in whereabouts(demo(), iri).contradictions]
    by_kind: dict[str, set[str]] = defaultdict(set)
    for clash in found:
        by_kind[clash.kind] |= set(clash.events)
    assert {kind: clashing(events) for kind, events in by_kind.items()} == {
        "placed-while-elsewhere": COMB_IN_TWO_BOOKS,
        "stages-against-dates": CORE_OUT_BEFORE_IN,
    }


def test_the_volumes_tell_the_same_two_contradictions() -> None:
    found = [clash for iri in of_kind("host") for clash in pieces_of(demo(), iri).contradictions]
    assert (
        clashing({event for clash in found for event in clash.events})
        == COMB_IN_TWO_BOOKS | CORE_OUT_BEFORE_IN
    )


def test_every_piece_of_the_demo_is_told_in_words_without_a_gap() -> None:
    for iri in of_kind("fragment"):
        words = whereabouts(demo(), iri).words()
        assert len(words.splitlines()) > 1
        assert not re.search(r"[{}]|\(\)|  |, [,;.]|\bnone outwards", words)
        assert "not shown here" not in words


def test_re_used_covers_are_found_in_two_volumes_having_left_the_one_before_the_other() -> None:
    lives = [[told.stay for told in whereabouts(demo(), iri).stays] for iri in of_kind("fragment")]
    covers = [
        stays
        for stays in lives
        if len({stay.host for stay in stays}) > 1 and stays[0].said("function") == "cover"
    ]
    assert len(covers) >= 2
    for stays in covers:
        assert all(stay.leaving for stay in stays[:-1])
        assert stays[-1].leaving is None


def test_a_volume_and_a_piece_name_the_same_last_stage_and_the_stage_after_no_longer_holds_it() -> None:
    ended = 0
    for iri in of_kind("fragment"):
        for told in whereabouts(demo(), iri).stays:
            stay, stages = told.stay, [stage for lay in told.lays for stage in lay.stages]
            if stay.to_stage is None or stay.from_stage is None or not stages:
                continue
            ended += 1
            summary = stay_summary(stay, demo())
            assert stage_words(stages[-1]) in summary
            assert max(stage.number for stage in stages) < stay.to_stage
            assert f"stage {stay.to_stage} " not in summary
    assert ended > 20
