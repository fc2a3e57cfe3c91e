"""The form of a registration: its steps, and what stands in them before anything is typed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from guardbook import settings
from guardbook.actions.form_choices import chosen_of, nothing, of_terms, stage_words, yes_or_no
from guardbook.actions.form_inputs import Inputs
from guardbook.actions.form_parts import Choice, Input, Item, Row, Rows, Section, Widget
from guardbook.actions.form_traces import traces_of
from guardbook.actions.photographs import PREFIX as PHOTOGRAPHS
from guardbook.actions.registered_together import NEW_STAGE, next_stage
from guardbook.actions.registration_steps import StepFields, fields_by_step
from guardbook.catalogue.access import Access
from guardbook.completeness.forms import groups
from guardbook.intake.form_records import HOLES
from guardbook.intake.form_texts import one_text
from guardbook.records import terms
from guardbook.records.base import Record
from guardbook.records.host import HostVolume
from guardbook.records.placing import Position
from guardbook.wording import _, language

PLACE = "placing.positions"


@dataclass(frozen=True, kw_only=True)
class Step:
    """One step of the form: its name and title, what it is about, its sections, the photographs it takes."""

    name: str
    title: str
    lead: str
    sections: tuple[Section, ...]
    moment: str = ""
    photographs: tuple[Input, ...] = ()
    is_wrong: bool = False

    @property
    def of_photographs(self) -> Section:
        """Give the inputs of the photographs as a section."""
        return Section(title="", items=self.photographs, slug=f"{self.name}-photographs")


def begun_texts(access: Access, host: str) -> dict[str, tuple[str, ...]]:
    """Give what stands in the form at first: one place, the stages of a new volume, the likeliest choices."""
    begun: dict[str, tuple[str, ...]] = {
        PLACE: ("rows",),
        f"{PLACE}.0.id": ("#position-1",),
        f"fragment.{HOLES}.0.kind": ("sewing-hole",),
        "separation.stage": (NEW_STAGE,),
    }
    if host == "unknown":
        return {"separation.separationKind": ("found-loose-host-unknown",)}
    if host == "new":
        stages: dict[str, tuple[str, ...]] = {}
        for at, kind in enumerate(("bound", "as-received")):
            row = f"host.stages.{at}"
            stages[f"{row}.id"], stages[f"{row}.number"] = (f"#stage-{at + 1}",), (str(at + 1),)
            stages[f"{row}.stageKind"] = (kind,)
        return {**begun, "host.stages": ("rows",), **stages}
    record = access.record(settings.current().base + host).record
    known = sorted(record.stages, key=lambda one: one.number) if isinstance(record, HostVolume) else []
    return {**begun, "placing.stage": (host + known[0].id,)} if known else begun


def steps_of(inputs: Inputs, models: Mapping[str, type[Record]]) -> Iterator[Step]:
    """Give the steps of the form in their order."""
    titles = _titles()
    for fields in fields_by_step(models):
        title, lead = titles[fields.plan.name]
        sections = tuple(_sections(inputs, models, fields))
        photographs = tuple(_photographs(inputs, fields.plan.moment)) if fields.plan.moment else ()
        yield Step(
            name=fields.plan.name,
            title=title,
            lead=lead,
            sections=sections,
            moment=fields.plan.moment,
            photographs=photographs,
            is_wrong=any(one.is_wrong for one in sections) or any(one.faults for one in photographs),
        )


def _titles() -> Mapping[str, tuple[str, str]]:
    return {
        "volume": (_("The volume"), _("As much as is known now; the rest can be added later.")),
        "on-sight": (
            _("On sight"),
            _("What kind of piece it is, what it did, roughly where it sits or sat."),
        ),
        "before-lifting": (
            _("Before lifting"),
            _("What a removal destroys: the measured place, holes and folds, fixing, layers."),
        ),
        "lifting": (
            _("Lifting"),
            _("Only if it is or was taken out; leave this empty while it stays in place."),
        ),
        "after": (_("After"), _("Where it is now, in what, and what took its place.")),
    }


def _sections(inputs: Inputs, models: Mapping[str, type[Record]], fields: StepFields) -> Iterator[Section]:
    """Give the first fields, then those asked under their headings, and last what is folded away."""
    made = [_item(inputs, models, name) for name in fields.first]
    places = [item for item in made if not isinstance(item, Input)]
    first = tuple(item for item in made if isinstance(item, Input))
    traces = traces_of(inputs, "fragment") if fields.plan.name == "before-lifting" else ()
    yield Section(title="", items=(*first, *traces, *places), slug=f"{fields.plan.name}-first")
    for (role, group), names in fields.asked.items():
        items = tuple(_item(inputs, models, name) for name in names)
        slug = f"{fields.plan.name}-{role}-{group}"
        yield Section(title=groups()[group].label(language()), items=items, slug=slug)
    if fields.more:
        more = tuple(_item(inputs, models, name) for name in fields.more)
        yield Section(title="", items=(), more=more, slug=f"{fields.plan.name}-more")


def _item(inputs: Inputs, models: Mapping[str, type[Record]], name: str) -> Item:
    if name == f"{PLACE}.0.plane":
        return inputs.one(Position, "plane", f"{PLACE}.0")
    role, _dot, field = name.partition(".")
    item = inputs.one(models[role], field, role)
    if isinstance(item, Input):
        return _with_new_stage(inputs, item) if name == "separation.stage" else item
    return _without_plane(item) if name == PLACE else item


def _with_new_stage(inputs: Inputs, item: Input) -> Input:
    """Let a stage after treatment be chosen that the volume does not have yet."""
    kind = terms.label("stage-kind", "after-treatment", language())
    told = _("{stage} (new)").format(
        stage=stage_words(next_stage(inputs.access, inputs.texts), kind, kind, None)
    )
    known = [(one.value, one.label) for one in item.choices if one.value and one.value != NEW_STAGE]
    given = one_text(inputs.texts, item.name)
    choices = chosen_of([nothing(), *known, (NEW_STAGE, told)], (given,))
    return replace(item, widget=Widget.CHOICE, choices=choices)


def _without_plane(rows: Rows) -> Rows:
    """Leave the plane out of the first place, since the first step asks for it already."""
    cut = [_cut(row) if row.number == 0 else row for row in rows.rows]
    return replace(rows, rows=tuple(cut))


def _cut(row: Row) -> Row:
    return replace(
        row,
        inputs=tuple(one for one in row.inputs if one.part != "plane"),
        more=tuple(one for one in row.more if one.part != "plane"),
    )


def _photographs(inputs: Inputs, moment: str) -> Iterator[Input]:
    """Give the inputs for the photographs of a moment, and what holds for all of them."""
    name = f"{PHOTOGRAPHS}.{moment}"
    yield Input(
        name=name,
        part="file",
        model="Image",
        label=_("Photographs: {moment}").format(moment=terms.label("moment", moment, language())),
        help=_("JPEG, PNG, TIFF or WebP; several at once if you like. The file is kept as it is."),
        widget=Widget.FILE,
        faults=inputs.faults.get(name, ()),
    )
    technique = one_text(inputs.texts, f"{name}.technique") or "visible-light"
    scale = one_text(inputs.texts, f"{name}.scale")
    yield _of_all(f"{name}.technique", _("Technique"), chosen_of(of_terms("technique"), (technique,)))
    choices = chosen_of([nothing(), *yes_or_no()], (scale,))
    yield _of_all(f"{name}.scale", _("Scale in view"), choices)


def _of_all(name: str, label: str, choices: tuple[Choice, ...]) -> Input:
    return Input(name=name, part="of-all", model="Image", label=label, widget=Widget.CHOICE, choices=choices)
