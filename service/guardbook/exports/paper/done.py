"""The part of an owner's report on what was done: step by step, what was lost, put in or taken out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from guardbook.exports.paper.blocks import Block, Paragraph, section, table
from guardbook.exports.paper.event_rows import object_name, term_said
from guardbook.exports.paper.matter import Matter
from guardbook.exports.paper.photographs import DURING, photographs
from guardbook.exports.paper.said import date_said, listed, term
from guardbook.exports.paper.steps import steps
from guardbook.exports.paper.treatment import is_return, planned_in, treatment_of
from guardbook.records.alteration import Alteration
from guardbook.records.event import Event
from guardbook.records.placing import Placing
from guardbook.records.separation import Separation
from guardbook.wording import _


def treatment_done(matter: Matter) -> tuple[Block, ...]:
    """Tell the treatment step by step, what was altered or lost, and what was added and removed."""
    events = treatment_of(matter)
    none = (Paragraph(_("No treatment is recorded.")),)
    return (
        *section(_("Treatment done"), (*(steps(matter, events) or none), *photographs(matter, DURING))),
        *section(_("What was altered or lost"), _lost(matter, events)),
        *section(_("Materials added and removed"), _materials(matter, events)),
        *section(_("Planned, not done yet"), steps(matter, planned_in(matter), apart=True)),
    )


def _lost(matter: Matter, events: Sequence[Event]) -> tuple[Block, ...]:
    rows: list[tuple[str, ...]] = []
    for event in events:
        match event:
            case Separation() if event.altered_or_lost:
                rows.append((matter.piece(event.piece), event.altered_or_lost, date_said(event.when)))
            case Alteration():
                said = event.description or term_said("alteration-kind", event.alteration_kind)
                rows.append((object_name(matter, event.target), said, date_said(event.when)))
            case _:
                continue
    return table((_("Piece"), _("What"), _("When")), _merged(rows), (4.0, 5.0, 2.0))


def _materials(matter: Matter, events: Sequence[Event]) -> tuple[Block, ...]:
    rows = [row for event in events for row in _material(matter, event)]
    head = (_("Where"), _("Added"), _("Removed"), _("When"))
    return table(head, _merged(rows), (4.0, 3.6, 2.2, 2.0))


def _merged(rows: Iterable[tuple[str, ...]]) -> list[tuple[str, ...]]:
    """Tell once what is the same for several pieces; the last of each row is when it was."""
    pieces: dict[tuple[str, ...], dict[str, None]] = {}
    days: dict[tuple[str, ...], dict[str, None]] = {}
    for piece, *told, when in rows:
        pieces.setdefault(tuple(told), {})[piece] = None
        days.setdefault(tuple(told), {})[when] = None
    return [(";\n".join(pieces[told]), *told, ",\n".join(filter(None, days[told]))) for told in pieces]


def _material(matter: Matter, event: Event) -> Iterator[tuple[str, ...]]:
    """Tell what an event put in or took out beside the piece itself."""
    when = date_said(event.when)
    match event:
        case Separation():
            replaced = event.replaced_by if event.replaced_by != "nothing" else None
            added = listed(
                [term_said("replacement", replaced), (event.replacement_note or "") if replaced else ""]
            )
            if added or event.came_away:
                yield matter.piece(event.piece), added, event.came_away or "", when
        case Placing():
            # what is sewn, laced or tucked is held by the piece itself; an adhesive is brought in, and
            # the note of a return may name what was put in new
            adhesives = (term("fixing", slug) for slug in event.fixings if slug.startswith("adhered"))
            notes = [event.fixing_note or "", (event.note or "") if is_return(event) else ""]
            told = [listed(adhesives), *notes]
            new = "" if is_return(event) else matter.piece(event.piece)
            if any(told) or new:
                yield matter.piece(event.piece), "\n".join(filter(None, [new, *told])), "", when
        case _:
            return
