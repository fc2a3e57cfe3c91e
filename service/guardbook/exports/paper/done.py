"""The part of an owner's report on what was done: step by step, what was lost, put in or taken out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from guardbook.exports.paper.blocks import Block, Heading, Paragraph, facts, section, table
from guardbook.exports.paper.matter import Matter
from guardbook.exports.paper.photographs import DURING, photographs
from guardbook.exports.paper.said import date_said, label_of, listed, term
from guardbook.exports.paper.treatment import is_return, planned_in, treatment_of
from guardbook.records.alteration import Alteration
from guardbook.records.event import Event
from guardbook.records.move import Move
from guardbook.records.placing import Placing
from guardbook.records.separation import Separation
from guardbook.wording import _

_Row = tuple[str, str | None]


def treatment_done(matter: Matter) -> tuple[Block, ...]:
    """Tell the treatment step by step, what was altered or lost, and what was added and removed."""
    events = treatment_of(matter)
    steps = _steps(matter, events)
    planned = _steps(matter, planned_in(matter))
    none = (Paragraph(_("No treatment is recorded.")),)
    return (
        *section(_("Treatment done"), (*(steps or none), *photographs(matter, DURING))),
        *section(_("Planned, not done yet"), planned),
        *section(_("What was altered or lost"), _lost(matter, events)),
        *section(_("Materials added and removed"), _materials(matter, events)),
    )


def _steps(matter: Matter, events: Sequence[Event]) -> list[Block]:
    """Tell events in order; those of one day of which the same is told are one step of several pieces."""
    together: dict[tuple[str, str, tuple[_Row, ...]], list[str]] = {}
    for event in events:
        rows = tuple((label, value) for label, value in _rows(matter, event) if value)
        pieces = together.setdefault((date_said(event.when), _what(event), rows), [])
        pieces.append(_object(matter, _object_of(event)))
    blocks: list[Block] = []
    for (when, what, told), pieces in together.items():
        called = _("{piece}: {what}").format(piece="; ".join(dict.fromkeys(pieces)), what=what)
        blocks += [Heading(f"{when or _('Without a date')} – {called}", 2), *facts(told)]
    return blocks


def _rows(matter: Matter, event: Event) -> Iterator[_Row]:
    match event:
        case Separation():
            yield from _separation(matter, event)
        case Placing():
            yield from _placing(matter, event)
        case Alteration():
            yield from _alteration(matter, event)
        case Move():
            yield from _move(matter, event)


def _object_of(event: Event) -> str:
    match event:
        case Separation() | Placing():
            return event.piece
        case Alteration():
            return event.target
        case Move():
            return event.object
        case _:
            return event.id


def _what(event: Event) -> str:
    match event:
        case Separation():
            return _term("separation-kind", event.separation_kind) or _("taken off")
        case Placing():
            return _put(event)
        case Alteration():
            return _term("alteration-kind", event.alteration_kind) or _("altered")
        case Move():
            return _term("move-kind", event.move_kind) or _("moved")
        case _:
            return event.display_title


def _put(event: Placing) -> str:
    if event.return_kind:
        return term("return-kind", event.return_kind)
    return (
        _("put in as {function}").format(function=term("function", event.function))
        if event.function
        else _("put in")
    )


def _object(matter: Matter, iri: str) -> str:
    return matter.piece(iri) if matter.dossier.piece(iri) else matter.name(iri)


def _common(matter: Matter, event: Event, model: str) -> Iterator[_Row]:
    yield label_of(model, "by"), matter.names(event.by)


def _separation(matter: Matter, event: Separation) -> Iterator[_Row]:
    def label(name: str) -> str:
        return label_of("Separation", name)

    yield from _common(matter, event, "Separation")
    yield label("authority"), event.authority
    if event.consent_by:
        yield label("consentBy"), listed([matter.name(event.consent_by), date_said(event.consent_when)])
    yield label("reason"), event.reason
    yield label("methods"), listed(term("method", slug) for slug in event.methods)
    yield label("methodNote"), event.method_note
    yield label("conditionBefore"), event.condition_before
    yield label("conditionAfter"), event.condition_after
    yield label("noticed"), event.noticed
    yield label("alteredOrLost"), event.altered_or_lost
    yield label("cameAway"), _kept(event)
    yield label("replacedBy"), listed([_term("replacement", event.replaced_by), event.replacement_note or ""])
    yield label("access"), event.access
    yield label("note"), event.note


def _kept(event: Separation) -> str | None:
    if event.sample_kept is None or not event.came_away:
        return event.came_away
    kept = _("kept as a sample") if event.sample_kept else _("not kept")
    return _("{statement} ({reason})").format(statement=event.came_away.rstrip("."), reason=kept)


def _placing(matter: Matter, event: Placing) -> Iterator[_Row]:
    yield from _common(matter, event, "Placing")
    yield label_of("Placing", "function"), _term("function", event.function)
    yield label_of("Placing", "fixings"), listed(term("fixing", slug) for slug in event.fixings)
    yield label_of("Placing", "fixingNote"), event.fixing_note
    yield label_of("Placing", "note"), event.note


def _alteration(matter: Matter, event: Alteration) -> Iterator[_Row]:
    yield from _common(matter, event, "Alteration")
    yield label_of("Alteration", "description"), event.description
    yield label_of("Alteration", "evidence"), event.evidence
    yield label_of("Alteration", "note"), event.note


def _move(matter: Matter, event: Move) -> Iterator[_Row]:
    yield from _common(matter, event, "Move")
    yield label_of("Move", "wentTo"), matter.name(event.went_to) if event.went_to else None
    yield label_of("Move", "housing"), _term("housing", event.housing)
    yield label_of("Move", "shelfmark"), event.shelfmark
    yield label_of("Move", "note"), event.note


def _term(scheme: str, slug: str | None) -> str:
    return term(scheme, slug) if slug else ""


def _lost(matter: Matter, events: Sequence[Event]) -> tuple[Block, ...]:
    rows: list[tuple[str, ...]] = []
    for event in events:
        match event:
            case Separation() if event.altered_or_lost:
                rows.append((matter.piece(event.piece), event.altered_or_lost, date_said(event.when)))
            case Alteration():
                said = event.description or _term("alteration-kind", event.alteration_kind)
                rows.append((_object(matter, event.target), said, date_said(event.when)))
            case _:
                continue
    return table((_("Piece"), _("What"), _("When")), rows, (3.0, 6.0, 2.0))


def _materials(matter: Matter, events: Sequence[Event]) -> tuple[Block, ...]:
    rows = [row for event in events for row in _material(matter, event)]
    head = (_("Where"), _("Added"), _("Removed"), _("When"))
    return table(head, rows, (3.0, 3.6, 3.2, 2.0))


def _material(matter: Matter, event: Event) -> Iterator[tuple[str, ...]]:
    """Tell what an event put in or took out beside the piece itself."""
    when = date_said(event.when)
    match event:
        case Separation():
            replaced = event.replaced_by if event.replaced_by != "nothing" else None
            added = listed(
                [_term("replacement", replaced), (event.replacement_note or "") if replaced else ""]
            )
            if added or event.came_away:
                yield matter.piece(event.piece), added, event.came_away or "", when
        case Placing():
            # what is sewn, laced or tucked is held by the piece itself; an adhesive is brought in
            adhesives = (term("fixing", slug) for slug in event.fixings if slug.startswith("adhered"))
            fixing = listed([*adhesives, event.fixing_note or ""])
            new = "" if is_return(event) else matter.piece(event.piece)
            if fixing or new:
                yield matter.piece(event.piece), "\n".join(filter(None, [new, fixing])), "", when
        case _:
            return
