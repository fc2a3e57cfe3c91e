"""What a bench sheet asks for, read from the shapes: in the order the hands work, each with room to write."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import groupby

from guardbook.completeness.forms import FieldForm, form_of, groups
from guardbook.completeness.requirements import Requirement, requirements
from guardbook.exports.paper.said import label_of, term
from guardbook.records import terms
from guardbook.records.fields import FieldPath, all_models, fields_of
from guardbook.records.host import HostVolume
from guardbook.records.values import EDTF, XSD, Datatype, Scheme
from guardbook.wording import _, language

STAGES = ("on-sight", "before-lifting")
MODELS = ("Fragment", "Placing", "Position", "Separation", "HostVolume")
# the volume stands at the head of the sheet; where a piece lay is asked for part by part
_ELSEWHERE = frozenset(
    {
        ("Fragment", "host"),
        ("Fragment", "separationKind"),
        ("Placing", "positions"),
        ("Placing", "stage"),
        ("HostVolume", "stages"),
    }
)
_TABLES: Mapping[str, tuple[str, tuple[str, ...], int]] = {
    "features": (
        "Feature",
        ("featureKind", "x", "y", "toX", "toY", "diameter", "face", "inSeries", "note"),
        14,
    ),
    "imagesBefore": ("Image", ("file", "moment", "technique", "face", "scaleBarInView", "note"), 4),
}
_LONG = frozenset(
    {"condition", "conditionBefore", "reason", "layerOrder", "sewingRelation", "edgesInPlace", "note"}
)
_IN_DEGREES = frozenset({"rotation", "writingAngle"})


@dataclass(frozen=True, kw_only=True)
class BenchField:
    """One thing to write down: how it is to be filled in, and why it matters.

    `form` is ticks, yes-no, measure, line, lines or table; `options` are what to tick or the columns.
    """

    label: str
    why: str
    form: str
    options: tuple[str, ...] = ()
    unit: str = ""
    rows: int = 1
    answers: tuple[str, ...] = ()


@dataclass(frozen=True)
class BenchGroup:
    """The fields that belong together."""

    title: str
    fields: tuple[BenchField, ...]


@dataclass(frozen=True)
class BenchStage:
    """What is to be written down on sight, or before lifting."""

    title: str
    groups: tuple[BenchGroup, ...]


def bench_stages(host: HostVolume | None) -> tuple[BenchStage, ...]:
    """Give what to write down, stage by stage; but for what is known of the volume."""
    titles = {"on-sight": _("On sight"), "before-lifting": _("Before lifting")}
    return tuple(BenchStage(titles[stage], tuple(_groups(stage, host))) for stage in STAGES)


def _groups(stage: str, host: HostVolume | None) -> Iterator[BenchGroup]:
    asked = sorted(
        _asked(stage),
        key=lambda one: (groups()[one[1].group].order, MODELS.index(one[1].model), one[1].order),
    )
    for slug, found in groupby(asked, key=lambda one: one[1].group):
        fields = tuple(_field(requirement, form) for requirement, form in found if not _is_known(form, host))
        if fields:
            yield BenchGroup(groups()[slug].label(language()), fields)


def _asked(stage: str) -> Iterator[tuple[Requirement, FieldForm]]:
    """Give what a stage asks for beyond the stages before it, each once."""
    before = {key for earlier in STAGES[: STAGES.index(stage)] for key in _keys(earlier)}
    done: set[tuple[str, str]] = set(before) | _ELSEWHERE
    for key, (requirement, form) in _keys(stage).items():
        if key not in done:
            done.add(key)
            yield requirement, form


def _keys(stage: str) -> dict[tuple[str, str], tuple[Requirement, FieldForm]]:
    found: dict[tuple[str, str], tuple[Requirement, FieldForm]] = {}
    for name, requirement in requirements(stage).items():
        model = _model_of(name, requirement.asks)
        form = form_of(model, requirement.asks) if model else None
        if form:
            found.setdefault((form.model, form.name), (requirement, form))
    return found


def _model_of(shape: str, field: str) -> str | None:
    """Give the model that a requirement is about: by the name of our shapes, or by who has such a field."""
    named = re.search(rf"-([A-Z]\w+)-{re.escape(field)}$", shape) if field else None
    if named:
        model = "Separation" if field == "imagesBefore" else named[1]
        return model if model in MODELS else None
    own = shape.startswith(("http", "urn")) and bool(field)
    return next((model for model in MODELS if own and form_of(model, field)), None)


def _is_known(form: FieldForm, host: HostVolume | None) -> bool:
    names = {field.json_name: field.name for field in fields_of(HostVolume)}
    return form.model == "HostVolume" and bool(host and getattr(host, names[form.name], None))


def _field(requirement: Requirement, form: FieldForm) -> BenchField:
    path = next(
        path
        for model in all_models()
        if model.__name__ == form.model
        for path in fields_of(model)
        if path.json_name == form.name
    )
    shape, options, rows = _room(path)
    return BenchField(
        label=label_of(form.model, form.name),
        why=_(why) if (why := requirement.why or form.reason) else "",
        form=shape,
        options=options,
        unit=_unit(path),
        rows=rows,
        answers=tuple(term("answer", slug) for slug in requirement.accepts),
    )


def _room(path: FieldPath) -> tuple[str, tuple[str, ...], int]:
    """Say how a field is filled in by hand: its form, what to tick or the columns, how many rows."""
    if path.json_name in _TABLES:
        model, columns, rows = _TABLES[path.json_name]
        return "table", tuple(label_of(model, name) for name in columns), rows
    match path.marker:
        case Scheme(scheme):
            return "ticks", tuple(_terms(scheme)), 1
        case Datatype(iri) if iri == f"{XSD}boolean":
            return "yes-no", (_("yes"), _("no")), 1
        case Datatype(iri) if iri in {f"{XSD}decimal", f"{XSD}integer"}:
            return "measure", (), 1
        case _:
            return ("lines", (), 3) if path.json_name in _LONG else ("line", (), 1)


def _terms(scheme: str) -> Iterator[str]:
    """Give the terms to tick; what is none of the others, or not known, comes last."""
    found = terms.of_scheme(scheme)
    for slug in sorted(found, key=lambda one: one.startswith(("other", "unknown"))):
        yield found[slug].label(language())


def _unit(path: FieldPath) -> str:
    match path.marker:
        case Datatype(iri) if iri == f"{XSD}decimal":
            return "°" if path.json_name in _IN_DEGREES else "mm"
        case Datatype(iri) if iri == EDTF:
            return _("year, month, day")
        case _:
            return ""
