"""What every field is called and explained as, read from the shapes.

Forms, spreadsheet columns and the data dictionary are made from this, so that a field has one name
everywhere. The label, help, order and group stand in `shapes/structure/`; why a field matters and how to
get it stand there too, or with the stage that asks for it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType

import pyoxigraph as ox

from guardbook import settings
from guardbook.completeness.shape_files import (
    SHACL,
    SHAPES,
    STAGES,
    STRUCTURE,
    Node,
    Statements,
    own_statements,
)
from guardbook.records.fields import all_models

_LABEL = "http://www.w3.org/2000/01/rdf-schema#label"


@dataclass(frozen=True, kw_only=True)
class FieldForm:
    """One field of one model: `name` is its JSON name, `labels` its name by language.

    `group` is the slug of the heading it stands under, `reason` says why it matters, `how` how to get it.
    """

    model: str
    name: str
    labels: Mapping[str, str]
    help: str
    order: int
    group: str
    reason: str
    how: str

    def label(self, language: str = "en") -> str:
        """Give the label in a language, or in English."""
        return self.labels.get(language) or self.labels["en"]


@dataclass(frozen=True, kw_only=True)
class Group:
    """A heading that fields stand under: its slug, its place in the order, its name by language."""

    slug: str
    order: int
    labels: Mapping[str, str]

    def label(self, language: str = "en") -> str:
        """Give the heading in a language, or in English."""
        return self.labels.get(language) or self.labels["en"]


@lru_cache(maxsize=1)
def groups() -> Mapping[str, Group]:
    """Give every heading by its slug, in order."""
    shapes = own_statements(STRUCTURE)
    found = [
        Group(slug=slug, order=int(text(rows, SHACL + "order")), labels=by_language(rows, _LABEL))
        for node, rows in shapes.items()
        if (slug := local(node, SHAPES + "group/"))
    ]
    return MappingProxyType({group.slug: group for group in sorted(found, key=lambda group: group.order)})


@lru_cache(maxsize=64)
def forms_of(model: str) -> tuple[FieldForm, ...]:
    """Give the fields of a model (`Fragment`, or a part such as `Feature`) in the order of a form.

    Raises KeyError if no model has this name.
    """
    shapes = own_statements(STRUCTURE)
    properties = shapes[ox.NamedNode(SHAPES + model)][SHACL + "property"]
    found = [_form(model, shapes[node]) for node in properties]
    return tuple(sorted(found, key=lambda form: (groups()[form.group].order, form.order)))


@lru_cache(maxsize=1024)
def form_of(model: str, name: str) -> FieldForm | None:
    """Give one field of a model by its JSON name, or None where there is none."""
    try:
        return next((form for form in forms_of(model) if form.name == name), None)
    except KeyError:
        return None


def label_anywhere(name: str, language: str) -> str:
    """Give the label of a field that any model has, by its JSON name, or that name where none has it."""
    forms = (form_of(model.__name__, name) for model in all_models())
    return next((form.label(language) for form in forms if form), name)


def _form(model: str, rows: Mapping[str, tuple[Node, ...]]) -> FieldForm:
    name = local(rows[SHACL + "path"][0], settings.NAMESPACE)
    why, how = _reason_and_how(model, name, rows)
    return FieldForm(
        model=model,
        name=name,
        labels=by_language(rows, SHACL + "name"),
        help=text(rows, SHACL + "description"),
        order=int(text(rows, SHACL + "order")),
        group=local(rows[SHACL + "group"][0], SHAPES + "group/"),
        reason=why,
        how=how,
    )


def _reason_and_how(model: str, name: str, rows: Mapping[str, tuple[Node, ...]]) -> tuple[str, str]:
    """Take them from the field's own shape, or else from the first stage that asks for the field."""
    candidates = [rows, *(found for stage in STAGES if (found := _asked_at(stage).get((model, name))))]
    for found in candidates:
        if settings.NAMESPACE + "why" in found:
            return text(found, settings.NAMESPACE + "why"), text(found, settings.NAMESPACE + "how")
    return "", ""


@lru_cache(maxsize=8)
def _asked_at(stage: str) -> Mapping[tuple[str, str], Mapping[str, tuple[Node, ...]]]:
    """Sort a stage's requirements by model and field."""
    shapes: Statements = own_statements(stage)
    return {
        (local(target, settings.NAMESPACE), asked_field(shapes[node])): shapes[node]
        for rows in shapes.values()
        for target in rows.get(SHACL + "targetClass", ())
        for node in rows.get(SHACL + "property", ())
    }


def asked_field(rows: Mapping[str, tuple[Node, ...]]) -> str:
    """Give the JSON name of the field a property shape asks for: `gb:asks`, or else its path."""
    nodes = (*rows.get(settings.NAMESPACE + "asks", ()), *rows.get(SHACL + "path", ()))
    return next((name for node in nodes if (name := local(node, settings.NAMESPACE))), "")


def local(node: Node, start: str) -> str:
    """Give what follows the start of an IRI, or an empty text where the node is something else."""
    if isinstance(node, ox.NamedNode) and node.value.startswith(start):
        return node.value.removeprefix(start)
    return ""


def text(rows: Mapping[str, tuple[Node, ...]], predicate: str) -> str:
    """Give the first literal of a predicate, or an empty text."""
    return next((node.value for node in rows.get(predicate, ()) if isinstance(node, ox.Literal)), "")


def by_language(rows: Mapping[str, tuple[Node, ...]], predicate: str) -> Mapping[str, str]:
    """Give the literals of a predicate by language (English where none is said)."""
    literals = (node for node in rows.get(predicate, ()) if isinstance(node, ox.Literal))
    return MappingProxyType({literal.language or "en": literal.value for literal in literals})
