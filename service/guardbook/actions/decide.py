"""Lay out a decision: options side by side, what each puts out of reach, what the weights come to."""

from __future__ import annotations

from guardbook.actions.event_dossier import dossier_of_piece, seen
from guardbook.binding.dossier import Dossier
from guardbook.catalogue.access import Access
from guardbook.errors import WrongUse
from guardbook.evidence.decision import DecisionSheet, decision_sheet
from guardbook.records.base import Record
from guardbook.records.decision import Decision
from guardbook.records.fragment import Fragment
from guardbook.records.image import Image


def decide(access: Access, name: str) -> DecisionSheet:
    """Lay out a decision, or the latest one about a piece or volume.

    Raises NotFound, Gone, and WrongUse for a record that is no decision and that none is about.
    """
    record = access.record(access.resolve(name)).record
    decision = record if isinstance(record, Decision) else _latest(access, record)
    around: list[Record] = [decision]
    for one in seen(access, decision.about):
        around.append(one)
        if isinstance(one, Fragment):
            around += dossier_of_piece(access, one).records.values()
            around += [image for image in seen(access, access.about(one.id)) if isinstance(image, Image)]
    people = {*decision.by, *([decision.consent_by] if decision.consent_by else [])}
    return decision_sheet(Dossier.of([*around, *seen(access, people)]), decision)


def _latest(access: Access, record: Record) -> Decision:
    found = [one for one in seen(access, access.about(record.id)) if isinstance(one, Decision)]
    if not found:
        raise WrongUse(message=f"{record.short} is no decision, and no decision is about it.")
    return max(found, key=lambda one: (one.when or "", one.id))
