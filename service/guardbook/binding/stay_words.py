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
from guardbook.records.date_words import date_words
from guardbook.records.event import Event
from guardbook.records.host import Stage
from guardbook.records.move import Move
from guardbook.records.placing import Placing
from guardbook.records.separation import Separation
from guardbook.wording import _, ngettext, said_later

NAMED_AT_MOST = 4

_NEAR: MappingProxyType[str, str] = MappingProxyType(
    {
        "over": said_later("under {pieces}"),
        "under": said_later("over {pieces}"),
        "overlapping": said_later("overlapping {pieces} (which lies over which is not recorded)"),
        "behind": said_later("with {pieces} on the other face"),
        "beside": said_later("beside {pieces}"),
    }
)
_NOW: MappingProxyType[str, str] = MappingProxyType(
    {
        "in-volume": said_later("now it is in {host}"),
        "kept-with-volume": said_later("now it is kept with {host}"),
        "kept": said_later("now it is kept apart"),
        "kept-by": said_later("now it is kept by {keeper}"),
        "lost": said_later("now it is lost"),
        "destroyed": said_later("now it is destroyed"),
        "unknown": said_later("where it is now is not recorded"),
    }
)
_VOLUME_GONE: MappingProxyType[str, str] = MappingProxyType(
    {"lost": said_later("which is lost itself"), "destroyed": said_later("which is destroyed itself")}
)
_ORIGINAL: MappingProxyType[str | None, str] = MappingProxyType(
    {
        "yes": said_later("original to that binding"),
        "no": said_later("not original to that binding"),
        "uncertain": said_later("perhaps original to that binding"),
    }
)


def _label(scheme: str, slug: str | None) -> str:
    return terms.label(scheme, slug) if slug else ""


def stage_words(stage: Stage) -> str:
    """Call a stage by its number, kind and date: `stage 2 (cover re-used, about 1566)`."""
    named = stage.name or terms.label("stage-kind", stage.stage_kind)
    if not stage.when:
        return _("stage {number} ({name})").format(number=stage.number, name=named)
    return _("stage {number} ({name}, {date})").format(
        number=stage.number, name=named, date=date_words(stage.when)
    )


def stay_heading(stay: Stay, dossier: Dossier) -> str:
    """Head a stay with its volume and what the piece did there."""
    host = dossier.host(stay.host)
    volume = dossier.name(stay.host)
    if host and host.shelfmark:
        volume = _("{volume} ({shelfmark})").format(volume=volume, shelfmark=host.shelfmark)
    function = _label("function", stay.said("function"))
    if not function:
        return _("In {volume}").format(volume=volume)
    return _("In {volume}, as {function}").format(volume=volume, function=function)


def lying_words(stages: Sequence[Stage], stay: Stay, lying: Lying, near: Sequence[Neighbour]) -> str:
    """Tell in one sentence how a piece lay over some stages."""
    if stay.placing is None:
        return _at(stages, _("it was there; how it lay is not recorded."))
    angle = stay.said("writing_angle")
    places = _(" and ").join(place_words(position, lying, angle) for position in lying.positions)
    parts = [
        _("it lay {place}").format(place=places or _("in a place that is not described")),
        *way_round_words(stay),
        *near_words(near),
    ]
    certainties = dict.fromkeys(certainty_words(position) for position in lying.positions)
    return _at(stages, f"{'; '.join([', '.join(parts), fixing_words(stay), *certainties])}.")


def _at(stages: Sequence[Stage], told: str) -> str:
    """Put before what is told at which stages it was so."""
    if not stages:
        return sentence(told)
    first, last = stage_words(stages[0]), stage_words(stages[-1])
    if len(stages) == 1:
        return sentence(_("at {stage} {told}").format(stage=first, told=told))
    return sentence(_("from {first} to {last} {told}").format(first=first, last=last, told=told))


def near_words(near: Sequence[Neighbour]) -> list[str]:
    """Say what a piece lay under, over, beside; by name, the first few of each."""
    said = []
    for relation, phrase in _NEAR.items():
        names = [one.name for one in near if one.relation == relation]
        if names:
            said.append(_(phrase).format(pieces=_listed(names)))
    return said


def _listed(names: Sequence[str]) -> str:
    more = len(names) - NAMED_AT_MOST
    shown = list(names[:NAMED_AT_MOST]) + ([_("{count} more").format(count=more)] if more > 0 else [])
    return _(" and ").join([", ".join(shown[:-1]), shown[-1]]) if len(shown) > 1 else shown[0]


