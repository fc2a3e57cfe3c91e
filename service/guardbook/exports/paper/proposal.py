"""The part of an owner's report on what was proposed: the options side by side, the choice, the consent."""

from __future__ import annotations

from collections.abc import Iterator

from guardbook.evidence.decision import DecisionSheet, OptionSheet
from guardbook.evidence.weighing import number
from guardbook.exports.paper.blocks import Block, Bullets, Heading, Paragraph, Table, facts, section
from guardbook.exports.paper.matter import Matter
from guardbook.exports.paper.said import date_said, term
from guardbook.wording import _, decimal


def proposal(matter: Matter) -> tuple[Block, ...]:
    """Tell what was laid before the owner, and what was chosen; nothing where no decision is recorded."""
    blocks = [block for sheet in matter.decisions for block in _decision(matter, sheet)]
    return section(_("Proposal and decision"), blocks)


def _decision(matter: Matter, sheet: DecisionSheet) -> Iterator[Block]:
    decision = sheet.decision
    yield Heading(decision.display_title, 2)
    if decision.question:
        yield Paragraph(decision.question)
    yield _options(sheet)
    for one in sheet.options:
        if one.effects or one.reach:
            yield Heading(_("What it would mean: {option}").format(option=_option(one)), 3)
            yield from facts((effect.label, effect.words) for effect in one.effects)
        if one.reach:
            yield Paragraph(one.reach)
    yield from _weighed(sheet)
    yield Heading(_("What was chosen"), 3)
    yield from facts(_choice(matter, sheet))


def _option(one: OptionSheet) -> str:
    return term("option", one.option.option_kind)


def _options(sheet: DecisionSheet) -> Table:
    rows = tuple(
        (
            _option(one),
            one.option.description or "",
            one.option.out_of_reach or "",
            decimal(number(one.worth)) if one.worth is not None else "–",
        )
        for one in sheet.options
    )
    head = (_("Option"), _("How"), _("What it puts out of reach"), _("Weighed"))
    return Table(head, rows, (2.4, 3.6, 4.0, 1.3))


def _weighed(sheet: DecisionSheet) -> Iterator[Block]:
    weights = tuple(
        _("{criterion}: weight {weight}").format(criterion=name, weight=decimal(number(weight)))
        for _id, name, weight in sheet.criteria
        if weight
    )
    if weights:
        yield Heading(_("What was weighed"), 3)
        yield Bullets(weights)
        yield Paragraph(
            _(
                "The figures are arithmetic on weights and scores that people set. They are no advice: the "
                "conservator and the owner decide."
            ),
            quiet=True,
        )


def _choice(matter: Matter, sheet: DecisionSheet) -> Iterator[tuple[str, str | None]]:
    decision = sheet.decision
    yield _("Chosen"), _option(sheet.chosen) if sheet.chosen else _("nothing yet")
    yield _("Reasons"), decision.reasons
    yield _("Decided by"), matter.names(decision.by)
    yield _("On"), date_said(decision.when)
    if decision.consent_by is None:
        yield _("Consent"), _("No consent is recorded.")
        return
    when = date_said(decision.consent_when) or _("without a date")
    yield _("Consent"), f"{matter.name(decision.consent_by)}, {when}"
