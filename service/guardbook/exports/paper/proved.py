"""What the evidence says and when, on a scholar's sheet: claims that are alike told once."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from guardbook.binding.contradictions import sentence
from guardbook.binding.dossier import host_of
from guardbook.evidence.dated import DatedTime
from guardbook.evidence.readings import Claim, status_words
from guardbook.evidence.situations import quoted
from guardbook.evidence.subjects import Written
from guardbook.exports.paper.blocks import Block, Paragraph, table
from guardbook.exports.paper.event_rows import object_name, object_of, what_was_done
from guardbook.exports.paper.matter import Matter
from guardbook.exports.paper.said import days_written_out, listed, months_written_out
from guardbook.records.event import Event
from guardbook.wording import _, ngettext

# a sheet is short: what comes after these is in the record
MOST_CLAIMS = 5


def dates(matter: Matter) -> tuple[Block, ...]:
    """Tell each date as far as it is proved, beside what the record says."""
    if matter.dating is None:
        return ()
    rows = [
        (
            _time(matter, one),
            months_written_out(one.limits.span_words()),
            months_written_out(one.stated or ""),
        )
        for one in matter.dating.times
    ]
    clashes = tuple(Paragraph(days_written_out(clash.words())) for clash in matter.dating.contradictions)
    head = (_("What"), _("As far as it is proved"), _("The record says"))
    return (*table(head, rows, (4.0, 4.0, 3.0)), *clashes)


def _time(matter: Matter, one: DatedTime) -> str:
    """Say what happened, with its volume and, where the sheet is not its own, its piece."""
    event = matter.dossier.records.get(one.record)
    if not isinstance(event, Event):
        return days_written_out(one.name)
    host, about = host_of(event), object_of(event)
    said = [
        sentence(what_was_done(event)),
        object_name(matter, about) if about != matter.subject.id else "",
        quoted(matter.name(host)) if host and host != matter.subject.id else "",
    ]
    return listed(said)


def evidence(matter: Matter) -> tuple[Block, ...]:
    """Tell what was read from traces, and by whom or on what."""
    if matter.evidence is None:
        return ()
    entered = [
        (one.reading.claim or one.reading.display_title, status_words(one.status), one.by)
        for one in matter.evidence.entered
    ]
    groups: dict[tuple[object, ...], list[Claim]] = {}
    for claim in matter.evidence.claims:
        groups.setdefault(_alike(claim), []).append(claim)
    rows = [*entered, *(_told(matter, group) for group in groups.values())]
    head = (_("Reading"), _("How far it goes"), _("By whom, or on what"))
    more = len(rows) - MOST_CLAIMS
    told = (more_in_record(more),) if more > 0 else ()
    return (*table(head, rows[:MOST_CLAIMS], (4.4, 2.0, 4.6)), *told)


def more_in_record(count: int) -> Paragraph:
    """Say how many more there are in the record than on the sheet."""
    words = ngettext(
        "{count} more is told of in the record.", "{count} more are told of in the record.", count
    )
    return Paragraph(words.format(count=count), quiet=True)


def _alike(claim: Claim) -> tuple[object, ...]:
    """Give what is the same for claims told together: those of a piece and one other each, standing alike."""
    if isinstance(claim.subject, Written):
        return claim.claim, claim.status
    return claim.claim, claim.status, claim.subject.name


def _told(matter: Matter, group: Sequence[Claim]) -> tuple[str, str, str]:
    first = group[0]
    if len(group) == 1:
        said = _("{claim} ({name})").format(claim=first.words, name=first.subject.name)
        return said, status_words(first.status), "; ".join(one.observed() for one in first.readings)
    names = ", ".join(dict.fromkeys(name for claim in group for name in _others(matter, claim)))
    said = _("{claim}, this piece and each of these: {names}").format(claim=first.words, names=names)
    return said, status_words(first.status), _observed(group)


def _others(matter: Matter, claim: Claim) -> list[str]:
    match claim.subject:
        case Written(one=one, two=two):
            return [quoted(it.display_title) for it in (one, two) if it.id != matter.subject.id]
        case _:
            return [claim.subject.name]


def _observed(group: Iterable[Claim]) -> str:
    """Tell what is seen in all of several claims, then what is seen in some of them, each once."""
    seen = [
        [sign.words for reading in claim.readings for sign in reading.signs if sign.is_seen]
        for claim in group
    ]
    every = [words for words in dict.fromkeys(seen[0]) if all(words in one for one in seen)]
    some = dict.fromkeys(words for one in seen for words in one if words not in every)
    return "; ".join([*every, *some])
