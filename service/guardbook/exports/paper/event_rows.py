"""What a report tells of one event: what was done to what, by whom, why and how."""

from __future__ import annotations

from collections.abc import Iterator

from guardbook.binding.ordering import is_planned
from guardbook.exports.paper.matter import Matter
from guardbook.exports.paper.said import date_said, label_of, listed, term
from guardbook.records.alteration import Alteration
from guardbook.records.event import Event
from guardbook.records.move import Move
from guardbook.records.placing import Placing
from guardbook.records.separation import Separation
from guardbook.wording import _

_Row = tuple[str, str | None]
# what goes back where it was needs no stand-in
_GOES_BACK = "lifted-and-returned"


def event_rows(matter: Matter, event: Event) -> Iterator[_Row]:
    """Give what is told of an event, row by row; what is not recorded is None, unless it must be said."""
    match event:
        case Separation():
            yield from _separation(matter, event)
        case Placing():
            yield from _placing(matter, event)
        case Alteration():
            yield from _alteration(matter, event)
        case Move():
            yield from _move(matter, event)


def object_of(event: Event) -> str:
    """Give what an event was done to."""
    match event:
        case Separation() | Placing():
            return event.piece
        case Alteration():
            return event.target
        case Move():
            return event.object
        case _:
            return event.id


def what_was_done(event: Event) -> str:
    """Say in a few words what was done."""
    match event:
        case Separation():
            return term_said("separation-kind", event.separation_kind) or _("taken off")
        case Placing():
            return _put(event)
        case Alteration():
            return term_said("alteration-kind", event.alteration_kind) or _("altered")
        case Move():
            return term_said("move-kind", event.move_kind) or _("moved")
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


def object_name(matter: Matter, iri: str) -> str:
    """Call a piece or a volume by its name."""
    return matter.piece(iri) if matter.dossier.piece(iri) else matter.name(iri)


def _common(matter: Matter, event: Event, model: str) -> Iterator[_Row]:
    yield label_of(model, "by"), matter.names(event.by)


def _separation(matter: Matter, event: Separation) -> Iterator[_Row]:
    def label(name: str) -> str:
        return label_of("Separation", name)

    yield from _common(matter, event, "Separation")
    yield label("authority"), event.authority
    yield _("Consent"), consent(matter, event)
    yield label("reason"), event.reason
    yield label("methods"), _methods(event)
    yield label("methodNote"), event.method_note
    yield label("conditionBefore"), event.condition_before
    yield label("conditionAfter"), event.condition_after
    yield label("noticed"), event.noticed
    yield label("alteredOrLost"), event.altered_or_lost
    yield label("cameAway"), _kept(event)
    yield label("replacedBy"), _replaced(event)
    yield label("access"), event.access
    if is_planned(event):
        yield label("examinations"), listed(term("examination", slug) for slug in event.examinations)
        yield label("examinationsNote"), event.examinations_note
    yield label("note"), event.note


def consent(matter: Matter, event: Separation) -> str:
    """Say who consented to a removal and when: to it, or with the decision on its piece."""
    given = [(event.consent_by, event.consent_when)]
    given += [
        (one.decision.consent_by, one.decision.consent_when)
        for one in matter.decisions
        if event.piece in one.decision.about and one.chosen
    ]
    for by, when in given:
        if by:
            return listed([matter.name(by), date_said(when)])
    return _("not given yet") if is_planned(event) else _("not recorded")


def _methods(event: Separation) -> str:
    named = listed(term("method", slug) for slug in event.methods)
    return named or (_("not said yet") if is_planned(event) else _("not recorded"))


def _replaced(event: Separation) -> str:
    if event.replaced_by == "nothing" and event.separation_kind == _GOES_BACK:
        return event.replacement_note or ""
    return listed([term_said("replacement", event.replaced_by), event.replacement_note or ""])


def _kept(event: Separation) -> str | None:
    if event.sample_kept is None or not event.came_away:
        return event.came_away
    kept = _("kept as a sample") if event.sample_kept else _("not kept")
    return _("{statement} ({reason})").format(statement=event.came_away.rstrip("."), reason=kept)


def _placing(matter: Matter, event: Placing) -> Iterator[_Row]:
    yield from _common(matter, event, "Placing")
    yield label_of("Placing", "function"), term_said("function", event.function)
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
    yield label_of("Move", "housing"), term_said("housing", event.housing)
    yield label_of("Move", "shelfmark"), event.shelfmark
    yield label_of("Move", "note"), event.note


def term_said(scheme: str, slug: str | None) -> str:
    """Give the label of a term, nothing where there is none."""
    return term(scheme, slug) if slug else ""
