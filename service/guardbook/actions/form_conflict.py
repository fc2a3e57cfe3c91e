"""Two versions of a record: what was saved in between, what was typed, and what the form then holds.

What only one of the two changed is taken as that one has it; what both changed stays as it was typed, and
is shown with the other version beside it. Nothing is saved by this.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from guardbook.actions.form_reading import Read, Role
from guardbook.catalogue.access import Access
from guardbook.completeness.forms import form_of
from guardbook.intake.form_records import FOLDS, HOLES
from guardbook.intake.form_texts import Texts, same_text, texts_of
from guardbook.records.base import Model, Record
from guardbook.records.documents import to_document
from guardbook.records.fields import fields_of
from guardbook.wording import language

Document = dict[str, Any]


@dataclass(frozen=True, kw_only=True)
class Difference:
    """One input of which both versions say something else; `is_mine` tells which of them the form holds."""

    name: str
    label: str
    mine: str
    theirs: str
    is_mine: bool


@dataclass(frozen=True, kw_only=True)
class Conflict:
    """A record that was saved while the form was open: by whom, when, and what differs."""

    title: str
    iri: str
    who: str
    when: str
    differences: tuple[Difference, ...]


def conflicts_of(
    access: Access, texts: Texts, roles: Sequence[Role], read: Read
) -> tuple[dict[str, tuple[str, ...]], tuple[Conflict, ...]]:
    """Give the texts of the form over the newest revisions, and what differs; nothing where all is fresh."""
    records = {record.id: record for record, _ in read.drafts}
    merged, found = dict(texts), []
    for role in roles:
        mine = records.get(role.iri)
        if mine is None or not access.has(role.iri):
            continue
        kept = access.record(role.iri)
        if kept.revision == role.started_from or kept.record == mine:
            continue
        laid = _laid_together(dict(role.base), to_document(mine), to_document(kept.record), role.model)
        for name in [name for name in merged if name.startswith(f"{role.name}.")]:
            del merged[name]
        merged |= {**texts_of(laid, role.model, role.name), f"from.{role.name}": (str(kept.revision),)}
        found.append(
            Conflict(
                title=kept.record.display_title,
                iri=role.iri,
                who=kept.who or "",
                when=kept.when.strftime("%Y-%m-%d %H:%M"),
                differences=_differences(role, mine, kept.record, laid),
            )
        )
    return merged, tuple(found)


def _laid_together(base: Document, mine: Document, theirs: Document, model: type[Model]) -> Document:
    """Merge two versions that started from one; where both changed a value, mine stays."""
    merged = dict(theirs)
    for path in fields_of(model):
        name = path.json_name
        if path.part:
            value: Any = _parts(base.get(name, ()), mine.get(name, ()), theirs.get(name, ()), path.part)
        else:
            value = theirs.get(name) if mine.get(name) == base.get(name) else mine.get(name)
        merged[name] = value
        if value in (None, []):
            del merged[name]
    return merged


def _parts(
    base: Sequence[Document], mine: Sequence[Document], theirs: Sequence[Document], model: type[Model]
) -> list[Document]:
    """Merge parts by their names: one that either added stays, one that mine took out is gone."""
    before, own, other = ({part["id"]: part for part in parts} for parts in (base, mine, theirs))
    taken_out = before.keys() - own.keys()
    names = dict.fromkeys([*own, *(name for name in other if name not in taken_out)])
    kept = [name for name in names if name in own or name in other]
    return [_part(name, before, own, other, model) for name in kept if not _gone(name, before, own, other)]


def _gone(
    name: str, before: Mapping[str, Document], own: Mapping[str, Document], other: Mapping[str, Document]
) -> bool:
    """Tell whether the others took a part out that mine did not change."""
    return name in before and name not in other and own.get(name) == before[name]


def _part(
    name: str,
    before: Mapping[str, Document],
    own: Mapping[str, Document],
    other: Mapping[str, Document],
    model: type[Model],
) -> Document:
    if name not in own or name not in other:
        return own.get(name) or other[name]
    return _laid_together(before.get(name, {}), own[name], other[name], model)


def _differences(role: Role, mine: Record, theirs: Record, laid: Document) -> tuple[Difference, ...]:
    own, other, now = (
        texts_of(document, role.model, role.name)
        for document in (to_document(mine), to_document(theirs), laid)
    )
    names = [name for name in dict.fromkeys([*own, *other]) if not name.endswith(".id")]
    return tuple(
        Difference(
            name=name,
            label=label_of(name, role.model),
            mine="; ".join(own.get(name, ())),
            theirs="; ".join(other.get(name, ())),
            is_mine=same_text(now.get(name, ()), own.get(name, ())),
        )
        for name in names
        if not same_text(own.get(name, ()), other.get(name, ()))
    )


def label_of(name: str, model: type[Model]) -> str:
    """Give the label of the input of this name: `placing.positions.0.x` is `Positions 1: x (mm)`."""
    _role, *steps = name.split(".")
    said: list[str] = []
    for step in steps:
        path = next((path for path in fields_of(model) if path.json_name == step), None)
        form = form_of(model.__name__, step)
        if step.isdigit() and said:
            said[-1] += f" {int(step) + 1}"
        elif form:
            said.append(form.label(language()))
            model = path.part if path and path.part else model
        elif step not in {HOLES, FOLDS}:
            said.append(step)
    return ": ".join(said)
