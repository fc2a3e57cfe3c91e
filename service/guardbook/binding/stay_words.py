"""Sentences about stays: when and how a piece lay in a volume, what lay near it, where it is now."""

from __future__ import annotations

from collections.abc import Sequence
from types import MappingProxyType

from guardbook.binding.contradictions import event_words, sentence
from guardbook.binding.dossier import Dossier
from guardbook.binding.neighbours import Neighbour
from guardbook.binding.now import Now
from guardbook.binding.ordering import stages_of
from guardbook.binding.place_words import certainty_words, fixing_words, place_words, way_round_words
from guardbook.binding.stays import Lying, Stay
from guardbook.records import terms
from guardbook.records.event import Event
from guardbook.records.host import Stage
from guardbook.records.move import Move
from guardbook.records.placing import Placing
from guardbook.records.separation import Separation

NAMED_AT_MOST = 4

_NEAR: MappingProxyType[str, str] = MappingProxyType(
    {
        "over": "under {}",
        "under": "over {}",
        "overlapping": "overlapping {} (which lies over which is not recorded)",
        "behind": "with {} on the other face",
        "beside": "beside {}",
    }
)
_NOW: MappingProxyType[str, str] = MappingProxyType(
    {
        "in-volume": "now it is in {host}",
        "kept-with-volume": "now it is kept with {host}",
        "kept": "now it is kept apart",
        "kept-by": "now it is kept by {keeper}",
        "lost": "now it is lost",
        "destroyed": "now it is destroyed",
        "unknown": "where it is now is not recorded",
    }
)
_ORIGINAL: MappingProxyType[str | None, str] = MappingProxyType(
    {
        "yes": ", original to that binding",
        "no": ", not original to that binding",
        "uncertain": ", perhaps original to that binding",
    }
)


def _if_said(phrase: str, value: object) -> str:
    """Fill a phrase with a value, or say nothing where there is none."""
    return phrase.format(value) if value else ""


def _label(scheme: str, slug: str | None) -> str:
    return terms.label(scheme, slug) if slug else ""


def stage_words(stage: Stage) -> str:
    """Call a stage by its number, kind and date: `stage 2 (cover re-used, 1566~)`."""
    named = stage.name or terms.label("stage-kind", stage.stage_kind)
    return f"stage {stage.number} ({named}{_if_said(', {}', stage.when)})"


def stay_heading(stay: Stay, dossier: Dossier) -> str:
    """Head a stay with its volume and what the piece did there."""
    host = dossier.host(stay.host)
    shelfmark = _if_said(" ({})", host.shelfmark if host else None)
    function = _if_said(", as {}", _label("function", stay.said("function")))
    return f"In {dossier.name(stay.host)}{shelfmark}{function}"


def lying_words(stages: Sequence[Stage], stay: Stay, lying: Lying, near: Sequence[Neighbour]) -> str:
    """Tell in one sentence how a piece lay over some stages."""
    when = _when(stages)
    if stay.placing is None:
        return sentence(f"{when}it was there; how it lay is not recorded.")
    angle = stay.said("writing_angle")
    places = " and ".join(place_words(position, lying, angle) for position in lying.positions)
    parts = [
        f"it lay {places or 'in a place that is not described'}",
        *way_round_words(stay),
        *near_words(near),
    ]
    certainties = dict.fromkeys(certainty_words(position) for position in lying.positions)
    return sentence(f"{when}{'; '.join([', '.join(parts), fixing_words(stay), *certainties])}.")


def _when(stages: Sequence[Stage]) -> str:
    if not stages:
        return ""
    first, last = stage_words(stages[0]), stage_words(stages[-1])
    return f"At {first} " if len(stages) == 1 else f"From {first} to {last} "


def near_words(near: Sequence[Neighbour]) -> list[str]:
    """Say what a piece lay under, over, beside; by name, the first few of each."""
    said = []
    for relation, phrase in _NEAR.items():
        names = [one.name for one in near if one.relation == relation]
        if names:
            said.append(phrase.format(_listed(names)))
    return said


