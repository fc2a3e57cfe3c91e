"""The dates that records state, each as a statement with its reason."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from guardbook.binding.contradictions import undated_words
from guardbook.binding.times import ANY_TIME, reach
from guardbook.evidence.date_words import reach_words
from guardbook.evidence.days import first_tick, last_tick
from guardbook.evidence.meetings import trace_time
from guardbook.evidence.network import Bound, not_after, not_before
from guardbook.evidence.situations import ASSEMBLIES, Gathered, made, quoted, short, stage_name, text
from guardbook.evidence.statements import Statement
from guardbook.records import terms
from guardbook.records.carrier import Carrier
from guardbook.records.fragment import Fragment
from guardbook.records.host import HostVolume, Stage
from guardbook.wording import _, language


@dataclass(frozen=True, kw_only=True)
class Told:
    """A date that a record states for a time, and the statement that it is."""

    time: str
    date: str
    statement: Statement

    def bounds(self) -> tuple[Bound, ...]:
        """Give the bounds it sets; an open or unknown side sets none."""
        span, found = reach(self.date), []
        if span.earliest > ANY_TIME.earliest:
            found.append(not_before(self.time, first_tick(span.earliest), self.statement.key))
        if span.latest < ANY_TIME.latest:
            found.append(not_after(self.time, last_tick(span.latest), self.statement.key))
        return tuple(found)


def dates_told(gathered: Gathered) -> Iterator[Told]:
    """Give every date stated in a dossier that bears on the order of things."""
    for host in gathered.hosts:
        yield from _of_volume(gathered, host)
    for record in gathered.dossier.records.values():
        if isinstance(record, Carrier | Fragment) and record.date_made:
            yield _told(
                made(record.id),
                record.date_made,
                record.id,
                _("{name} is of {date}").format(
                    name=quoted(record.display_title), date=reach_words(record.date_made)
                ),
                record.date_reason,
            )
        if isinstance(record, Fragment):
            yield from _of_traces(record)
    for event in gathered.events:
        if event.when:
            words = _("{event} is dated {date}").format(
                event=undated_words(event), date=reach_words(event.when)
            )
            yield _told(event.id, event.when, event.id, words, event.date_reason)


def _of_traces(piece: Fragment) -> Iterator[Told]:
    for trace in piece.features:
        if trace.date_made:
            words = _("{trace} ({id}) on {piece} is of {date}").format(
                trace=terms.label("feature", trace.feature_kind, language()),
                id=trace.id.removeprefix("#"),
                piece=quoted(piece.display_title),
                date=reach_words(trace.date_made),
            )
            time = trace_time(piece, trace)
            yield _told(time, trace.date_made, piece.id, words, trace.date_reason, part=trace.id)


def binding_stage(gathered: Gathered, host: str) -> Stage | None:
    """Give the stage that the binding date of a volume is about: the last in which it was bound."""
    return next((s for s in reversed(gathered.stages(host)) if s.stage_kind in ASSEMBLIES), None)


def _of_volume(gathered: Gathered, host: HostVolume) -> Iterator[Told]:
    if host.text_date:
        words = _("the text block of {volume} is of {date}").format(
            volume=quoted(host.display_title), date=reach_words(host.text_date)
        )
        yield _told(text(host.id), host.text_date, host.id, words, host.text_date_reason, part=" textDate")
    bound = binding_stage(gathered, host.id)
    if host.binding_date and bound:
        yield _told(
            host.id + bound.id,
            host.binding_date,
            host.id,
            _("the record dates the binding {date}").format(date=reach_words(host.binding_date)),
            host.binding_date_reason,
            part=" bindingDate",
        )
    for stage in gathered.stages(host.id):
        if stage.when:
            words = _("{event} is dated {date}").format(event=stage_name(stage), date=reach_words(stage.when))
            yield _told(host.id + stage.id, stage.when, host.id, words, stage.date_reason, part=stage.id)


def _told(time: str, date: str, record: str, words: str, reason: str | None, *, part: str = "") -> Told:
    because = f" ({reason.rstrip('.')})" if reason else ""
    statement = Statement(
        key=f"date {record}{part}",
        record=record,
        words=f"{words}{because}" if f"[{short(record)}]" in words else f"{words}{because} [{short(record)}]",
        rule="date",
        reason=_("A record states it."),
    )
    return Told(time=time, date=date, statement=statement)
