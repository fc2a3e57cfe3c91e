"""A decision as a text for the owner: what is asked, what each way would mean, what is still to be said."""

from __future__ import annotations

from collections.abc import Iterator

from guardbook.evidence.decision import DecisionSheet, OptionSheet


def owner_text(sheet: DecisionSheet) -> str:
    """Write the text for the owner, in paragraphs; it lays out and does not advise."""
    return "\n\n".join(_paragraphs(sheet))


def _paragraphs(sheet: DecisionSheet) -> Iterator[str]:
    yield f"On {', and '.join(sheet.about)}." if sheet.about else sheet.decision.display_title
    if sheet.decision.question:
        yield f"The question: {sheet.decision.question}"
    yield f"There are {len(sheet.options)} ways to go on. What each would mean, as far as the record tells:"
    for number, one in enumerate(sheet.options, start=1):
        yield f"{number}. {_way(one)}"
    if sheet.criteria:
        weighed = "; ".join(words for _, words, weight in sheet.criteria if weight)
        yield f"We weigh: {weighed}. How much each of these matters is for you to say as well as for us."
    yield _standing(sheet)


def _way(one: OptionSheet) -> str:
    described = f" {one.option.description}" if one.option.description else ""
    effects = " ".join(effect.words for effect in one.effects)
    beyond = f" Out of reach then: {', '.join(one.out_of_reach)}." if one.out_of_reach else ""
    return f"{one.label[:1].upper()}{one.label[1:]}.{described} {effects}{beyond}".rstrip()


def _standing(sheet: DecisionSheet) -> str:
    if sheet.chosen is None:
        return "Nothing has been chosen yet. Please tell us what you prefer and why, and whether you consent."
    reasons = f" The reasons: {sheet.decision.reasons}" if sheet.decision.reasons else ""
    return f"What was chosen: {sheet.chosen.label}.{reasons} {sheet.consent}"
