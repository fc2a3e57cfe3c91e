"""The part of an owner's report on how things stand: where pieces are, what is out of reach, what to mind."""

from __future__ import annotations

from collections.abc import Iterator

from guardbook.binding.now import Now
from guardbook.exports.paper.blocks import Block, Bullets, Paragraph, section, table
from guardbook.exports.paper.matter import Matter
from guardbook.exports.paper.photographs import AFTER, other_photographs, photographs
from guardbook.exports.paper.plates import plates
from guardbook.exports.paper.said import days_written_out, label_of, listed, term
from guardbook.exports.paper.treatment import treatment_of
from guardbook.records.separation import Separation
from guardbook.wording import _, language


def afterwards(matter: Matter) -> tuple[Block, ...]:
    """Tell how volume and pieces stand after the treatment, or as they are."""
    title = _("After treatment") if treatment_of(matter) else _("As it stands")
    return (
        *section(title, (*_drawn(matter), *photographs(matter, AFTER), *plates(matter.drawings))),
        *section(_("Where each piece is now"), _where(matter)),
        *section(_("What is out of reach now"), _out_of_reach(matter)),
        *section(_("Where the records contradict each other"), _contradictions(matter)),
        *section(_("To mind"), _cautions(matter)),
        *section(_("Other photographs"), other_photographs(matter)),
    )


def _drawn(matter: Matter) -> Iterator[Block]:
    """Say what is drawn on the pages that follow, and what is not."""
    drawings = matter.drawings
    planes = dict.fromkeys(sheet.plane for sheet in (*drawings.before, *drawings.after))
    if planes:
        told = (
            _("Drawn as received and as it stands: {planes}.")
            if drawings.before
            else _("Drawn as it stands: {planes}.")
        )
        yield Paragraph(told.format(planes="; ".join(map(in_sentence, planes))))
    if drawings.not_drawn:
        names = "; ".join(map(matter.piece, drawings.not_drawn))
        yield Paragraph(
            _("Not drawn, but told of above in words: {pieces}.").format(pieces=names), quiet=True
        )


def in_sentence(plane: str) -> str:
    """Begin the name of a plane as it stands within a sentence."""
    return plane if language() == "de" else f"{plane[:1].lower()}{plane[1:]}"


def _contradictions(matter: Matter) -> tuple[Block, ...]:
    found = dict.fromkeys(days_written_out(clash.found) for clash in matter.contradictions)
    if not found:
        return ()
    note = _(
        "Not all of this can be true. It is told as it is recorded; nothing was put right because of it."
    )
    return (Bullets(tuple(found)), Paragraph(note, quiet=True))


def _where(matter: Matter) -> tuple[Block, ...]:
    rows = tuple(
        (matter.piece(one.piece), now_line(matter, one.now, located=True), _access(matter, one.piece))
        for one in matter.pieces
    )
    head = (_("Piece"), _("Where it is"), label_of("Separation", "access"))
    return table(head, rows, (3.2, 5.2, 2.8))


def now_line(matter: Matter, now: Now, *, located: bool) -> str:
    """Say where a piece is, with keeper, shelfmark and housing; `located` with its shelf or drawer too."""
    said = [
        _state(matter, now),
        matter.name(now.keeper) if now.keeper else "",
        now.shelfmark or "",
        term("housing", now.housing) if now.housing else "",
        now.place or "",
        (now.box_location or "") if located else "",
    ]
    return listed(said)


def _state(matter: Matter, now: Now) -> str:
    match now.state:
        case "in-volume":
            return _("in {volume}").format(volume=matter.name(now.host))
        case "kept-with-volume":
            return _("kept with {volume}").format(volume=matter.name(now.host))
        case "kept":
            return _("kept apart")
        case "lost":
            return _("lost")
        case "destroyed":
            return _("destroyed")
        case _:
            return _("not recorded")


def _access(matter: Matter, piece: str) -> str:
    told = [
        event
        for event in matter.dossier.events_of_piece(piece)
        if isinstance(event, Separation) and event.access
    ]
    return max(told, key=lambda event: (event.when or "", event.id)).access or "" if told else ""


def _out_of_reach(matter: Matter) -> tuple[Block, ...]:
    rows = tuple(_reach_rows(matter))
    head = (_("Piece"), _("No longer possible"), _("Possible in part"))
    note = _("A photograph never replaces what can no longer be looked at. What was done before is left out.")
    return (*table(head, rows, (3.0, 4.2, 4.2)), Paragraph(note, quiet=True)) if rows else ()


def _reach_rows(matter: Matter) -> Iterator[tuple[str, ...]]:
    for one in matter.pieces:
        found = matter.examinations.get(one.piece)
        if found is None or one.now.state != "in-volume":
            continue
        gone = [term("examination", it.row.slug) for it in found.in_state("out-of-reach")]
        part = [term("examination", it.row.slug) for it in found.in_state("limited")]
        if gone or part:
            yield matter.piece(one.piece), ";\n".join(gone), ";\n".join(part)


def _cautions(matter: Matter) -> tuple[Block, ...]:
    # on paper each is told once, whatever of which piece it is shown for
    reasons = _("{caution} Shown because of: {reasons}.").partition("{reasons}")[0].replace("{caution}", "")
    told = dict.fromkeys(
        caution.partition(reasons)[0] for found in matter.examinations.values() for caution in found.cautions
    )
    return (Bullets(tuple(told)),) if told else ()
