"""A decision as a text for the owner: what is asked, what each way would mean, what is still to be said."""

from __future__ import annotations

from collections.abc import Iterator

from guardbook.binding.contradictions import sentence
from guardbook.evidence.decision import DecisionSheet, OptionSheet
from guardbook.wording import _, ngettext


def owner_text(sheet: DecisionSheet) -> str:
    """Write the text for the owner, in paragraphs; it lays out and does not advise."""
    return "\n\n".join(_paragraphs(sheet))


def _paragraphs(sheet: DecisionSheet) -> Iterator[str]:
    named = "; ".join(sheet.about)
    yield _("On {records}.").format(records=named) if named else sheet.decision.display_title
    if sheet.decision.question:
        yield _("The question: {question}").format(question=sheet.decision.question)
    count = len(sheet.options)
    yield ngettext(
        "There is {count} way to go on. What it would mean, as far as the record tells:",
        "There are {count} ways to go on. What each would mean, as far as the record tells:",
        count,
    ).format(count=count)
    for number, one in enumerate(sheet.options, start=1):
        yield f"{number}. {_way(one)}"
    if weighed := "; ".join(one.name for one in sheet.criteria if one.weight):
        yield _(
            "We weigh: {criteria}. How much each of these matters is for you to say as well as for us."
        ).format(criteria=weighed)
    yield _standing(sheet)


def _way(one: OptionSheet) -> str:
    told = [f"{sentence(one.label)}.", one.option.description, *(effect.words for effect in one.effects)]
    told.append(one.reach)
    return " ".join(filter(None, told))


def _standing(sheet: DecisionSheet) -> str:
    if sheet.chosen is None:
        return _(
            "Nothing has been chosen yet. Please tell us what you prefer and why, and whether you consent."
        )
    told = [_("What was chosen: {option}.").format(option=sheet.chosen.label)]
    if sheet.decision.reasons:
        told.append(sheet.reasons_words())
    return " ".join([*told, sheet.consent])
