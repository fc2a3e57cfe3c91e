"""The owner's report: what was found, what was proposed, what was done, and how things stand now.

What the workshop prints names people as they are recorded, and says where pieces lie; it never holds private
notes, valuations or contacts. What is printed for the public holds only what the public may see.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from guardbook import settings
from guardbook.exports.paper.afterwards import afterwards
from guardbook.exports.paper.before_treatment import before_treatment
from guardbook.exports.paper.blocks import Block, Document, DrawingsDone, Paragraph, section, set_document
from guardbook.exports.paper.done import treatment_done
from guardbook.exports.paper.matter import Matter
from guardbook.exports.paper.photographs import files_of
from guardbook.exports.paper.proposal import proposal
from guardbook.exports.paper.qr import qr_svg
from guardbook.exports.paper.said import date_said, day, listed
from guardbook.exports.paper.signing import signatures
from guardbook.exports.paper.treatment import treatment_of
from guardbook.wording import _, ngettext


def owner_report(matter: Matter, paper: str = "a4") -> bytes:
    """Set the report for the owner of a volume or piece as PDF, in the language now spoken."""
    subject = matter.subject
    document = Document(
        kind=_("Treatment report"),
        title=subject.display_title,
        subtitle=listed([matter.name(subject.keeper) if subject.keeper else "", subject.shelfmark or ""]),
        running=f"{subject.display_title} · {subject.identifier}",
        below=_("For the public")
        if matter.is_public
        else _("For the owner; holds what is not for the public"),
        facts=tuple(head(matter)),
        qr=qr_svg(subject.id),
        qr_says=_("QR code that leads to {address}").format(address=subject.id),
        blocks=tuple(owner_blocks(matter)),
        colophon=tuple(colophon(matter)),
        paper=paper,
        pictures=files_of(matter),
    )
    return set_document(document, matter.when)


def head(matter: Matter) -> Iterator[tuple[str, str]]:
    """Give what stands at the head: who made it, as of when, and what it is of."""
    subject = matter.subject
    yield _("Made by"), settings.current().name
    yield _("As the records stood on"), day(matter.when)
    yield _("Identifier"), subject.identifier
    if subject.workshop_number:
        yield _("Workshop number"), subject.workshop_number
    if subject.owner:
        yield _("Owner"), matter.name(subject.owner)
    if matter.host is not None and matter.host is not subject:
        yield _("Volume"), f"{matter.host.display_title} [{matter.host.identifier}]"
    events = treatment_of(matter)
    if events:
        yield _("Treated by"), matter.names(dict.fromkeys(iri for event in events for iri in event.by))
        days = [event.when for event in events if event.when]
        first, last = (date_said(days[0]), date_said(days[-1])) if days else ("", "")
        if days:
            yield (
                _("Treated"),
                first if first == last else _("{start} to {end}").format(start=first, end=last),
            )


def owner_blocks(matter: Matter) -> Iterator[Block]:
    """Give what stands in the report, part by part."""
    yield from _in_short(matter)
    yield from before_treatment(matter)
    yield from proposal(matter)
    yield from treatment_done(matter)
    yield from afterwards(matter)
    yield DrawingsDone()
    yield from section(_("Signed"), signatures(matter))


def _in_short(matter: Matter) -> tuple[Block, ...]:
    """Say in one sentence how many pieces there are, and how many of them are where."""
    states = Counter(one.now.state for one in matter.pieces)
    if not states:
        return ()
    told = ngettext("One piece is told of here.", "{count} pieces are told of here.", states.total())
    where = _(
        "In the volume now: {inside}. Kept with it: {beside}. Kept apart: {apart}. "
        "Lost, or not recorded: {other}."
    )
    inside, beside, apart = states["in-volume"], states["kept-with-volume"], states["kept"]
    other = states.total() - inside - beside - apart
    text = where.format(inside=inside, beside=beside, apart=apart, other=other)
    return (Paragraph(f"{told.format(count=states.total())} {text}"),)


def colophon(matter: Matter) -> Iterator[str]:
    """Say which state of which record a paper tells, and that some of it may not be shown."""
    cited = matter.citation
    if cited.revision is not None and cited.revised is not None:
        yield _("From {address}, revision {number} of {day}. Lengths are in millimetres.").format(
            address=cited.iri, number=cited.revision, day=day(cited.revised)
        )
    if matter.is_public:
        yield _("Only what is public is told here; some events and names may be missing.")