def _listed(names: Sequence[str]) -> str:
    more = len(names) - NAMED_AT_MOST
    shown = list(names[:NAMED_AT_MOST]) + ([f"{more} more"] if more > 0 else [])
    return " and ".join([", ".join(shown[:-1]), shown[-1]]) if len(shown) > 1 else shown[0]


def coming_words(stay: Stay) -> str:
    """Say what put a piece in its volume."""
    placing = stay.placing
    if placing is None:
        return "How it came there is not recorded."
    back = _if_said(", {}", _label("return-kind", placing.return_kind))
    return f"Put there by {event_words(placing)}{back}{_ORIGINAL.get(placing.original_to_assembly, '')}."


def leaving_words(stay: Stay, dossier: Dossier) -> str:
    """Say what took a piece out of its volume, and which stage that led to; nothing while it is there."""
    if stay.leaving is None:
        return ""
    kind = _if_said(", {}", kind_words(stay.leaving))
    stages = (stage for stage in stages_of(dossier.host(stay.host)) if stage.number == stay.to_stage)
    led = "".join(f", which led to {stage_words(stage)}" for stage in stages)
    return f"Taken off by {event_words(stay.leaving)}{kind}{led}."


def kind_words(event: Event) -> str:
    """Say of which kind an event is, as far as its record does."""
    match event:
        case Separation(separation_kind=str(kind)):
            return terms.label("separation-kind", kind)
        case Placing(return_kind=str(kind)):
            return terms.label("return-kind", kind)
        case Placing(function=str(function)):
            return f"as {terms.label('function', function)}"
        case Move(move_kind=str(kind)):
            return terms.label("move-kind", kind)
        case _:
            return ""


def now_words(now: Now, dossier: Dossier) -> str:
    """Say in one sentence where a piece is, and which event says so."""
    state = "kept-by" if now.state == "kept" and now.keeper else now.state
    said = [_NOW[state].format(host=dossier.name(now.host), keeper=dossier.name(now.keeper))]
    if now.host_state:
        said.append(f"which is {now.host_state} itself")
    if now.state not in {"lost", "destroyed", "unknown"}:
        said += _kept(now, dossier)
    return sentence(", ".join(said) + _witness(now) + ".")


def _witness(now: Now) -> str:
    """Say which record says where a piece is, or was last."""
    if now.event is None:
        return "; so says its own record" if now.state == "kept" else ""
    told = "; the last that is known of it is {}" if now.state == "unknown" else "; so says {}"
    return told.format(event_words(now.event))


def _kept(now: Now, dossier: Dossier) -> list[str]:
    keeper = dossier.name(now.keeper) if now.keeper and now.state != "kept" else None
    return [
        phrase.format(value)
        for phrase, value in (
            ("kept by {}", keeper),
            ("shelfmark {}", now.shelfmark),
            ("housing: {}", _label("housing", now.housing)),
            ("at {}", now.place),
            ("location: {}", now.box_location),
        )
        if value
    ]


def planned_words(event: Event, dossier: Dossier) -> str:
    """Tell of a planned event."""
    host = getattr(event, "host", None)
    where = f", {dossier.name(host)}" if host else ""
    return f"Planned: {event_words(event)}{_if_said(', {}', kind_words(event))}{where}."


def withheld_words(count: int) -> str:
    """Say that some events are not shown."""
    events = "One event is" if count == 1 else f"{count} events are"
    return f"{events} not shown to you; what is said here may be incomplete."


def stay_summary(stay: Stay, dossier: Dossier) -> str:
    """Tell a stay in one sentence: as what, from which stage, and what took it off."""
    stages = {stage.number: stage_words(stage) for stage in stages_of(dossier.host(stay.host))}
    said = [
        _label("function", stay.said("function")) or "function not recorded",
        _if_said("from {}", stages.get(stay.from_stage or 0)),
        _if_said("until {}", stages.get(stay.to_stage or 0)),
        _if_said("taken off by {}", event_words(stay.leaving) if stay.leaving else None),
    ]
    return sentence(f"{', '.join(word for word in said if word)}.")
