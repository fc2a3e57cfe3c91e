"""The sheet of a decision: options side by side, what each puts out of reach, what the weights come to.

It never says what to do: the conservator and the owner decide.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, NamedTuple

from guardbook.binding.contradictions import sentence
from guardbook.binding.dossier import Dossier
from guardbook.evidence.effects import Effect, effects_of, out_of_reach, reach_words
from guardbook.evidence.weighing import Change, Weighing, complete, number
from guardbook.records import terms
from guardbook.records.date_words import date_words
from guardbook.records.decision import Decision, Option, Score
from guardbook.wording import _, decimal, language


def arithmetic() -> str:
    """Say what a ranking is, and what it is not."""
    return _(
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

    @property
    def reach(self) -> str:
        """Tell in a sentence what it puts out of reach; nothing where that is nothing."""
        return reach_words(self.option.option_kind, self.out_of_reach)

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


class Weighed(NamedTuple):
    """A criterion: its id, what it is called, and the weight that counts here."""

    id: str
    name: str
    weight: Fraction


@dataclass(frozen=True, kw_only=True)
class DecisionSheet:
    """Everything that bears on a decision; `notes` tell what could not be weighed, or is still wanting.

    `tried` are the criteria of which another weight than that of the record is tried out.
    """

    decision: Decision
    about: tuple[str, ...]
    options: tuple[OptionSheet, ...]
    criteria: tuple[Weighed, ...]
    tried: frozenset[str]
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
        return next(one.name for one in self.criteria if one.id == name)

    def score(self, option: str, criterion: str) -> Score | None:
        """Give the score of an option by a criterion, if it has one."""
        scores = self.decision.scores
        return next((s for s in scores if (s.for_option, s.for_criterion) == (option, criterion)), None)

    def change_words(self, change: Change) -> str:
        """Tell at which weight the order changes, and by how much that is."""
        told = {
            (True, True): _(
                "If “{criterion}” weighed {to} instead of {weight} ({by} more), “{behind}” would draw "
                "level with “{ahead}” for the first place."
            ),
            (True, False): _(
                "If “{criterion}” weighed {to} instead of {weight} ({by} more), “{behind}” would draw "
                "level with “{ahead}” below the first place."
            ),
            (False, True): _(
                "If “{criterion}” weighed {to} instead of {weight} ({by} less), “{behind}” would draw "
                "level with “{ahead}” for the first place."
            ),
            (False, False): _(
                "If “{criterion}” weighed {to} instead of {weight} ({by} less), “{behind}” would draw "
                "level with “{ahead}” below the first place."
            ),
        }
        return told[change.by > 0, change.first].format(
            criterion=self.criterion(change.criterion),
            to=decimal(number(change.to)),
            weight=decimal(number(change.weight)),
            by=decimal(number(abs(change.by))),
            behind=self.label(change.behind),
            ahead=self.label(change.ahead),
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
            yield _("Nothing is weighed yet.")
            return
        yield _("By these weights and scores:")
        for place, options in enumerate(self.weighing.ranking(), start=1):
            names = ", ".join(self.label(option) for option in options)
            yield f"  {place}. {names} ({decimal(number(self.weighing.worth(options[0])))})"
        yield from (f"  {self.change_words(change)}" for change in self.changes)
        if self.is_steady:
            yield "  " + self.steady_words()
        yield arithmetic()

    @property
    def is_steady(self) -> bool:
        """Say whether no single weight would change the first place."""
        return not any(change.first for change in self.changes)

    def steady_words(self) -> str:
        """Say that no single weight would change the first place."""
        return _("No change of a single weight would change the first place.")

    def _choice(self) -> str:
        words = self.choice_words()
        if self.chosen and self.decision.reasons:
            return f"{words} {self.reasons_words()}"
        return words

    def choice_words(self) -> str:
        """Say what was chosen, by whom and when."""
        if self.chosen is None:
            return _("Nothing has been chosen yet.")
        if not self.decision.when:
            return _("Chosen by {name}: {option}.").format(name=self.by, option=self.chosen.label)
        return _("Chosen on {date} by {name}: {option}.").format(
            date=date_words(self.decision.when), name=self.by, option=self.chosen.label
        )

    def reasons_words(self) -> str:
        """Give the reasons for the choice."""
        return _("Reasons: {reasons}").format(reasons=self.decision.reasons)

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            "decision": self.decision.id,
            "title": self.decision.display_title,
            "about": list(self.about),
            "question": self.decision.question,
            "options": [one.as_json() for one in self.options],
            "criteria": [
                {"id": one.id, "name": one.name, "weight": float(one.weight), "tried": one.id in self.tried}
                for one in self.criteria
            ],
            "ranking": [list(options) for options in self.weighing.ranking()],
            "changes": [{**one.as_json(), "words": self.change_words(one)} for one in self.changes],
            "choice": self.decision.choice,
            "reasons": self.decision.reasons,
            "consent": self.consent,
            "consentBy": self.decision.consent_by,
            "consentWhen": self.decision.consent_when,
            "notes": list(self.notes),
            "words": self.words(),
        }


def option_lines(one: OptionSheet) -> Iterator[str]:
    """Tell an option: what it is, what it does in each respect, what it puts out of reach."""
    described = f": {one.option.description}" if one.option.description else ""
    yield f"{sentence(one.label)}{described}"
    yield from (f"  {effect.label}: {effect.words}" for effect in one.effects)
    if one.reach:
        yield f"  {one.reach}"
    if one.option.out_of_reach:
        yield "  " + _("Noted besides: {note}").format(note=one.option.out_of_reach)


def decision_sheet(
    dossier: Dossier, decision: Decision, tried: Mapping[str, Fraction] | None = None
) -> DecisionSheet:
    """Lay a decision out: its options with their effects, the ranking, what would change it, the consent.

    What an option does to a piece is told for the first piece that the decision is about. `tried` are weights
    by criterion that stand in for those of the record.
    """
    piece = next((iri for iri in decision.about if dossier.piece(iri)), None)
    weights = {one.id: Fraction(one.weight or 0) for one in decision.criteria}
    weighed = {**weights, **(tried or {})}
    scores = {(one.for_option, one.for_criterion): Fraction(one.value) for one in decision.scores}
    weighing, left_out = complete(weighed, scores, [one.id for one in decision.options])
    return DecisionSheet(
        decision=decision,
        about=tuple(dossier.name(iri) for iri in decision.about),
        options=tuple(_option(dossier, piece, one, weighing) for one in decision.options),
        criteria=tuple(Weighed(one.id, one.name, weighed[one.id]) for one in decision.criteria),
        tried=frozenset(name for name, weight in weighed.items() if weight != weights[name]),
        weighing=weighing,
        changes=weighing.changes() if weighing.weights else (),
        consent=_consent(dossier, decision),
        by=", ".join(dossier.name(iri) for iri in decision.by) or _("someone who is not named"),
        notes=tuple(_notes(decision, left_out, tried or {})),
    )


def _option(dossier: Dossier, piece: str | None, option: Option, weighing: Weighing) -> OptionSheet:
    places = {name: at for at, names in enumerate(weighing.ranking(), start=1) for name in names}
    return OptionSheet(
        option=option,
        label=terms.label("option", option.option_kind, language()),
        effects=effects_of(dossier, piece, option.option_kind) if piece else (),
        out_of_reach=out_of_reach(dossier, piece, option.option_kind) if piece else (),
        worth=weighing.worth(option.id) if weighing.weights else None,
        place=places[option.id] if weighing.weights else None,
    )


def _consent(dossier: Dossier, decision: Decision) -> str:
    if decision.consent_by is None:
        return _("No consent is recorded.")
    name = dossier.name(decision.consent_by)
    if not decision.consent_when:
        return _("Consent given by {name}, without a date.").format(name=name)
    return _("Consent given by {name}, {date}.").format(name=name, date=date_words(decision.consent_when))


def _notes(decision: Decision, left_out: tuple[str, ...], tried: Mapping[str, Fraction]) -> Iterator[str]:
    names = {one.id: one.name for one in decision.criteria}
    for name in left_out:
        yield _(
            "“{criterion}” was not weighed: not every option has a score by it. Add the scores that are "
            "wanting, or take the criterion out."
        ).format(criterion=names[name])
    for one in decision.criteria:
        if one.weight is None and one.id not in tried:
            yield _("“{criterion}” has no weight, and counts for nothing until it has one.").format(
                criterion=one.name
            )
    if decision.choice and decision.consent_by is None:
        yield _("A choice is recorded without the owner's consent. Record who gave it and when.")
    if decision.choice and not decision.reasons:
        yield _("A choice is recorded without its reasons.")
