"""The scholar's sheet: where a piece sat, what it proves and when, how to cite it, on two pages."""

from __future__ import annotations

from collections.abc import Iterator

from guardbook.binding.ordering import stages_of
from guardbook.binding.replay import life_of
from guardbook.binding.stays import Stay
from guardbook.evidence.readings import Claim, status_words
from guardbook.exports.paper.afterwards import now_line
from guardbook.exports.paper.before_treatment import piece_facts, volume_facts
from guardbook.exports.paper.blocks import Block, Document, Paragraph, facts, section, set_document, table
from guardbook.exports.paper.matter import Matter
from guardbook.exports.paper.owner_report import colophon
from guardbook.exports.paper.photographs import MOMENTS, files_of, photographs
from guardbook.exports.paper.places import place_line, volume_line
from guardbook.exports.paper.plates import drawing
from guardbook.exports.paper.qr import qr_svg
from guardbook.exports.paper.said import date_said, listed, millimetres, term
from guardbook.exports.plain_citation import in_words
from guardbook.records.fragment import Fragment
from guardbook.records.host import Stage
from guardbook.records.placing import Position
from guardbook.wording import _, ngettext

# a sheet is short: what comes after these is in the record
MOST_CLAIMS, MOST_PIECES, MOST_PICTURES = 6, 8, 2
DRAWING_MM = (166.0, 78.0)


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
        blocks=tuple(_blocks(matter)),
        colophon=tuple(colophon(matter)),
        paper=paper,
        tight=True,
        pictures=files_of(matter),
    )
    return set_document(document, matter.when)


def _blocks(matter: Matter) -> Iterator[Block]:
    subject = matter.subject
    if isinstance(subject, Fragment):
        yield from section(_("What it is"), facts(piece_facts(subject)))
        yield from section(_("Where it sat"), tuple(_sat(matter)))
    else:
        yield from section(_("What it is"), facts(volume_facts(subject)))
        yield from section(_("Pieces"), tuple(_pieces(matter)))
    for sheet in (matter.before or matter.after)[:1]:
        yield drawing(sheet, "", *DRAWING_MM)
    yield from section(_("When"), _dates(matter))
    yield from section(_("What the evidence says"), _evidence(matter))
    yield from photographs(matter, MOMENTS, at_most=MOST_PICTURES)
    yield from section(
        _("How to cite"), (Paragraph(in_words(matter.citation, with_day_read=False)), *_rights(matter))
    )


def _sat(matter: Matter) -> Iterator[Block]:
    rows = [_stay(matter, stay) for stay in life_of(matter.dossier, matter.subject.id).stays]
    head = (_("Volume"), _("As what"), _("When"), _("Where"), _("How well known"))
    yield from table(head, rows, (3.2, 2.0, 2.4, 3.6, 1.8))
    cut_from = matter.subject.carrier_places if isinstance(matter.subject, Fragment) else ()
    yield from facts(
        [
            *((_("Now"), now_line(matter, one.now, located=False)) for one in matter.pieces),
            (_("Cut from"), "; ".join(_cut(matter, place.carrier, place.carrier_leaf) for place in cut_from)),
        ]
    )
    if not rows:
        yield Paragraph(_("Where it sat is not recorded"))


def _cut(matter: Matter, carrier: str, leaf: str | None) -> str:
    return listed([matter.name(carrier), _("leaf {number}").format(number=leaf) if leaf else ""])


def _stay(matter: Matter, stay: Stay) -> tuple[str, ...]:
    host = matter.dossier.host(stay.host)
    stages = {stage.number: stage for stage in stages_of(host)}
    positions = stay.lyings[-1].positions if stay.lyings else ()
    known = dict.fromkeys(term("certainty", one.certainty) for one in positions if one.certainty)
    function = stay.said("function")
    return (
        volume_line(host) if host else matter.name(stay.host),
        term("function", function) if function else "",
        _while(stages.get(stay.from_stage or 0), stages.get(stay.to_stage or 0)),
        "\n".join(_measured(position) for position in positions),
        listed(known),
    )


def _while(first: Stage | None, end: Stage | None) -> str:
    if first is None:
        return _("until {stage}").format(stage=_stage(end)) if end else ""
    if end is None:
        return _("from {stage}").format(stage=_stage(first))
    return _("from {start} until {end}").format(start=_stage(first), end=_stage(end))


def _stage(stage: Stage) -> str:
    return listed([stage.name or term("stage-kind", stage.stage_kind), date_said(stage.when)])


def _measured(position: Position) -> str:
    said = [place_line(position)]
    if position.y is not None:
        said.append(_("{length} from the tail").format(length=millimetres(position.y)))
    if position.layer is not None:
        said.append(_("layer {number}").format(number=position.layer))
    return listed(said)


def _pieces(matter: Matter) -> Iterator[Block]:
    shown = matter.pieces[:MOST_PIECES]
    rows = [
        (matter.piece(one.piece), _function(one.stays[0]), now_line(matter, one.now, located=False))
        for one in shown
    ]
    yield from table((_("Piece"), _("What it was"), _("Where it is")), rows, (3.4, 2.2, 5.0))
    if len(matter.pieces) > MOST_PIECES:
        more = len(matter.pieces) - MOST_PIECES
        yield _more(more)


def _more(count: int) -> Paragraph:
    words = ngettext(
        "{count} more is told of in the record.", "{count} more are told of in the record.", count
    )
    return Paragraph(words.format(count=count), quiet=True)


def _function(stay: Stay) -> str:
    function = stay.said("function")
    return term("function", function) if function else ""


def _dates(matter: Matter) -> tuple[Block, ...]:
    if matter.dating is None:
        return ()
    rows = [(one.name, one.limits.span_words(), date_said(one.stated)) for one in matter.dating.times]
    clashes = tuple(Paragraph(clash.words()) for clash in matter.dating.contradictions)
    head = (_("What"), _("As far as it is proved"), _("The record says"))
    return (*table(head, rows, (4.0, 4.0, 3.0)), *clashes)


def _evidence(matter: Matter) -> tuple[Block, ...]:
    if matter.evidence is None:
        return ()
    entered = [
        (one.reading.claim or one.reading.display_title, status_words(one.status), one.by)
        for one in matter.evidence.entered
    ]
    worked_out = [_claim(claim) for claim in matter.evidence.claims]
    rows = [*entered, *worked_out]
    head = (_("Reading"), _("How far it goes"), _("By whom, or on what"))
    more = len(rows) - MOST_CLAIMS
    told = (_more(more),) if more > 0 else ()
    return (*table(head, rows[:MOST_CLAIMS], (4.4, 2.0, 4.6)), *told)


def _claim(claim: Claim) -> tuple[str, str, str]:
    return (
        f"{claim.words} ({claim.subject.name})",
        status_words(claim.status),
        "; ".join(one.observed() for one in claim.readings),
    )


def _rights(matter: Matter) -> tuple[Block, ...]:
    cited = matter.citation
    return facts([(_("Rights"), cited.rights_holder), (_("Licence"), cited.licence)])
