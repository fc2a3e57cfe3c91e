"""The scenario holds what a person, and other tests, may look for in it."""

from collections import Counter

from guardbook.binding.dossier import Dossier
from guardbook.binding.pieces import pieces_of
from guardbook.records.alteration import Alteration
from guardbook.records.base import Record
from guardbook.records.carrier import Carrier
from guardbook.records.decision import Decision
from guardbook.records.event import Event
from guardbook.records.fragment import Fragment
from guardbook.records.host import HostVolume
from guardbook.records.move import Move
from guardbook.records.placing import Placing
from guardbook.records.reading import Reading
from guardbook.records.separation import Separation
from tests.demo.scenario import Scenario


def test_there_are_at_least_fourteen_volumes(scenario: Scenario) -> None:
    assert len(scenario.of(HostVolume)) >= 14


def test_there_are_at_least_fifty_pieces(scenario: Scenario) -> None:
    assert len(scenario.of(Fragment)) >= 50


def test_the_pieces_do_at_least_eighteen_kinds_of_work(scenario: Scenario) -> None:
    assert len({placing.function for placing in scenario.of(Placing)} - {None}) >= 18


def test_three_covers_were_used_twice(scenario: Scenario) -> None:
    assert len(scenario.re_used_covers()) == 3


def test_two_carriers_are_scattered_over_three_volumes_or_more(scenario: Scenario) -> None:
    carriers = scenario.of(Carrier)
    assert len(carriers) >= 2
    assert {carrier.title: len(scenario.hosts_of(carrier)) >= 3 for carrier in carriers} == {
        carrier.title: True for carrier in carriers
    }
    assert "printed-sheet" in {carrier.carrier_kind for carrier in carriers}


def test_pieces_leave_their_volumes_in_all_the_ways_there_are(scenario: Scenario) -> None:
    kinds = {event.separation_kind for event in scenario.of(Separation)}
    assert kinds == {
        "lifted-in-treatment",
        "lifted-and-returned",
        "found-loose-with-volume",
        "found-loose-host-unknown",
        "separated-long-ago",
        "lost",
    }


def test_a_piece_was_mounted_in_an_album_and_sold(scenario: Scenario) -> None:
    by_piece: dict[str, set[str | None]] = {}
    for move in scenario.of(Move):
        by_piece.setdefault(move.object, set()).add(move.move_kind)
    assert any({"mounted-in-album", "sold"} <= kinds for kinds in by_piece.values())


def test_a_lost_flap_left_its_traces(scenario: Scenario) -> None:
    cuts = [event for event in scenario.of(Alteration) if "Flap" in (event.description or "")]
    assert [event.alteration_kind for event in cuts] == ["trimmed"]
    cover = scenario.piece(cuts[0].target)
    assert {"fastening-hole", "cut-edge", "fold"} <= {feature.feature_kind for feature in cover.features}


def test_some_removals_are_only_planned(scenario: Scenario) -> None:
    planned = [event for event in scenario.of(Event) if event.status == "planned"]
    assert len(planned) >= 3
    assert {type(event) for event in planned} == {Separation}


def test_two_decisions_lay_their_options_side_by_side(scenario: Scenario) -> None:
    decisions = scenario.of(Decision)
    assert len(decisions) == 2
    for decision in decisions:
        assert len(decision.options) >= 2
        assert len(decision.scores) == len(decision.options) * len(decision.criteria)


def test_readings_keep_their_alternatives(scenario: Scenario) -> None:
    readings = scenario.of(Reading)
    assert len(readings) >= 4
    assert all(reading.alternatives and reading.observations for reading in readings)


def test_dates_are_written_in_many_forms(scenario: Scenario) -> None:
    text = " ".join(_dates(scenario.records))
    forms = ["~", "?", "X", "/", "[", "..", "-23"]
    assert [form for form in forms if form not in text] == []


def test_some_things_were_looked_for_and_not_found(scenario: Scenario) -> None:
    answers = Counter(answer.answer for record in scenario.records for answer in record.answers)
    assert set(answers) == {"looked-for-not-found", "cannot-be-known", "not-applicable"}


def test_one_spine_carries_seven_layers(scenario: Scenario) -> None:
    layers: dict[str, set[int]] = {}
    for placing in scenario.of(Placing):
        spine = (position for position in placing.positions if position.plane == "textblock-spine")
        layers.setdefault(placing.host, set()).update(position.layer or 0 for position in spine)
    assert max(map(len, layers.values())) >= 7


def test_two_stories_contradict_themselves_and_no_other_does(scenario: Scenario) -> None:
    dossier = Dossier.of(scenario.records)
    clashes = [
        (clash.kind, host.title)
        for host in scenario.of(HostVolume)
        for clash in pieces_of(dossier, host.id).contradictions
    ]
    assert {kind for kind, _ in clashes} == {"placed-while-elsewhere", "stages-against-dates"}
    assert {title for _, title in clashes} == {
        "Decretals with commentary, printed 1541",
        "Chronicle of the towns on the Ombrisse, 1530",
        "Antiphoner of Castrimur",
    }


def _dates(records: tuple[Record, ...]) -> list[str]:
    names = ("when", "date_made", "text_date", "binding_date")
    return [str(getattr(record, name)) for record in records for name in names if getattr(record, name, None)]
