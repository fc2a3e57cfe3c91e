"""The part of an owner's report on how things stand: where pieces are, what is out of reach, what to mind."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from guardbook.binding.now import Now
from guardbook.exports.paper.blocks import Block, Bullets, Paragraph, Plate, Signatures, section, table
from guardbook.exports.paper.matter import Matter
from guardbook.exports.paper.photographs import AFTER, other_photographs, photographs
from guardbook.exports.paper.plates import plate
from guardbook.exports.paper.said import label_of, listed, term
from guardbook.exports.paper.treatment import treatment_of
from guardbook.records.separation import Separation
from guardbook.wording import _


def afterwards(matter: Matter) -> tuple[Block, ...]:
    """Tell how volume and pieces stand after the treatment."""
    return (
        *section(_("After treatment"), photographs(matter, AFTER)),
        *section(_("Where each piece is now"), _where(matter)),
        *section(_("What is out of reach now"), _out_of_reach(matter)),
        *section(_("To mind"), _cautions(matter)),
        *section(_("Other photographs"), other_photographs(matter)),
    )


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
    told = dict.fromkeys(caution for found in matter.examinations.values() for caution in found.cautions)
    return (Bullets(tuple(told)),) if told else ()


def signatures(matter: Matter) -> tuple[Block, ...]:
    """Give the lines to sign on: who treated, who owns; not on what is printed for the public."""
    if matter.is_public:
        return ()
    done_by = dict.fromkeys(iri for event in treatment_of(matter) for iri in event.by)
    owner = getattr(matter.host or matter.subject, "owner", None) or getattr(
        matter.host or matter.subject, "keeper", None
    )
    names = (
        *(matter.name(iri) for iri in done_by),
        *([_("For the owner, {name}").format(name=matter.name(owner))] if owner else []),
    )
    lines = tuple(_("{name}\nPlace, date, signature").format(name=name) for name in names)
    return (Signatures(lines),) if lines else ()


def plates(matter: Matter) -> tuple[Block, ...]:
    """Give the drawings of the volume before and after, each on a page of its own, at the end."""
    found: list[Plate] = [
        *(plate(sheet, _("Before treatment.")) for sheet in matter.before),
        *(
            plate(sheet, _("After treatment.") if matter.before else _("As it stands."))
            for sheet in matter.after
        ),
    ]
    return tuple(replace(one, heading="" if number else _("Drawings")) for number, one in enumerate(found))
