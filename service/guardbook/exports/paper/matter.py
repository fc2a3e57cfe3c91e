"""All that a report tells of, as one viewer may see it: gathered beforehand, since a paper asks nothing."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime

from guardbook.binding.contradictions import Contradiction
from guardbook.binding.dossier import Dossier
from guardbook.binding.pieces import PieceTold
from guardbook.binding.whereabouts import Whereabouts
from guardbook.evidence.dated import Dating
from guardbook.evidence.decision import DecisionSheet
from guardbook.evidence.evidence import Evidence
from guardbook.evidence.examinations import Examinations
from guardbook.exports.citation import Citation
from guardbook.exports.paper.plates import Drawings, PlaceSheet
from guardbook.records.base import Record
from guardbook.records.event import Event
from guardbook.records.fragment import Fragment
from guardbook.records.host import HostVolume
from guardbook.records.image import Image
from guardbook.wording import _, language


@dataclass(frozen=True, kw_only=True)
class Pictured:
    """A picture, and as JPEG where its file is kept here and can be read."""

    image: Image
    jpeg: bytes | None


@dataclass(frozen=True, kw_only=True)
class Matter:
    """What a report is made from.

    `subject` is the volume or piece it is about, `host` the volume it is, or was last, in; `pieces` are
    those it tells of. `dossier` holds the records, people too. `whereabouts` tells where a piece sat, and is
    None for a volume; `in_place` is a drawing of the place it last had, or of the volume as it was received.
    `is_public` says that only what the public may see is in it; `when` is the day of the newest record.
    """

    subject: HostVolume | Fragment
    host: HostVolume | None
    pieces: tuple[PieceTold, ...]
    dossier: Dossier
    decisions: tuple[DecisionSheet, ...] = ()
    examinations: Mapping[str, Examinations] = field(default_factory=dict)
    evidence: Evidence | None = None
    dating: Dating | None = None
    whereabouts: Whereabouts | None = None
    contradictions: tuple[Contradiction, ...] = ()
    drawings: Drawings = field(default_factory=Drawings)
    in_place: PlaceSheet | None = None
    pictures: tuple[Pictured, ...] = ()
    citation: Citation
    when: datetime
    is_public: bool

    def name(self, iri: str | None) -> str:
        """Name a person, a body or a record, or say that it is not named here."""
        record: Record | None = self.dossier.records.get((iri or "").partition("#")[0])
        if isinstance(record, Event) and not record.title:
            return record.in_short(language()) or record.display_title
        return record.display_title if record else _("not named here")

    def names(self, iris: Iterable[str | None]) -> str:
        """Name several."""
        return ", ".join(self.name(iri) for iri in iris if iri)

    def piece(self, iri: str) -> str:
        """Call a piece by its title and identifier."""
        record = self.dossier.piece(iri)
        if record is None:
            return _("a piece that is not shown here")
        return f"{record.display_title} [{record.identifier}]"
