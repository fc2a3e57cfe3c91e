"""Which examinations of a piece have been done: those its removals list, and those that images show."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from guardbook.binding.contradictions import event_words
from guardbook.binding.dossier import Dossier
from guardbook.binding.ordering import is_planned
from guardbook.evidence.examination_table import ExaminationRow, examination_table
from guardbook.records.date_words import date_words
from guardbook.records.event import Event
from guardbook.records.image import Image
from guardbook.records.placing import Placing
from guardbook.records.separation import Separation
from guardbook.wording import _

# the two faces of a piece, by each pair of names they go by
_FACES = (frozenset({"recto", "verso"}), frozenset({"hair", "flesh"}), frozenset({"front", "back"}))


def examined(dossier: Dossier, piece: str) -> dict[str, str]:
    """Give the examinations done, each with the record that says so."""
    done: dict[str, str] = {}
    for event in dossier.events_of_piece(piece):
        if isinstance(event, Separation) and not is_planned(event):
            for slug in event.examinations:
                done.setdefault(slug, _("noted with {event}").format(event=event_words(event)))
    for image in _images(dossier, piece):
        for row in examination_table():
            if image.technique in row.techniques and _shows(dossier, piece, image, row):
                done.setdefault(row.slug, _image_words(image))
    return done


def allowed_for(events: Iterable[Event]) -> set[str]:
    """Give the examinations that planned removals allow for."""
    planned = (event for event in events if isinstance(event, Separation) and is_planned(event))
    return {slug for event in planned for slug in event.examinations}


def _image_words(image: Image) -> str:
    if not image.when:
        return _("shown by an image [{record}]").format(record=image.short)
    return _("shown by an image [{record}] of {date}").format(record=image.short, date=date_words(image.when))


def _images(dossier: Dossier, piece: str) -> Iterator[Image]:
    for record in dossier.records.values():
        if isinstance(record, Image) and record.depicts == (piece,):
            yield record


def _shows(dossier: Dossier, piece: str, image: Image, row: ExaminationRow) -> bool:
    """Say whether an image is of the face in question; where names of faces do not compare, it is not."""
    if row.face == "any":
        return True
    outward = {p.outward_face for p in dossier.events_of_piece(piece) if isinstance(p, Placing)} - {None}
    if len(outward) != 1 or image.face is None:
        return False
    (outer,) = outward
    if image.face == outer:
        return row.face == "outer"
    return row.face == "hidden" and any({image.face, outer} == pair for pair in _FACES)
