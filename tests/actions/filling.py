"""A form as a browser would send it: every input that is shown, with what stands in it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from guardbook.actions.form_parts import AnswerInput, Input, Item, Section, Widget

Texts = dict[str, tuple[str, ...]]


def sent(hidden: Mapping[str, str], sections: Iterable[Section], **typed: str) -> Texts:
    """Give the texts of a form, and over them what was typed; in the names `__` stands for a dot."""
    texts: Texts = {name: (value,) for name, value in hidden.items()}
    for section in sections:
        for item in (*section.items, *section.more):
            texts |= _of_item(item)
    return {**texts, **{name.replace("__", "."): (text,) for name, text in typed.items()}}


def _of_item(item: Item) -> Texts:
    if isinstance(item, Input):
        return _of_input(item)
    texts: Texts = {item.name: ("rows",), **_of_answer(item.answer)}
    for row in item.rows:
        texts[f"{row.name}.id"] = (row.identity,)
        for one in (*row.inputs, *row.more):
            texts |= _of_input(one)
    return texts


def _of_input(one: Input) -> Texts:
    texts = _of_answer(one.answer)
    if not one.part or one.widget is Widget.FILE:
        return texts
    if one.widget is Widget.CHOICES:
        return {**texts, one.name: ("", *(choice.value for choice in one.choices if choice.chosen))}
    if one.widget is Widget.CHOICE:
        return {
            **texts,
            one.name: tuple(choice.value for choice in one.choices if choice.chosen)[:1] or ("",),
        }
    return {**texts, one.name: (one.text,)}


def _of_answer(given: AnswerInput | None) -> Texts:
    if given is None:
        return {}
    chosen = tuple(choice.value for choice in given.choices if choice.chosen)[:1]
    return {f"{given.name}.answer": chosen or ("",), f"{given.name}.reason": (given.reason,)}
