"""The situations in a dossier that bear on time: which event stands where, and what is known of it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import pairwise

from guardbook.binding.contradictions import event_words
from guardbook.binding.dossier import Dossier
from guardbook.binding.host_states import lives_at_host, states_of
from guardbook.binding.life_order import puts_in
from guardbook.binding.ordering import is_planned, stages_of
from guardbook.binding.times import reach
from guardbook.records import terms
from guardbook.records.alteration import Alteration
from guardbook.records.event import Event
from guardbook.records.fragment import Fragment
from guardbook.records.host import HostVolume, Stage
from guardbook.records.move import Move
from guardbook.records.placing import Placing
from guardbook.records.separation import Separation
from guardbook.wording import _, language

# stages in which the volume as a whole was bound
ASSEMBLIES = frozenset({"bound", "reused"})


@dataclass(frozen=True, kw_only=True)
class Situation:
    """One situation of a kind: its times by their role, the facts, and the names that go into words."""

    of: str
    record: str
    times: dict[str, str]
    names: dict[str, str]
    facts: frozenset[str] = field(default_factory=frozenset)


def made(iri: str) -> str:
    """Name the time at which a piece or carrier was made."""
    return f"made {iri}"


def cut(iri: str) -> str:
    """Name the time at which a piece was cut to what it is."""
    return f"cut {iri}"


def text(iri: str) -> str:
    """Name the time at which the text block of a volume was begun."""
    return f"text {iri}"


def short(iri: str) -> str:
    """Give `kind/identifier` of an IRI, without the base."""
    return "/".join(iri.partition("#")[0].rsplit("/", 2)[-2:])


def quoted(name: str) -> str:
    """Put a name in quotation marks."""
    return _("“{name}”").format(name=name)


def stage_name(stage: Stage) -> str:
    """Call a stage by its name and number."""
    named = stage.name or terms.label("stage-kind", stage.stage_kind, language())
    return _("stage {number} ({name})").format(number=stage.number, name=named)


class Gathered:
    """All situations of a dossier; `original` answers for placings of which it is uncertain or not said."""

    def __init__(self, dossier: Dossier, original: dict[str, bool] | None = None) -> None:
        self.dossier = dossier
        self.original = original or {}
        records = dossier.records.values()
        self.hosts = [record for record in records if isinstance(record, HostVolume)]
        self.pieces = [record for record in records if isinstance(record, Fragment)]
        self.events = [record for record in records if isinstance(record, Event) and not is_planned(record)]
        self._stages = {host.id: self._reached(host) for host in self.hosts}

    def stages(self, host: str | None) -> tuple[Stage, ...]:
        """Give the stages of a volume that have come about, by number."""
        return self._stages.get(host or "", ())

    def situations(self) -> Iterator[Situation]:
        """Give every situation but those of several events, which other modules add."""
        for host in self.hosts:
            yield from self._of_volume(host)
        for event in self.events:
            match event:
                case Placing():
                    yield self._placing(event)
                case Separation():
                    yield self._separation(event)
                case Alteration() | Move():
                    yield self._other(event)
        for piece in self.pieces:
            yield from self._carriers(piece)

    def first_binding(self, host: str) -> Stage | None:
        """Give the first stage in which a volume was bound, or None."""
        return next((stage for stage in self.stages(host) if stage.stage_kind in ASSEMBLIES), None)

    def old_waste(self, piece: str, host: str) -> bool:
        """Say whether a piece is surely older than the text block of a volume."""
        fragment, volume = self.dossier.piece(piece), self.dossier.host(host)
        if fragment is None or volume is None or not fragment.date_made or not volume.text_date:
            return False
        return reach(fragment.date_made).surely_before(reach(volume.text_date))

    def placing_undone(self, separation: Separation) -> Placing | None:
        """Give the placing that a separation undoes: the one it names, or the only one it can be."""
        there = [
            event
            for event in self.dossier.events_of_piece(separation.piece)
            if isinstance(event, Placing) and not is_planned(event) and puts_in(event)
        ]
        if separation.undoes:
            return next((event for event in there if event.id == separation.undoes), None)
        at_host = [event for event in there if event.host == separation.host]
        return at_host[0] if len(at_host) == 1 else None

    def _reached(self, host: HostVolume) -> tuple[Stage, ...]:
        states = states_of(self.dossier, host.id, lives_at_host(self.dossier, host.id))
        planned = {state.number for state in states if state.is_planned}
        return tuple(stage for stage in stages_of(host) if stage.number not in planned)

    def _of_volume(self, host: HostVolume) -> Iterator[Situation]:
        stages = self.stages(host.id)
        if bound := self.first_binding(host.id):
            times = {"text": text(host.id), "bound": host.id + bound.id}
            yield Situation(
                of="volume",
                record=host.id,
                times=times,
                names={"record": short(host.id), "stage": stage_name(bound)},
                facts=frozenset({"bound-blank"} if host.bound_blank else ()),
            )
        for earlier, later in pairwise(stages):
            if earlier.number == later.number:
                continue
            yield Situation(
                of="stages",
                record=host.id,
                times={"earlier": host.id + earlier.id, "later": host.id + later.id},
                names={
                    "earlier": stage_name(earlier),
                    "later": stage_name(later),
                    "record": short(host.id),
                },
            )

    def _placing(self, placing: Placing) -> Situation:
        times = {"made": made(placing.piece), "cut": cut(placing.piece), "placing": placing.id}
        around, names = self._around(placing)
        names["host"] = quoted(self.dossier.name(placing.host))
        if self.dossier.host(placing.host):
            times["text"] = text(placing.host)
            names["volume"] = short(placing.host)
        return Situation(
            of="placing",
            record=placing.id,
            times={**times, **around},
            names={**self._named(placing, "placing"), **names},
            facts=self._facts(placing),
        )

    def _facts(self, placing: Placing) -> frozenset[str]:
        facts = set()
        known = {"yes": True, "no": False}.get(placing.original_to_assembly or "")
        original = known if known is not None else self.original.get(placing.id)
        if original is not None:
            facts.add("original" if original else "not-original")
        if self.old_waste(placing.piece, placing.host):
            facts.add("old-waste")
        host = self.dossier.host(placing.host)
        if host and host.bound_blank:
            facts.add("bound-blank")
        if host and not host.text_date:
            facts.add("undated-text")
        if placing.undoes or placing.return_kind:
            facts.add("returned")
        at = next((s for s in self.stages(placing.host) if placing.host + s.id == placing.stage), None)
        if at and at.stage_kind in ASSEMBLIES:
            facts.add("assembly")
        return frozenset(facts)

    def _separation(self, separation: Separation) -> Situation:
        times = {"made": made(separation.piece), "separation": separation.id}
        around, names = self._around(separation)
        times.update((key, value) for key, value in around.items() if key != "stage")
        if placing := self.placing_undone(separation):
            times["placing"] = placing.id
            names["placing"] = event_words(placing)
        return Situation(
            of="separation",
            record=separation.id,
            times=times,
            names={**self._named(separation, "separation"), **names},
        )

    def _other(self, event: Alteration | Move) -> Situation:
        target = event.target if isinstance(event, Alteration) else event.object
        times, names = {event.kind: event.id}, {"piece": quoted(self.dossier.name(target))}
        if self.dossier.piece(target):
            times["made"] = made(target)
        facts: frozenset[str] = frozenset()
        if isinstance(event, Alteration):
            around, more = self._around(event)
            times.update(around)
            names.update(more)
            if event.alteration_kind == "inscribed" and self.dossier.host(target):
                facts = frozenset({"inscribed"})
        names[event.kind] = event_words(event)
        return Situation(of=event.kind, record=event.id, times=times, names=names, facts=facts)

    def _carriers(self, piece: Fragment) -> Iterator[Situation]:
        for carrier in sorted({place.carrier for place in piece.carrier_places}):
            yield Situation(
                of="carrier",
                record=piece.id,
                times={"carrier": made(carrier), "made": made(piece.id)},
                names={
                    "piece": quoted(piece.display_title),
                    "carrier": quoted(self.dossier.name(carrier)),
                    "record": short(piece.id),
                },
            )

    def _named(self, event: Placing | Separation, role: str) -> dict[str, str]:
        return {
            "piece": quoted(self.dossier.name(event.piece)),
            role: event_words(event),
            "record": event.short,
        }

    def _around(self, event: Placing | Separation | Alteration) -> tuple[dict[str, str], dict[str, str]]:
        """Give the stage an event leads to, with those before and after it, as times and as names."""
        host = self.dossier.host(event.host or getattr(event, "target", None))
        if host is None or event.stage is None:
            return {}, {}
        stages = self.stages(host.id)
        at = next((number for number, stage in enumerate(stages) if host.id + stage.id == event.stage), None)
        if at is None:
            return {}, {}
        wanted = {"stage_before": at - 1, "stage": at, "stage_after": at + 1}
        found = {role: stages[number] for role, number in wanted.items() if 0 <= number < len(stages)}
        times = {role: host.id + stage.id for role, stage in found.items()}
        return times, {role: stage_name(stage) for role, stage in found.items()}