def coming_words(stay: Stay) -> str:
    """Say what put a piece in its volume."""
    placing = stay.placing
    if placing is None:
        return _("How it came there is not recorded.")
    original = _ORIGINAL.get(placing.original_to_assembly)
    told = [event_words(placing), _label("return-kind", placing.return_kind), _(original) if original else ""]
    return _("Put there by {event}.").format(event=", ".join(filter(None, told)))


def leaving_words(stay: Stay, dossier: Dossier) -> str:
    """Say what took a piece out of its volume, and which stage that led to; nothing while it is there."""
    if stay.leaving is None:
        return ""
    told = ", ".join(filter(None, [event_words(stay.leaving), kind_words(stay.leaving)]))
    for stage in stages_of(dossier.host(stay.host)):
        if stage.number == stay.to_stage:
            return _("Taken off by {event}, which led to {stage}.").format(
                event=told, stage=stage_words(stage)
            )
    return _("Taken off by {event}.").format(event=told)


def kind_words(event: Event) -> str:
    """Say of which kind an event is, as far as its record does."""
    match event:
        case Separation(separation_kind=str(kind)):
            return terms.label("separation-kind", kind)
        case Placing(return_kind=str(kind)):
            return terms.label("return-kind", kind)
        case Placing(function=str(function)):
            return _("as {function}").format(function=terms.label("function", function))
        case Move(move_kind=str(kind)):
            return terms.label("move-kind", kind)
        case _:
            return ""


def now_words(now: Now, dossier: Dossier) -> str:
    """Say in one sentence where a piece is, and which event says so."""
    state = "kept-by" if now.state == "kept" and now.keeper else now.state
    said = [_(_NOW[state]).format(host=dossier.name(now.host), keeper=dossier.name(now.keeper))]
    if now.host_state:
        said.append(_(_VOLUME_GONE[now.host_state]))
    if now.state not in {"lost", "destroyed", "unknown"}:
        said += _kept(now, dossier)
    return sentence(f"{'; '.join([', '.join(said), *_witness(now)])}.")


def _witness(now: Now) -> list[str]:
    """Say which record says where a piece is, or was last."""
    if now.event is None:
        return [_("so says its own record")] if now.state == "kept" else []
    told = _("the last that is known of it is {event}") if now.state == "unknown" else _("so says {event}")
    return [told.format(event=event_words(now.event))]


def _kept(now: Now, dossier: Dossier) -> list[str]:
    keeper = dossier.name(now.keeper) if now.keeper and now.state != "kept" else None
    return [
        phrase.format(value=value)
        for phrase, value in (
            (_("kept by {value}"), keeper),
            (_("shelfmark {value}"), now.shelfmark),
            (_("housing: {value}"), _label("housing", now.housing)),
            (_("at {value}"), now.place),
            (_("location: {value}"), now.box_location),
        )
        if value
    ]


def planned_words(event: Event, dossier: Dossier) -> str:
    """Tell of a planned event."""
    host = getattr(event, "host", None)
    told = [event_words(event), kind_words(event), dossier.name(host) if host else ""]
    return _("Planned: {event}.").format(event=", ".join(filter(None, told)))


def withheld_words(count: int) -> str:
    """Say that some events are not shown."""
    if count == 1:
        return _("One event is not shown to you; what is said here may be incomplete.")
    return ngettext(
        "{count} event is not shown to you; what is said here may be incomplete.",
        "{count} events are not shown to you; what is said here may be incomplete.",
        count,
    ).format(count=count)


def stay_summary(stay: Stay, dossier: Dossier) -> str:
    """Tell a stay in one sentence: as what, at which stages, and what took it off."""
    said = [
        _label("function", stay.said("function")) or _("function not recorded"),
        held_words(stay, dossier),
        _("taken off by {event}").format(event=event_words(stay.leaving)) if stay.leaving else "",
    ]
    return sentence(f"{', '.join(filter(None, said))}.")


def held_words(stay: Stay, dossier: Dossier) -> str:
    """Say at which stages a piece was there: not at the one that its leaving led to."""
    stages = stages_of(dossier.host(stay.host))
    held = [stage_words(stage) for stage in stages if stay.holds_at(stage.number)]
    if not held or (stay.from_stage is None and stay.to_stage is None):
        return ""
    if stay.to_stage is None:
        return _("from {stage}").format(stage=held[0])
    if stay.from_stage is None:
        return _("until {stage}").format(stage=held[-1])
    if len(held) == 1:
        return _("at {stage}").format(stage=held[0])
    return _("from {first} to {last}").format(first=held[0], last=held[-1])
