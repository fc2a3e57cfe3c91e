"""What stands in the inputs of a form: the texts of a record, by the names of the inputs.

An input is called by where its value lies, `fragment.height` or `placing.positions.0.x`: first comes
the role that the record plays in the form. A part carries its name beside its fields (`….0.id`), its list
says that it is shown at all, and an answer to a question is `fragment.answers.height.answer`.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any

from guardbook import settings
from guardbook.intake.when import unmistakable
from guardbook.records.base import Model
from guardbook.records.fields import FieldPath, fields_of
from guardbook.records.values import EDTF, Datatype, Scheme, WithinRecord

Texts = Mapping[str, tuple[str, ...]]
ANSWERS = "answers"
_ROW = re.compile(r"\.([0-9]{1,6})\.")


def texts_of(document: Mapping[str, Any], model: type[Model], prefix: str) -> dict[str, tuple[str, ...]]:
    """Give the texts of a record's document, or of a part of it, under names that begin with `prefix`."""
    texts: dict[str, tuple[str, ...]] = {}
    for field in fields_of(model):
        value = document.get(field.json_name)
        name = f"{prefix}.{field.json_name}"
        if field.json_name == ANSWERS:
            texts |= texts_of_answers(value or (), name)
        elif field.part:
            texts[name] = ("rows",)
            for at, part in enumerate(value or ()):
                texts[f"{name}.{at}.id"] = ("#" + str(part["id"]).rpartition("#")[2],)
                texts |= texts_of(part, field.part, f"{name}.{at}")
        else:
            texts[name] = texts_in(value, field)
    return texts


def texts_of_answers(answers: Sequence[Mapping[str, Any]], name: str) -> dict[str, tuple[str, ...]]:
    """Give the texts of the first answer to each question; there is rarely another."""
    texts: dict[str, tuple[str, ...]] = {}
    for one in answers:
        texts.setdefault(f"{name}.{one['asked']}.answer", (str(one["answer"]),))
        texts.setdefault(f"{name}.{one['asked']}.reason", (str(one.get("reason", "")),))
    return texts


def texts_in(value: Any, field: FieldPath) -> tuple[str, ...]:
    """Give what stands in the input of a field: one text, or one for each choice where there are several.

    Several records stand in one input with semicolons between them, several texts one on each line, as a
    text may hold a semicolon itself.
    """
    values = value if isinstance(value, list | tuple) else [] if value is None else [value]
    written = tuple(_written(one, field) for one in values)
    if field.many and not isinstance(field.marker, Scheme):
        return ("\n".join(map(_on_one_line, written)) if is_one_a_line(field) else "; ".join(written),)
    return written or ("",)


def is_one_a_line(field: FieldPath) -> bool:
    """Tell whether the values of a field stand one on each line of its input: free texts do."""
    return field.many and isinstance(field.marker, Datatype) and field.marker.iri.endswith("#string")


def _on_one_line(text: str) -> str:
    return " ".join(text.split("\n"))


def _written(value: Any, field: FieldPath) -> str:
    match field.marker:
        case Datatype(iri) if iri == EDTF:
            return unmistakable(str(value))
        case Datatype():
            return {True: "true", False: "false"}[value] if isinstance(value, bool) else str(value)
        case WithinRecord():
            return "#" + str(value).rpartition("#")[2]
        case _:
            return str(value).removeprefix(settings.current().base)


def same_text(one: Sequence[str], other: Sequence[str]) -> bool:
    r"""Tell whether two inputs hold the same, however the browser sends new lines and empty choices.

    >>> same_text(("two\r\nlines",), ("two\nlines",)), same_text(("", "sewn"), ("sewn",))
    (True, True)
    """
    return _plain(one) == _plain(other)


def _plain(texts: Sequence[str]) -> list[str]:
    return sorted(filter(None, (text.replace("\r\n", "\n").replace("\r", "\n") for text in texts)))


def rows_in(texts: Texts, name: str) -> tuple[int, ...]:
    """Give the numbers of the rows of parts that the inputs under a name belong to, in order.

    >>> rows_in({"placing.positions.2.id": ("",), "placing.positions.0.x": ("1",)}, "placing.positions")
    (0, 2)
    """
    found = (_ROW.match(key[len(name) :]) for key in texts if key.startswith(f"{name}."))
    return tuple(sorted({int(one[1]) for one in found if one}))


def one_text(texts: Texts, name: str) -> str:
    """Give the one text of an input, without spaces around it; an empty one where there is none."""
    return next(iter(texts.get(name, ())), "").strip()
