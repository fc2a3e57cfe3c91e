"""Whether the order of a volume's stages agrees with the dates of its stages and events."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby, pairwise

from guardbook.binding.contradictions import Contradiction, event_words, told
from guardbook.binding.dossier import Dossier, piece_of
from guardbook.binding.ordering import Step, order_at_host, stages_of
from guardbook.binding.times import Span, reach
from guardbook.records import terms
from guardbook.records.date_words import date_words
from guardbook.records.event import Event
from guardbook.records.host import HostVolume, Stage
from guardbook.wording import _


@dataclass(frozen=True)
class _Dated:
    """Something with a date and a place in the order of stages: a stage itself, or an event."""

    stage: int
    words: str
    span: Span
    event: Event | None = None


def stage_clashes(dossier: Dossier, host: str, piece: str | None = None) -> tuple[Contradiction, ...]:
    """Tell what of a volume's stages and events is dated against their order, and stages that are not there.

    With a `piece`, only what one of its own events is part of.
    """
    steps = order_at_host(dossier.host(host), dossier.events_at_host(host))
    record = dossier.host(host)
    clashes = [*_not_there(dossier, record, steps), *_against_dates(dossier, host, record, steps)]
    if piece is None:
        return tuple(clashes)
    own = {step.event.id for step in steps if piece_of(step.event) == piece}
    return tuple(clash for clash in clashes if own & set(clash.events))


def _not_there(dossier: Dossier, host: HostVolume | None, steps: Iterable[Step]) -> Iterator[Contradiction]:
    for step in steps:
        if host and not step.stage_said and getattr(step.event, "stage", None):
            yield told("stage-not-there", dossier, host=host.id, second=step.event)


def _against_dates(
    dossier: Dossier, host: str, record: HostVolume | None, steps: Iterable[Step]
) -> Iterator[Contradiction]:
    """Go through the stages in order, holding each date against the latest beginning of any earlier stage."""
    dated = sorted(_dated(record, steps), key=lambda one: one.stage)
    latest: _Dated | None = None
    for _stage, group in groupby(dated, key=lambda one: one.stage):
        stage = list(group)
        for one in stage:
            if latest and one.span.surely_before(latest.span):
                yield _told(dossier, host, latest, one)
        latest = max([*([latest] if latest else []), *stage], key=lambda one: one.span.earliest)
    yield from _against_sequence(dossier, host, steps)


def _dated(record: HostVolume | None, steps: Iterable[Step]) -> Iterator[_Dated]:
    for stage in stages_of(record):
        if stage.when:
            yield _Dated(stage.number, _stage_words(stage), reach(stage.when))
    for step in steps:
        if step.stage_said and step.event.when and step.stage is not None:
            yield _Dated(step.stage, event_words(step.event), reach(step.event.when), step.event)


def _against_sequence(dossier: Dossier, host: str, steps: Iterable[Step]) -> Iterator[Contradiction]:
    said = [step for step in steps if step.event.sequence is not None and step.stage_said and step.event.when]
    for one, two in pairwise(said):
        first, second = (
            _Dated(step.stage or 0, event_words(step.event), reach(step.event.when), step.event)
            for step in (one, two)
        )
        in_sequence = first.stage == second.stage and one.event.sequence != two.event.sequence
        if in_sequence and second.span.surely_before(first.span):
            yield _told(dossier, host, first, second)


def _stage_words(stage: Stage) -> str:
    named = stage.name or terms.label("stage-kind", stage.stage_kind)
    dated = date_words(stage.when or "")
    return _("stage {number} ({name}, {date})").format(number=stage.number, name=named, date=dated)


def _told(dossier: Dossier, host: str, first: _Dated, second: _Dated) -> Contradiction:
    return told(
        "stages-against-dates",
        dossier,
        host=host,
        first=first.event,
        second=second.event,
        before=first.words,
        after=second.words,
    )
