"""The sheet of a decision: options side by side, what each puts out of reach, what the weights come to.

It never says what to do: the conservator and the owner decide.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from guardbook.binding.dossier import Dossier
from guardbook.evidence.date_words import date_words
from guardbook.evidence.effects import Effect, effects_of, out_of_reach
from guardbook.evidence.weighing import Change, Weighing, complete, number
from guardbook.records import terms
from guardbook.records.decision import Decision, Option

ARITHMETIC = (
    "This is arithmetic on weights and scores that people set. It is no advice: the conservator and the "
    "owner decide."
)


@dataclass(frozen=True, kw_only=True)
class OptionSheet:
    """One option: what it does, what it puts out of reach, and its worth by the weights (None if none)."""

    option: Option
    label: str
    effects: tuple[Effect, ...]
    out_of_reach: tuple[str, ...]
    worth: Fraction | None
    place: int | None

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            "id": self.option.id,
            "kind": self.option.option_kind,
            "label": self.label,
            "description": self.option.description,
            "effects": [effect.as_json() for effect in self.effects],
            "outOfReach": list(self.out_of_reach),
            "outOfReachStated": self.option.out_of_reach,
            "worth": None if self.worth is None else float(self.worth),
            "place": self.place,
        }


@dataclass(frozen=True, kw_only=True)
class DecisionSheet:
    """Everything that bears on a decision; `notes` tell what could not be weighed, or is still wanting."""

    decision: Decision
    about: tuple[str, ...]
    options: tuple[OptionSheet, ...]
    criteria: tuple[tuple[str, str, Fraction], ...]
    weighing: Weighing
    changes: tuple[Change, ...]
    consent: str
    by: str
    notes: tuple[str, ...]

    @property
    def chosen(self) -> OptionSheet | None:
        """Give the option that was chosen, if one was."""
        return next((one for one in self.options if one.option.id == self.decision.choice), None)

    def label(self, option: str) -> str:
        """Name an option by its id."""
        return next(one.label for one in self.options if one.option.id == option)

    def criterion(self, name: str) -> str:
        """Name a criterion by its id."""
        return next(words for one, words, _ in self.criteria if one == name)

    def change_words(self, change: Change) -> str:
        """Tell at which weight the order changes, and by how much that is."""
        way = "more" if change.by > 0 else "less"
        place = "for the first place" if change.first else "below the first place"
        return (
            f"If “{self.criterion(change.criterion)}” weighed {number(change.to)} instead of "
            f"{number(change.weight)} ({number(abs(change.by))} {way}), “{self.label(change.behind)}” "
            f"would draw level with “{self.label(change.ahead)}” {place}."
        )

    def words(self) -> str:
        """Tell it in plain sentences."""
        return "\n".join(self._lines())

    def _lines(self) -> Iterator[str]:
        yield self.decision.display_title
        if self.decision.question:
            yield self.decision.question
        for one in self.options:
            yield from option_lines(one)
        yield from self._ranking()
        yield self._choice()
        yield self.consent
        yield from self.notes

    def _ranking(self) -> Iterator[str]:
        if not self.weighing.weights:
            yield "Nothing is weighed yet."
            return
        yield "By these weights and scores:"
        for place, options in enumerate(self.weighing.ranking(), start=1):
            names = " and ".join(self.label(option) for option in options)
            yield f"  {place}. {names} ({number(self.weighing.worth(options[0]))})"
        yield from (f"  {self.change_words(change)}" for change in self.changes)
        if not any(change.first for change in self.changes):
            yield "  No change of a single weight would change the first place."
        yield ARITHMETIC

    def _choice(self) -> str:
        if self.chosen is None:
            return "Nothing has been chosen yet."
        when = f" on {date_words(self.decision.when)}" if self.decision.when else ""
        reasons = f" Reasons: {self.decision.reasons}" if self.decision.reasons else ""
        return f"Chosen{when} by {self.by}: {self.chosen.label}.{reasons}"

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            "decision": self.decision.id,
            "title": self.decision.display_title,
            "about": list(self.about),
            "question": self.decision.question,
            "options": [one.as_json() for one in self.options],
            "criteria": [
                {"id": name, "name": words, "weight": float(weight)} for name, words, weight in self.criteria
            ],
            "ranking": [list(options) for options in self.weighing.ranking()],
            "changes": [{**one.as_json(), "words": self.change_words(one)} for one in self.changes],
            "choice": self.decision.choice,
            "reasons": self.decision.reasons,
            "consent": self.consent,
            "notes": list(self.notes),
            "words": self.words(),
        }


def option_lines(one: OptionSheet) -> Iterator[str]:
    """Tell an option: what it is, what it does in each respect, what it puts out of reach."""
    described = f": {one.option.description}" if one.option.description else ""
    yield f"{one.label[:1].upper()}{one.label[1:]}{described}"
    yield from (f"  {effect.label}: {effect.words}" for effect in one.effects)
    if one.out_of_reach:
        yield f"  Out of reach then: {', '.join(one.out_of_reach)}."
    if one.option.out_of_reach:
        yield f"  Noted besides: {one.option.out_of_reach}"


def decision_sheet(dossier: Dossier, decision: Decision) -> DecisionSheet:
    """Lay a decision out: its options with their effects, the ranking, what would change it, the consent.

    What an option does to a piece is told for the first piece that the decision is about.
    """
    piece = next((iri for iri in decision.about if dossier.piece(iri)), None)
    weights = {one.id: Fraction(one.weight or 0) for one in decision.criteria}
    scores = {(one.for_option, one.for_criterion): Fraction(one.value) for one in decision.scores}
    weighing, left_out = complete(weights, scores, [one.id for one in decision.options])
    return DecisionSheet(
        decision=decision,
        about=tuple(dossier.name(iri) for iri in decision.about),
        options=tuple(_option(dossier, piece, one, weighing) for one in decision.options),
        criteria=tuple((one.id, one.name, weights[one.id]) for one in decision.criteria),
        weighing=weighing,
        changes=weighing.changes() if weighing.weights else (),
        consent=_consent(dossier, decision),
        by=", ".join(dossier.name(iri) for iri in decision.by) or "someone who is not named",
        notes=tuple(_notes(decision, left_out)),
    )


def _option(dossier: Dossier, piece: str | None, option: Option, weighing: Weighing) -> OptionSheet:
    places = {name: at for at, names in enumerate(weighing.ranking(), start=1) for name in names}
    return OptionSheet(
        option=option,
        label=terms.label("option", option.option_kind),
        effects=effects_of(dossier, piece, option.option_kind) if piece else (),
        out_of_reach=out_of_reach(dossier, piece, option.option_kind) if piece else (),
        worth=weighing.worth(option.id) if weighing.weights else None,
        place=places[option.id] if weighing.weights else None,
    )


def _consent(dossier: Dossier, decision: Decision) -> str:
    if decision.consent_by is None:
        return "No consent is recorded."
    when = f", {date_words(decision.consent_when)}" if decision.consent_when else ", without a date"
    return f"Consent given by {dossier.name(decision.consent_by)}{when}."


def _notes(decision: Decision, left_out: tuple[str, ...]) -> Iterator[str]:
    names = {one.id: one.name for one in decision.criteria}
    for name in left_out:
        yield (
            f"“{names[name]}” was not weighed: not every option has a score by it. Add the scores that "
            "are wanting, or take the criterion out."
        )
    for one in decision.criteria:
        if one.weight is None:
            yield f"“{one.name}” has no weight, and counts for nothing until it has one."
    if decision.choice and decision.consent_by is None:
        yield "A choice is recorded without the owner's consent. Record who gave it and when."
    if decision.choice and not decision.reasons:
        yield "A choice is recorded without its reasons."
