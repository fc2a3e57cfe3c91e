"""The inputs of a form, made from models and shapes: name, label, help, choices, what stands in them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from guardbook.actions.form_choices import Stages, chosen_of, nothing, of_parts, of_terms, yes_or_no
from guardbook.actions.form_meanings import understood
from guardbook.actions.form_parts import AnswerInput, Choice, Input, Row, Rows, Widget
from guardbook.actions.kind_words import kind_in_words
from guardbook.actions.named_records import NamedRecords
from guardbook.catalogue.access import Access
from guardbook.completeness.forms import FieldForm, form_of, forms_of
from guardbook.completeness.questions import Question, questions_of
from guardbook.errors import Fault
from guardbook.intake.columns import Holds, column_of
from guardbook.intake.form_texts import ANSWERS, Texts, one_text, rows_in
from guardbook.records import terms
from guardbook.records.base import Model, Part
from guardbook.records.fields import FieldPath, fields_of
from guardbook.records.kinds import KINDS
from guardbook.records.placing import Position
from guardbook.records.values import Datatype, Reference, Scheme, WithinRecord
from guardbook.wording import _, language

# groups whose texts are short by nature: names, numbers, places, addresses
_SHORT = frozenset({"identity", "keeping", "images", "rights", "afterwards"})
_PEOPLE = ("agent", "institution")
# what is shown on the drawing of a place, and written by it
_DRAWN = {
    *((Position.__name__, path.json_name) for path in fields_of(Position)),
    *(("Fragment", name) for name in ("width", "height", "outline")),
}


@dataclass(frozen=True)
class Inputs:
    """Makes inputs of what stands in a form; faults go to the inputs they are about.

    `unknown` are the inputs that name somebody who is not in the catalogue yet.
    """

    access: Access
    texts: Texts
    faults: Mapping[str, tuple[Fault, ...]] = field(default_factory=dict)
    unknown: frozenset[str] = frozenset()
    #: models by the role that their record plays in the form
    models: Mapping[str, type[Model]] = field(default_factory=dict)

    @cached_property
    def _named(self) -> NamedRecords:
        return NamedRecords(self.access)

    def one(self, model: type[Model], name: str, prefix: str) -> Input | Rows:
        """Give the input of a field, or the rows of its parts. Raises KeyError for an unknown field."""
        path = next(path for path in fields_of(model) if path.json_name == name)
        form = form_of(model.__name__, name)
        if form is None:
            raise KeyError(name)
        question = next((one for one in questions_of(model.__name__) if one.asks == name), None)
        if path.part:
            return self._rows(path.part, form, f"{prefix}.{name}", question)
        return self._input(model, path, form, prefix, question)

    def answer_only(self, question: Question, prefix: str) -> Input | None:
        """Give the input for an answer to what no field of the record holds; None where none would count."""
        answer = self._answer(question, prefix)
        if answer is None:
            return None
        return Input(
            name=f"{prefix}.{ANSWERS}.{question.asks}",
            part="",
            model=question.model,
            label=question.label(language()),
            why=_(question.why),
            how=_(question.how),
            answer=answer,
            is_asked=True,
            later=question.later,
        )

    def _input(
        self, model: type[Model], path: FieldPath, form: FieldForm, prefix: str, asked: Question | None
    ) -> Input:
        name = f"{prefix}.{path.json_name}"
        texts = self.texts.get(name, ("",))
        choices = self._choices(model, path, prefix, texts)
        return Input(
            name=name,
            part=path.json_name,
            model=model.__name__,
            label=form.label(language()),
            help=_(form.help) if form.help else "",
            why=_(asked.why) if asked and asked.why else "",
            how=_(asked.how) if asked and asked.how else "",
            widget=_widget(path, form, choices, texts),
            texts=texts,
            choices=choices,
            unit=_unit(model, path),
            suggests=_suggests(path),
            understood=understood(self._named, model, path, texts),
            faults=self.faults.get(name, ()),
            add_as=self._add_as(path, name),
            answer=self._answer(asked, prefix) if asked else None,
            is_asked=asked is not None,
            is_needed=path.required,
            tied_to=self._tied_to(path, prefix),
            drawn=path.json_name if (model.__name__, path.json_name) in _DRAWN else "",
            later=asked.later if asked else True,
        )

    def _choices(
        self, model: type[Model], path: FieldPath, prefix: str, texts: tuple[str, ...]
    ) -> tuple[Choice, ...]:
        role = prefix.partition(".")[0]
        match path.marker:
            case Scheme(name):
                known = of_terms(name)
            case WithinRecord():
                known = of_parts(self.texts, self._tied_to(path, prefix))
            case Reference(part="stage"):
                known = Stages(self.access, self.texts).of_role(role, self.models[role])
                if not known:
                    return ()
            case Datatype() if column_of(model, path.json_name).holds is Holds.FLAG:
                known = yes_or_no()
            case _:
                return ()
        return chosen_of(known if path.many else [nothing(), *known], texts)

    def _tied_to(self, path: FieldPath, prefix: str) -> str:
        if not isinstance(path.marker, WithinRecord):
            return ""
        role = prefix.partition(".")[0]
        return f"{role}.{_list_of(self.models[role], path.marker.part)}"

    def _add_as(self, path: FieldPath, name: str) -> tuple[Choice, ...]:
        if name not in self.unknown or not isinstance(path.marker, Reference):
            return ()
        kinds = [(kind, kind_in_words(KINDS[kind])) for kind in path.marker.kinds if kind in _PEOPLE]
        return chosen_of(kinds, self.texts.get(f"new.{name}", ()))

    def _answer(self, asked: Question | None, prefix: str) -> AnswerInput | None:
        if asked is None or "." in prefix:
            return None
        name = f"{prefix}.{ANSWERS}.{asked.asks}"
        given = one_text(self.texts, f"{name}.answer")
        if not (asked.accepts or given):
            return None
        known = [(slug, terms.label("answer", slug, language())) for slug in asked.accepts]
        return AnswerInput(
            name=name,
            choices=chosen_of([nothing(), *known], (given,)),
            reason=one_text(self.texts, f"{name}.reason"),
            faults=(*self.faults.get(f"{name}.answer", ()), *self.faults.get(f"{name}.reason", ())),
        )

    def _rows(self, part: type[Part], form: FieldForm, name: str, asked: Question | None) -> Rows:
        prefix = name.partition(".")[0]
        return Rows(
            name=name,
            part=form.name,
            label=form.label(language()),
            one=kind_in_words(part),
            prefix=part.prefix,
            rows=tuple(self._row(part, name, at) for at in rows_in(self.texts, name)),
            blank=self._blank(part, name),
            help=_(form.help) if form.help else "",
            why=_(asked.why) if asked and asked.why else "",
            how=_(asked.how) if asked and asked.how else "",
            faults=self.faults.get(name, ()),
            answer=self._answer(asked, prefix) if asked else None,
            is_asked=asked is not None,
            is_place=part is Position,
            later=asked.later if asked else True,
        )

    def _row(self, part: type[Part], name: str, at: int) -> Row:
        row = f"{name}.{at}"
        found = [self._part_input(part, form, row) for form in forms_of(part.__name__)]
        first = tuple(one for one in found if one.is_asked or one.is_needed or one.is_filled)
        return Row(
            name=row,
            identity=one_text(self.texts, f"{row}.id"),
            number=at,
            inputs=first or tuple(found),
            more=tuple(one for one in found if one not in first) if first else (),
            faults=self.faults.get(row, ()),
        )

    def _part_input(self, part: type[Part], form: FieldForm, row: str) -> Input:
        made = self.one(part, form.name, row)
        if isinstance(made, Rows):
            raise TypeError(f"{row}.{form.name}: parts of parts have no form")
        return made

    def _blank(self, part: type[Part], name: str) -> Row:
        """Give an empty row whose number a script puts in."""
        empty = Inputs(self.access, _but_rows(self.texts, name), models=self.models)
        found = [empty._part_input(part, form, f"{name}.__N__") for form in forms_of(part.__name__)]
        first = tuple(one for one in found if one.is_asked or one.is_needed)
        more = tuple(one for one in found if one not in first) if first else ()
        return Row(name=f"{name}.__N__", identity="", number=-1, inputs=first or tuple(found), more=more)


def _but_rows(texts: Texts, name: str) -> Texts:
    return {key: value for key, value in texts.items() if not key.startswith(f"{name}.__N__")}


def _list_of(model: type[Model], prefix: str) -> str:
    """Give the field of a record that holds the parts whose names begin so."""
    return next((path.json_name for path in fields_of(model) if path.part and path.part.prefix == prefix), "")


def _widget(path: FieldPath, form: FieldForm, choices: tuple[Choice, ...], texts: Iterable[str]) -> Widget:
    if choices or isinstance(path.marker, Scheme):
        return Widget.CHOICES if path.many else Widget.CHOICE
    is_text = isinstance(path.marker, Datatype) and path.marker.iri.endswith("#string")
    has_lines = path.many or any("\n" in text for text in texts)
    return Widget.LONG if is_text and (form.group not in _SHORT or has_lines) else Widget.LINE


def _unit(model: type[Model], path: FieldPath) -> str:
    if not isinstance(path.marker, Datatype):
        return ""
    return {Holds.LENGTH: "mm", Holds.ANGLE: "°"}.get(column_of(model, path.json_name).holds, "")


def _suggests(path: FieldPath) -> str:
    """Give the name of the list of records that an input suggests."""
    if not isinstance(path.marker, Reference) or path.marker.part:
        return ""
    return "-".join(path.marker.kinds)


def faults_by_name(faults: Iterable[Fault]) -> Mapping[str, tuple[Fault, ...]]:
    """Sort faults by the inputs that they are about."""
    found: dict[str, list[Fault]] = defaultdict(list)
    for fault in faults:
        found[fault.where].append(fault)
    return {name: tuple(some) for name, some in found.items()}
