"""Gather what a report tells of a volume or piece, past the gate, in few reads."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path

from guardbook.actions.binding_dossier import pictures_of
from guardbook.actions.date_record import date_record
from guardbook.actions.decide import decide
from guardbook.actions.draw_for_report import drawn_as_received, drawn_for, drawn_in_place
from guardbook.actions.event_dossier import dossier_of_host, dossier_of_piece, seen
from guardbook.actions.examinations_of_event import examinations_of_event
from guardbook.actions.export_records import surroundings
from guardbook.actions.image_file import kept_file
from guardbook.actions.weigh_evidence import weigh_evidence
from guardbook.binding.contradictions import Contradiction
from guardbook.binding.dossier import Dossier, piece_of
from guardbook.binding.ordering import is_planned
from guardbook.binding.pieces import PieceTold, pieces_of
from guardbook.binding.replay import life_of
from guardbook.binding.whereabouts import Whereabouts, whereabouts
from guardbook.catalogue.access import Access, Viewer
from guardbook.errors import WrongUse
from guardbook.evidence.decision import DecisionSheet
from guardbook.evidence.examinations import Examinations
from guardbook.exports.citation import citations
from guardbook.exports.paper.label import newest
from guardbook.exports.paper.matter import Matter, Pictured
from guardbook.exports.paper.plates import PlaceSheet
from guardbook.imaging.smaller import smaller
from guardbook.records.base import Model, Record
from guardbook.records.decision import Decision
from guardbook.records.event import Event
from guardbook.records.fields import fields_of
from guardbook.records.fragment import Fragment
from guardbook.records.host import HostVolume
from guardbook.records.image import Image
from guardbook.records.placing import Placing
from guardbook.records.separation import Separation
from guardbook.records.values import Reference
from guardbook.wording import _, language

# 300 dots an inch and more on half the width of a page
PRINTED_PX = 1280
_CALLED_BY_NAME = frozenset({"agent", "institution", "carrier"})


def gather_report(access: Access, name: str, *, weighed: bool, data: Path | None = None) -> Matter:
    """Gather the matter of a report on the volume or piece of a name.

    `weighed` takes along evidence and dates; `data` is the folder that holds the pictures. Raises NotFound,
    Gone, and WrongUse for a record that is neither volume nor piece.
    """
    subject = access.record(access.resolve(name)).record
    if not isinstance(subject, HostVolume | Fragment):
        message = _("{record} is neither a volume nor a piece. Reports are of those.")
        raise WrongUse(message=message.format(record=subject.short))
    host, dossier, pieces = _told_of(access, subject)
    told = whereabouts(dossier, subject.id) if isinstance(subject, Fragment) else None
    pictures = _images(access, subject, pieces)
    around = surroundings(access, language())
    decisions = tuple(_decisions(access, subject, pieces))
    whole = _with_people(access, dossier, [*pictures, *(sheet.decision for sheet in decisions)])
    asked = {subject.id, *(iri for sheet in decisions for iri in sheet.decision.about), *_planned(dossier)}
    return Matter(
        subject=subject,
        host=host,
        pieces=pieces,
        dossier=whole,
        decisions=decisions,
        examinations=dict(_examinations(access, whole, pieces)),
        evidence=weigh_evidence(access, subject.id) if weighed else None,
        dating=date_record(access, subject.id) if weighed else None,
        whereabouts=told,
        contradictions=_contradictions(dossier, host, told),
        drawings=drawn_for(access, host, pieces, asked, subject.id if told else None),
        in_place=_in_place(access, host, told),
        pictures=tuple(Pictured(image=image, jpeg=_jpeg(image, data)) for image in pictures),
        citation=next(citations([subject], around)),
        when=newest(whole.records.values(), around),
        is_public=access.viewer is Viewer.PUBLIC,
    )


def _told_of(
    access: Access, subject: HostVolume | Fragment
) -> tuple[HostVolume | None, Dossier, tuple[PieceTold, ...]]:
    """Give the volume, the records round it, and the pieces to tell of."""
    if isinstance(subject, HostVolume):
        dossier = dossier_of_host(access, subject)
        return subject, dossier, pieces_of(dossier, subject.id).pieces
    dossier = dossier_of_piece(access, subject)
    host = _last_host(dossier, subject)
    if host is None:
        return None, dossier, ()
    at_host = pieces_of(dossier, host.id).pieces
    return host, dossier, tuple(one for one in at_host if one.piece == subject.id)


def _planned(dossier: Dossier) -> set[str]:
    """Give the pieces of which something is planned."""
    events = (record for record in dossier.records.values() if isinstance(record, Event))
    return {piece for event in events if is_planned(event) and (piece := piece_of(event))}


def _in_place(access: Access, host: HostVolume | None, told: Whereabouts | None) -> PlaceSheet | None:
    if told:
        return drawn_in_place(access, told)
    return drawn_as_received(access, host) if host else None


def _contradictions(
    dossier: Dossier, host: HostVolume | None, told: Whereabouts | None
) -> tuple[Contradiction, ...]:
    """Give what the records of the subject say that cannot all be true."""
    if told:
        return told.contradictions
    return pieces_of(dossier, host.id).contradictions if host else ()


def _last_host(dossier: Dossier, piece: Fragment) -> HostVolume | None:
    """Give the volume that a piece is in, or was last in, as far as this viewer sees it."""
    hosts = [host for stay in life_of(dossier, piece.id).stays if (host := dossier.host(stay.host))]
    return hosts[-1] if hosts else None


def _images(access: Access, subject: Record, pieces: Iterable[PieceTold]) -> list[Image]:
    wanted = dict.fromkeys([subject.id, *(one.piece for one in pieces)])
    found = [record for record in pictures_of(access, wanted) if isinstance(record, Image)]
    return sorted(found, key=lambda image: (image.when or "", image.id))


def _jpeg(image: Image, data: Path | None) -> bytes | None:
    """Give a picture in the size of paper, without what its camera noted in it."""
    path = kept_file(image, data)
    return smaller(path, PRINTED_PX) if path else None


def _decisions(access: Access, subject: Record, pieces: Iterable[PieceTold]) -> Iterator[DecisionSheet]:
    about = access.referring(list(dict.fromkeys([subject.id, *(one.piece for one in pieces)])), "about")
    found = [record for record in seen(access, about) if isinstance(record, Decision)]
    for decision in sorted(found, key=lambda one: (one.when or "", one.id)):
        yield decide(access, decision.id)


def _examinations(
    access: Access, dossier: Dossier, pieces: Iterable[PieceTold]
) -> Iterator[tuple[str, Examinations]]:
    """Give how examinations stand for each piece after the last return or removal that is recorded of it."""
    for one in pieces:
        events = [
            event
            for event in dossier.events_of_piece(one.piece)
            if isinstance(event, Separation) or (isinstance(event, Placing) and event.undoes)
        ]
        if events:
            last = max(events, key=lambda event: (event.when or "", isinstance(event, Placing), event.id))
            yield one.piece, examinations_of_event(access, last.id)


def _with_people(access: Access, dossier: Dossier, more: Iterable[Record]) -> Dossier:
    """Add whoever is named in any of the records, so that they can be called by their names."""
    records = [*dossier.records.values(), *more]
    named = {iri.partition("#")[0] for record in records for iri in _references(record)}
    people = {iri for iri in named if iri.rsplit("/", 2)[-2] in _CALLED_BY_NAME}
    return Dossier.of([*records, *seen(access, people)], dossier.withheld)


def _references(model: Model) -> Iterator[str]:
    """Give whatever a record or a part of it names."""
    for field in fields_of(type(model)):
        value = getattr(model, field.name)
        items = value if field.many else (value,) if value else ()
        for item in items:
            if isinstance(item, Model):
                yield from _references(item)
            elif isinstance(field.marker, Reference):
                yield item
