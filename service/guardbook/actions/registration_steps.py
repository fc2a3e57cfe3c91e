"""The steps of registering a piece, read from `shapes/registration.toml`: what each asks of which record."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from guardbook import settings
from guardbook.completeness.forms import forms_of, groups
from guardbook.completeness.questions import questions_of
from guardbook.errors import BrokenShapes
from guardbook.records.base import Record
from guardbook.records.fields import fields_of
from guardbook.wording import _

FILE = "registration.toml"
# what the form says by itself, or asks in another way: photographs by taking them, holes and folds as lists
_NOT_ASKED = frozenset(
    {
        *("placing.piece", "placing.host", "placing.undoes", "placing.returnKind"),
        *("separation.piece", "separation.host", "separation.undoes"),
        *("separation.imagesBefore", "separation.imagesDuring", "separation.imagesAfter"),
        *("fragment.features", "fragment.series"),
        *(f"{role}.answers" for role in ("host", "fragment", "placing", "separation")),
    }
)


@dataclass(frozen=True, kw_only=True)
class StepPlan:
    """One step: its name, the fields it asks first, what stages it asks, whose other fields it folds away.

    `moment` is the moment of the photographs that it takes, empty where it takes none.
    """

    name: str
    first: tuple[str, ...]
    asks: tuple[tuple[str, str, tuple[str, ...]], ...]
    rest: tuple[str, ...] = ()
    moment: str = ""


@dataclass(frozen=True, kw_only=True)
class StepFields:
    """The fields of a step, by name: those it asks, sorted under headings, and those it folds away."""

    plan: StepPlan
    first: tuple[str, ...]
    asked: Mapping[tuple[str, str], tuple[str, ...]]
    more: tuple[str, ...]


def step_plans() -> tuple[StepPlan, ...]:
    """Give the steps in their order. Raises BrokenShapes for a table that cannot be used."""
    return _read(settings.current().shapes / FILE)


@lru_cache(maxsize=4)
def _read(path: Path) -> tuple[StepPlan, ...]:
    try:
        return tuple(_plan(row) for row in tomllib.loads(path.read_text(encoding="utf-8"))["steps"])
    except (OSError, tomllib.TOMLDecodeError, KeyError, TypeError, ValueError) as error:
        message = _("{file} cannot be used: {reason}").format(file=path.name, reason=error)
        raise BrokenShapes(message=message) from error


def _plan(row: Mapping[str, Any]) -> StepPlan:
    asks = tuple((ask[0], ask[1], tuple(ask[2]) if len(ask) > 2 else ()) for ask in row["asks"])
    return StepPlan(
        name=row["name"],
        first=tuple(row["first"]),
        asks=asks,
        rest=tuple(row.get("rest", ())),
        moment=row.get("moment", ""),
    )


def fields_by_step(models: Mapping[str, type[Record]]) -> Iterator[StepFields]:
    """Sort the fields of the records of a form, by their roles, into steps; each field comes once.

    What a step folds away is what no step asks.
    """
    claimed = set(_NOT_ASKED)
    steps = [(plan, *_claims(plan, models, claimed)) for plan in step_plans()]
    for plan, first, asked in steps:
        others = [name for role in plan.rest if role in models for name in _all(role, models)]
        more = tuple(name for name in others if name not in claimed)
        claimed |= set(more)
        if first or asked or more:
            yield StepFields(plan=plan, first=first, asked=asked, more=more)


def _claims(
    plan: StepPlan, models: Mapping[str, type[Record]], claimed: set[str]
) -> tuple[tuple[str, ...], Mapping[tuple[str, str], tuple[str, ...]]]:
    """Give the fields that a step asks, first and under their headings, and claim them."""
    first = tuple(name for name in plan.first if name.partition(".")[0] in models and name not in claimed)
    claimed |= set(first)
    asked: dict[tuple[str, str], list[str]] = {}
    for heading, name in _asked(plan, models):
        if name not in claimed:
            asked.setdefault(heading, []).append(name)
            claimed.add(name)
    return first, {heading: tuple(asked[heading]) for heading in sorted(asked, key=_place)}


def _asked(plan: StepPlan, models: Mapping[str, type[Record]]) -> Iterator[tuple[tuple[str, str], str]]:
    for role, stage, headings in plan.asks:
        model = models.get(role)
        own = {field.json_name for field in fields_of(model)} if model else set()
        for question in questions_of(model.__name__) if model else ():
            fits = question.stage == stage and (not headings or question.group in headings)
            if fits and question.asks in own:
                yield (role, question.group), f"{role}.{question.asks}"


def _all(role: str, models: Mapping[str, type[Record]]) -> Sequence[str]:
    return [f"{role}.{form.name}" for form in forms_of(models[role].__name__)]


def _place(heading: tuple[str, str]) -> int:
    return groups()[heading[1]].order
