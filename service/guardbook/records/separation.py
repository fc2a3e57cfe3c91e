"""A separation: a piece left a host, and everything that must be known about how."""

from __future__ import annotations

from typing import Annotated, ClassVar

from guardbook.records.base import KeeperRef, rdf
from guardbook.records.event import Event, FragmentRef, HostRef, ImageRef
from guardbook.records.host import StageRef
from guardbook.records.values import Date, Flag, Reference, Scheme, Text


class Separation(Event):
    """A piece left a host: why, how, on whose authority, what was noticed and lost, where it went.

    `host` may be missing (found loose, host unknown). `new_identity` is true when the part had no identity
    of its own before (it is then also a production in the CRM sense). `not_recorded_before` names what a
    conservator went ahead without, and `went_ahead_because` says why.
    """

    kind: ClassVar[str] = "separation"

    piece: FragmentRef = rdf(required=True)
    host: HostRef | None = rdf()
    stage: StageRef | None = rdf()
    separation_kind: Annotated[str, Scheme("separation-kind")] | None = rdf()
    undoes: Annotated[str, Reference(("placing",))] | None = rdf()
    authority: Text | None = rdf()
    consent_by: KeeperRef | None = rdf()
    consent_when: Date | None = rdf()
    reason: Text | None = rdf()
    went_ahead_because: Text | None = rdf()
    not_recorded_before: tuple[Text, ...] = rdf(many=True)
    methods: tuple[Annotated[str, Scheme("method")], ...] = rdf(many=True)
    method_note: Text | None = rdf()
    condition_before: Text | None = rdf()
    condition_after: Text | None = rdf()
    noticed: Text | None = rdf()
    altered_or_lost: Text | None = rdf()
    came_away: Text | None = rdf()
    sample_kept: Flag | None = rdf()
    examinations: tuple[Annotated[str, Scheme("examination")], ...] = rdf(many=True)
    examinations_note: Text | None = rdf()
    images_before: tuple[ImageRef, ...] = rdf(many=True)
    images_during: tuple[ImageRef, ...] = rdf(many=True)
    images_after: tuple[ImageRef, ...] = rdf(many=True)
    went_to: KeeperRef | None = rdf()
    housing: Annotated[str, Scheme("housing")] | None = rdf()
    shelfmark: Text | None = rdf()
    box_location: Text | None = rdf(visible="workshop")
    replaced_by: Annotated[str, Scheme("replacement")] | None = rdf()
    replacement_note: Text | None = rdf()
    access: Text | None = rdf()
    new_identity: Flag | None = rdf()
