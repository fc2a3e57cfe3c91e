"""The scholar's sheet: where a piece sat, what it proves and when, how to cite it, on two pages."""

from __future__ import annotations

from collections.abc import Iterator

from guardbook.binding.stays import Stay
from guardbook.exports.paper.afterwards import now_line
from guardbook.exports.paper.before_treatment import piece_facts, volume_facts
from guardbook.exports.paper.blocks import Block, Document, Paragraph, facts, section, set_document, table
from guardbook.exports.paper.matter import Matter
from guardbook.exports.paper.owner_report import colophon
from guardbook.exports.paper.photographs import MOMENTS, files_of, photographs
from guardbook.exports.paper.plates import keyed
from guardbook.exports.paper.proved import dates, evidence, more_in_record
from guardbook.exports.paper.qr import qr_svg
from guardbook.exports.paper.said import label_of, listed, term
from guardbook.exports.paper.sat import where_it_sat
from guardbook.exports.plain_citation import in_words
from guardbook.records.fragment import Fragment
from guardbook.wording import _

# a sheet is short: what comes after these is in the record
MOST_PIECES, MOST_PICTURES, MOST_LINES = 8, 2, 6


def scholar_sheet(matter: Matter, paper: str = "a4") -> bytes:
    """Set the sheet of a piece or volume for a scholar as PDF, in the language now spoken."""
    subject = matter.subject
    document = Document(
        kind=_("Sheet for scholars"),
        title=subject.display_title,
        subtitle=listed([matter.name(subject.keeper) if subject.keeper else "", subject.shelfmark or ""]),
        running=f"{subject.display_title} · {subject.identifier}",
        below=matter.citation.catalogue,
        facts=((_("Identifier"), subject.identifier), (_("Address"), subject.id)),
        qr=qr_svg(subject.id),
        qr_says=_("QR code that leads to {address}").format(address=subject.id),
        blocks=tuple(scholar_blocks(matter)),
        colophon=tuple(colophon(matter)),
        paper=paper,
        tight=True,
        pictures=files_of(matter),
    )
    return set_document(document, matter.when)


def scholar_blocks(matter: Matter) -> Iterator[Block]:
    """Give what stands on the sheet, part by part."""
    subject = matter.subject
    if isinstance(subject, Fragment):
        yield from section(_("What it is"), facts(piece_facts(subject)))
        yield from section(label_of("Fragment", "readingText"), _transcription(subject), 2)
        yield from section(_("Where it sat"), tuple(where_it_sat(matter)))
    else:
        yield from section(_("What it is"), facts(volume_facts(subject)))
        yield from section(_("Pieces"), tuple(_pieces(matter)))
    yield from _drawn(matter)
    yield from section(_("When"), dates(matter))
    yield from section(_("What the evidence says"), evidence(matter))
    yield from photographs(matter, MOMENTS, at_most=MOST_PICTURES)
    yield from section(
        _("How to cite"), (Paragraph(in_words(matter.citation, with_day_read=False)), *_rights(matter))
    )


def _drawn(matter: Matter) -> Iterator[Block]:
    """Give a piece where it last sat, and a volume as it was received."""
    if matter.in_place:
        yield keyed(matter.in_place)


def _pieces(matter: Matter) -> Iterator[Block]:
    shown = matter.pieces[:MOST_PIECES]
    rows = [
        (matter.piece(one.piece), _function(one.stays[0]), now_line(matter, one.now, located=False))
        for one in shown
    ]
    yield from table((_("Piece"), _("What it was"), _("Where it is")), rows, (3.4, 2.2, 5.0))
    if len(matter.pieces) > MOST_PIECES:
        more = len(matter.pieces) - MOST_PIECES
        yield more_in_record(more)


def _function(stay: Stay) -> str:
    function = stay.said("function")
    return term("function", function) if function else ""


def _transcription(piece: Fragment) -> tuple[Block, ...]:
    lines = (piece.reading_text or "").strip().splitlines()
    if not lines:
        return ()
    more = (Paragraph(_("It goes on in the record."), quiet=True),) if len(lines) > MOST_LINES else ()
    return (Paragraph("\n".join(lines[:MOST_LINES])), *more)


def _rights(matter: Matter) -> tuple[Block, ...]:
    cited = matter.citation
    return facts([(_("Rights"), listed([cited.rights_holder or "", cited.licence or ""]))])
