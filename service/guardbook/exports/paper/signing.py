"""The last part of an owner's report: the lines to sign on, and what a signature on them says."""

from __future__ import annotations

from guardbook import settings
from guardbook.exports.paper.blocks import Block, Paragraph, Signatures
from guardbook.exports.paper.matter import Matter
from guardbook.exports.paper.treatment import planned_in, treatment_of
from guardbook.wording import _


def signatures(matter: Matter) -> tuple[Block, ...]:
    """Give the lines to sign on: the workshop, the owner; not on what is printed for the public."""
    if matter.is_public:
        return ()
    return (Paragraph(_what_it_says(matter)), Signatures((*_of_workshop(matter), *_of_owner(matter))))


def _what_it_says(matter: Matter) -> str:
    told = _(
        "With a signature here the workshop says that it made this report, and the owner that it was "
        "received. It is no consent to anything."
    )
    if not planned_in(matter):
        return told
    more = _("Consent to what is planned is given apart from this report, in writing, and recorded with it.")
    return f"{told} {more}"


def _of_workshop(matter: Matter) -> list[str]:
    """Give a line for each who treated the volume, or one for the workshop where nothing was done yet."""
    workshop = settings.current().name
    done_by = dict.fromkeys(iri for event in treatment_of(matter) for iri in event.by)
    words = _("For the workshop, {workshop}: {name}\nPlace, date, signature")
    if done_by:
        return [words.format(workshop=workshop, name=matter.name(iri)) for iri in done_by]
    return [_("For the workshop, {workshop}\nPlace, date, signature").format(workshop=workshop)]


def _of_owner(matter: Matter) -> list[str]:
    """Give the line of the owner, or of the keeper where no owner is recorded."""
    holding = matter.host or matter.subject
    owner = holding.owner or holding.keeper
    if not owner:
        return [_("Received, for the owner\nPlace, date, signature")]
    return [_("Received, for the owner, {name}\nPlace, date, signature").format(name=matter.name(owner))]
