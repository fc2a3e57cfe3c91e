"""Holes and folds as people write them at the bench: lists from the tail, added to what is there."""

from __future__ import annotations

from collections.abc import Iterator

from guardbook.actions.form_choices import chosen_of, of_terms
from guardbook.actions.form_inputs import Inputs
from guardbook.actions.form_parts import Input, Widget
from guardbook.intake.form_records import FOLDS, HOLES
from guardbook.intake.form_texts import one_text
from guardbook.records import terms
from guardbook.wording import _


def traces_of(inputs: Inputs, role: str) -> Iterator[Input]:
    """Give the inputs of holes and folds of a piece by its role, each a list to which a series is added."""
    kinds = [(slug, label) for slug, label in of_terms("feature") if _is_hole(slug)]
    name = f"{role}.{HOLES}.0"
    yield Input(
        name=f"{name}.kind",
        part="kind",
        model="Fragment",
        label=_("Kind of holes"),
        widget=Widget.CHOICE,
        choices=chosen_of(kinds, (one_text(inputs.texts, f"{name}.kind") or "sewing-hole",)),
    )
    told = _(
        "In mm from the tail of the piece: 12 48.5 97. With their distance from its left edge: x 30: 12 48.5."
        " One out of line: (34, 60). A bar | begins another series."
    )
    yield _list(inputs, f"{name}.list", HOLES, _("Holes"), told)
    told = _("In mm from the tail: 97. From tail to head: x 30. Slanting: (0, 40)-(20, 60).")
    yield _list(inputs, f"{role}.{FOLDS}", FOLDS, _("Folds"), told)


def _list(inputs: Inputs, name: str, part: str, label: str, told: str) -> Input:
    return Input(
        name=name,
        part=part,
        model="Fragment",
        label=label,
        help=told,
        texts=inputs.texts.get(name, ("",)),
        faults=inputs.faults.get(name, ()),
        drawn=part,
    )


def _is_hole(slug: str) -> bool:
    concept = terms.of_scheme("feature")[slug]
    return slug == "hole" or concept.broader == "hole"
