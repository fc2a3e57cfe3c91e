"""Lay out a decision: options side by side, what each puts out of reach, what the weights come to."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction

from guardbook.actions.event_dossier import dossier_of_piece, seen
from guardbook.binding.dossier import Dossier
from guardbook.catalogue.access import Access
from guardbook.errors import Fault, WrongUse
from guardbook.evidence.decision import DecisionSheet, decision_sheet
from guardbook.records.base import Record
from guardbook.records.decision import Decision
from guardbook.records.fragment import Fragment
from guardbook.records.image import Image
from guardbook.wording import _

# longer ones say nothing more, and would take long to reckon with
_WEIGHT = re.compile(r"\d{1,9}([.,]\d{1,9})?", re.ASCII)


def decide(access: Access, name: str, weights: Mapping[str, str] | None = None) -> DecisionSheet:
    """Lay out a decision, or the latest one about a piece or volume.

    `weights`, as people write them, are tried out in place of those of the record, by the name of the
    criterion (`criterion-2`); nothing is saved. Raises NotFound, Gone, and WrongUse for a record that is no
    decision and that none is about, for a criterion that it does not have, and for what is no weight.
    """
    record = access.record(access.resolve(name)).record
    decision = record if isinstance(record, Decision) else _latest(access, record)
    tried = _tried(decision, weights or {})
    around: list[Record] = [decision]
    for one in seen(access, decision.about):
        around.append(one)
        if isinstance(one, Fragment):
            around += dossier_of_piece(access, one).records.values()
            around += [image for image in seen(access, access.about(one.id)) if isinstance(image, Image)]
    people = {*decision.by, *([decision.consent_by] if decision.consent_by else [])}
    return decision_sheet(Dossier.of([*around, *seen(access, people)]), decision, tried)


def _latest(access: Access, record: Record) -> Decision:
    found = [one for one in seen(access, access.about(record.id)) if isinstance(one, Decision)]
    if not found:
        raise WrongUse(
            message=_("{record} is no decision, and no decision is about it.").format(record=record.short)
        )
    return max(found, key=lambda one: (one.when or "", one.id))


def _tried(decision: Decision, weights: Mapping[str, str]) -> dict[str, Fraction]:
    """Read weights as people write them, `2,5` too; an empty one leaves the weight of the record."""
    known = {one.id.removeprefix("#"): one.id for one in decision.criteria}
    faults, found = [], {}
    for name, text in weights.items():
        written = text.strip()
        if name not in known:
            expected = (
                _("one of {names}").format(names=", ".join(known))
                if known
                else _("no weight: this decision has no criteria")
            )
            faults.append(Fault(where="weight", found=repr(name), expected=expected))
        elif written and not _WEIGHT.fullmatch(written):
            expected = _("a number, 0 or more, such as 2.5")
            faults.append(Fault(where=f"weight of {name}", found=repr(text), expected=expected))
        elif written:
            found[known[name]] = Fraction(written.replace(",", "."))
    if faults:
        raise WrongUse(message=_("The weights could not be understood."), faults=tuple(faults))
    return found
