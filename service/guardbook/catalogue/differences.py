"""The difference between two revisions, in words."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Any

from guardbook.completeness.forms import form_of
from guardbook.records import terms
from guardbook.records.base import Model, Part, Record
from guardbook.records.fields import FieldPath, fields_of
from guardbook.records.values import Scheme
from guardbook.wording import _, decimal


def differences(before: Record, after: Record, language: str = "en") -> tuple[str, ...]:
    """Say what changed from one revision to another, one line a change, in the order of the fields.

    >>> from guardbook.records.fragment import Fragment
    >>> differences(Fragment(id="fragment/7K3QM2-J"), Fragment(id="fragment/7K3QM2-J", height="45.50"))
    ('Height (mm): 45.50 (was empty)',)
    """
    return tuple(_lines(before, after, "", language))


def _lines(before: Model, after: Model, prefix: str, language: str) -> Iterator[str]:
    for field in fields_of(type(after)):
        old, new = getattr(before, field.name), getattr(after, field.name)
        if repr(old) == repr(new):  # not by value: 45.50 says more than the 45.5 it equals
            continue
        name = prefix + label_of(type(after), field, language)
        if field.part:
            yield from _part_lines(
                name, old if field.many else (old,), new if field.many else (new,), language
            )
        elif field.many:
            added = [_word(item, field, language) for item in new if item not in old]
            removed = [_word(item, field, language) for item in old if item not in new]
            told = [_("{item} added").format(item=item) for item in added]
            told += [_("{item} removed").format(item=item) for item in removed]
            yield f"{name}: {'; '.join(told)}"
        else:
            words = {"new": _word(new, field, language), "old": _word(old, field, language)}
            yield _("{field}: {new} (was {old})").format(field=name, **words)


def _part_lines(name: str, old: tuple[Any, ...], new: tuple[Any, ...], language: str) -> Iterator[str]:
    before: dict[str, Part] = {part.id: part for part in old if part}
    after: dict[str, Part] = {part.id: part for part in new if part}
    for key in [key for key in before if key not in after]:
        yield _("{part}: removed").format(part=f"{name} {key}")
    for key, part in after.items():
        if key not in before:
            yield _("{part}: added ({what})").format(part=f"{name} {key}", what=_told(part, language))
        else:
            yield from _lines(before[key], part, f"{name} {key}, ", language)


def _told(part: Part, language: str) -> str:
    """Give what a part says, in one line."""
    told = []
    for field in fields_of(type(part)):
        value = getattr(part, field.name)
        if field.part is None and value not in {None, ()}:
            items = value if field.many else (value,)
            words = ", ".join(_word(item, field, language) for item in items)
            told.append(f"{label_of(type(part), field, language)} {words}")
    return "; ".join(told) or _("nothing said of it")


def label_of(model: type[Model], field: FieldPath, language: str) -> str:
    """Give the label of a field, or its JSON name where the shapes give it none."""
    form = form_of(model.__name__, field.json_name)
    return form.label(language) if form else field.json_name


def _word(value: Any, field: FieldPath, language: str) -> str:
    if value is None:
        return _("empty")
    if isinstance(value, bool):
        return _("yes") if value else _("no")
    if isinstance(field.marker, Scheme):
        return terms.label(field.marker.name, value, language)
    return decimal(format(value, "f")) if isinstance(value, Decimal) else str(value)
