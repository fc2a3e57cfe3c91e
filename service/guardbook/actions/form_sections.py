"""The sections of a form for one record: its fields in groups, those that are asked or filled in first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby

from guardbook.actions.form_inputs import Inputs
from guardbook.actions.form_parts import Input, Item, Section
from guardbook.actions.form_traces import traces_of
from guardbook.completeness.forms import FieldForm, forms_of, groups
from guardbook.completeness.questions import questions_of
from guardbook.intake.form_records import FOLDS, HOLES
from guardbook.intake.form_texts import ANSWERS
from guardbook.records.base import Record
from guardbook.records.fields import fields_of
from guardbook.records.fragment import Fragment
from guardbook.wording import _, language

# what no stage asks for, but few records are without
_EVERYDAY = frozenset({"title", "workshopNumber", "status", "visibility"})
_LISTS = frozenset({"kind", HOLES, FOLDS})


def sections_of(inputs: Inputs, model: type[Record], prefix: str) -> Iterator[Section]:
    """Give the sections of a record of a model, and last the questions that no field of it answers."""
    for group, forms in groupby(forms_of(model.__name__), key=lambda form: form.group):
        section = _section(inputs, model, prefix, group, forms)
        if section.items or section.more:
            yield section
    others = tuple(_answers_only(inputs, model, prefix))
    if others:
        yield Section(title=_("Questions that other records answer"), items=(), more=others, slug="others")


def _section(
    inputs: Inputs, model: type[Record], prefix: str, group: str, forms: Iterable[FieldForm]
) -> Section:
    made = [inputs.one(model, form.name, prefix) for form in forms if form.name != ANSWERS]
    if model is Fragment and group == "traces":
        # written as lists they come first, since hardly anybody types holes one by one
        made = [*traces_of(inputs, prefix), *made]
    first = tuple(item for item in made if _comes_first(item))
    return Section(
        title=groups()[group].label(language()),
        items=first,
        more=tuple(item for item in made if item not in first),
        slug=group,
    )


def _comes_first(item: Item) -> bool:
    is_needed = isinstance(item, Input) and item.is_needed
    return item.is_asked or item.is_filled or is_needed or item.part in _EVERYDAY | _LISTS


def _answers_only(inputs: Inputs, model: type[Record], prefix: str) -> Iterator[Item]:
    """Give what is asked beside the fields: of other records, and of the parts of this one."""
    own = {path.json_name for path in fields_of(model)}
    parts = [path.part.__name__ for path in fields_of(model) if path.part and path.json_name != ANSWERS]
    seen: set[str] = set()
    for name in (model.__name__, *parts):
        for question in questions_of(name):
            if question.asks not in own | seen and (made := inputs.answer_only(question, prefix)):
                seen.add(question.asks)
                yield made
