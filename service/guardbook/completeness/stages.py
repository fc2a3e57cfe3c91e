"""Whether a record is complete for a stage: on sight, before lifting, after lifting, ready to share."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Any

import pyoxigraph as ox

from guardbook import settings
from guardbook.completeness import literals, private_data
from guardbook.completeness.cautions import cautions_for
from guardbook.completeness.dossier import Answered, Dossier
from guardbook.completeness.engine import findings
from guardbook.completeness.finding import VIOLATION, Finding
from guardbook.completeness.forms import form_of, groups
from guardbook.completeness.paths import Path
from guardbook.completeness.report import AnsweredItem, Missing, Report
from guardbook.completeness.requirements import Requirement, requirements, up_to
from guardbook.completeness.shape_files import SHACL, STAGES
from guardbook.completeness.terms_in_rdflib import to_graph
from guardbook.completeness.workshop import workshop_shapes
from guardbook.errors import WrongUse
from guardbook.records.base import natural_order
from guardbook.wording import _

__all__ = ["STAGES", "check"]

Asked = tuple[Requirement, Finding]


def check(quads: Iterable[ox.Quad], stage: str, focus: Iterable[str]) -> Report:
    """Check records for a stage and all stages before it.

    `quads` is the dossier: the records, their events, images and hosts; `focus` are the IRIs of the records
    to report on. Raises WrongUse for a stage that is none and BrokenShapes for a file of ours that is broken.
    """
    if stage not in STAGES:
        told = _("There is no stage '{stage}'. The stages are: {stages}.")
        raise WrongUse(message=told.format(stage=stage, stages=", ".join(STAGES)))
    good, ill = literals.sorted_out(quads)
    dossier = Dossier(good)
    records = tuple(dict.fromkeys(focus))
    if unknown := [record for record in records if not dossier.model(record)]:
        told = _("There is nothing to check about {records}.")
        raise WrongUse(message=told.format(records=", ".join(unknown)))
    asked = [one for one in _asked(good, ill, stage) if _is_asked(one, records, dossier)]
    missing, answered = _parted(asked, dossier)
    return Report(
        stage=stage,
        focus=records,
        missing=tuple(sorted(missing, key=lambda item: _place(item, records))),
        answered=answered,
        titles={record: dossier.one(record, "title") for record in dossier.records()},
        cautions=cautions_for(good, stage),
        left_out=tuple(map(str, workshop_shapes(settings.current().workshop_shapes).skipped)),
    )


def _asked(quads: Sequence[ox.Quad], ill: Sequence[literals.IllTyped], stage: str) -> Iterator[Asked]:
    """Give every requirement that is not met, the earliest stage first."""
    graph = to_graph(quads)
    for one in ill:
        yield _unreadable(one)
    for name in up_to(stage):
        known = requirements(name)
        for finding in findings(graph, name):
            yield known.get(finding.shape) or Requirement(stage=name), finding
    if stage == STAGES[-1]:
        known = requirements(stage)
        for finding in private_data.findings(quads):
            yield known[finding.shape], finding


def _unreadable(one: literals.IllTyped) -> Asked:
    requirement = Requirement(
        stage=STAGES[0],
        message=_("{value} cannot be read.").format(value=repr(one.value)),
        why=_("A value that cannot be read counts as missing."),
        how=_("Write {expected}.").format(expected=one.expected),
    )
    finding = Finding(
        focus=one.subject,
        path=Path("", one.predicate),
        severity=VIOLATION,
        component=SHACL + "DatatypeConstraintComponent",
        value=one.value,
    )
    return requirement, finding


def _is_asked(asked: Asked, records: Sequence[str], dossier: Dossier) -> bool:
    requirement, finding = asked
    record = finding.focus.partition("#")[0]
    return record in records and not dossier.left_only_by(record, requirement.not_asked_after)


def _parted(asked: Iterable[Asked], dossier: Dossier) -> tuple[list[Missing], tuple[AnsweredItem, ...]]:
    """Part what is asked into what is missing and what was answered; what two stages ask for counts once."""
    missing: dict[tuple[str, str, str], Missing] = {}
    answered: dict[tuple[str, str], AnsweredItem] = {}
    for requirement, finding in asked:
        item = _missing(requirement, finding, dossier)
        given = dossier.answers.get((item.record, item.field or ""), ())
        counting = next((one for one in given if one.answer in item.accepts), None)
        if counting:
            answered.setdefault((item.record, item.label), _answered(item, counting))
        else:
            refused = ", ".join(one.answer for one in given)
            key = (item.about, item.field or item.message, finding.parameter)
            missing.setdefault(key, replace(item, answered=refused))
    return list(missing.values()), tuple(answered.values())


def _missing(requirement: Requirement, finding: Finding, dossier: Dossier) -> Missing:
    field = requirement.asks or _field_of(finding)
    form = form_of(dossier.model(finding.focus), field)
    record = finding.focus.partition("#")[0]
    afterwards = requirement.accepts_afterwards if dossier.is_lifted(record) else ()
    labels = requirement.labels or (form.labels if form else {})
    return Missing(
        record=record,
        about=finding.focus,
        field=field or None,
        label=labels.get("en") or field,
        labels=labels,
        stage=requirement.stage,
        why=requirement.why or (form.reason if form else ""),
        how=requirement.how or (form.how if form else ""),
        later=requirement.later,
        accepts=requirement.accepts + afterwards,
        severity=finding.severity,
        message=requirement.message or " ".join(finding.messages),
        group=requirement.group or (form.group if form else ""),
        order=requirement.order or (form.order if form else 0),
        finding=finding,
    )


def _field_of(finding: Finding) -> str:
    """Give the field a result is about, where its path is a single property of ours."""
    iri = finding.path.iri if finding.path else ""
    return iri.removeprefix(settings.NAMESPACE) if iri.startswith(settings.NAMESPACE) else ""


def _answered(item: Missing, counting: Answered) -> AnsweredItem:
    return AnsweredItem(
        record=item.record,
        field=item.field or "",
        label=item.label,
        labels=item.labels,
        stage=item.stage,
        answer=counting.answer,
        reason=counting.reason,
    )


def _place(item: Missing, records: Sequence[str]) -> tuple[Any, ...]:
    """What cannot be got later first, by stage; then by record, heading and order."""
    stage = -1 if item.later else STAGES.index(item.stage)
    group = groups().get(item.group)
    heading = group.order if group else len(groups())
    return item.later, stage, records.index(item.record), heading, item.order, natural_order(item.about)
