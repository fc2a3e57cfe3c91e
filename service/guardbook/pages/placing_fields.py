"""The inputs that say where a piece lies in its volume, ready for the macro in `templates/placing.html`.

They do the job by themselves; where scripts run, `static/placing.js` adds the drawing of the volume.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from guardbook.binding.outlines import Shape
from guardbook.binding.traces import AREAS
from guardbook.completeness.forms import form_of
from guardbook.pages.placing_words import words_for_the_drawing
from guardbook.records import terms
from guardbook.records.base import Model
from guardbook.records.fields import fields_of
from guardbook.records.fragment import Feature, Fragment
from guardbook.records.placing import Position
from guardbook.records.values import Datatype, Scheme
from guardbook.wording import _, language

# the parts of a position that the drawing reads and writes, in the order of the form
PARTS = (
    "plane", "side", "gathering", "leaf", "leafSide", "x", "y", "rotation", "mirrored", "scale",
)  # fmt: skip
SIZES = ("width", "height")
TRACES = ("holes", "folds")
_TEXT = frozenset({*TRACES, "note"})
_NUMERIC = frozenset({"gathering", "leaf", "layer"})
NOTHING: Mapping[str, str] = MappingProxyType({})


@dataclass(frozen=True)
class Asked:
    """One input: its name and id, label, help, what was typed, what is wrong, what can be chosen."""

    part: str
    name: str
    id: str
    label: str
    help: str
    value: str
    fault: str
    choices: tuple[tuple[str, str], ...] = ()

    @property
    def keyboard(self) -> str:
        """Give which keys a tablet should show."""
        if self.part in _TEXT:
            return "text"
        return "numeric" if self.part in _NUMERIC else "decimal"


@dataclass(frozen=True, kw_only=True)
class PlacingFields:
    """What the macro `placing_fieldset` is given.

    `host` is the volume (`host/IDENTIFIER` or its IRI; empty where it is not chosen yet), `stage` the number
    of the stage that is drawn (None: as it stands), `piece` the piece itself, which is then left out of the
    drawing beneath. `values` are what was typed, and `faults` what is wrong with it, by part: one of `PARTS`,
    `SIZES` or `TRACES`. Each input is called `prefix` and its part, or as `names` has it. `shape` is the
    size of the piece as it is known; with `asks_size` its width and height are asked too. With `asks_traces`
    holes and folds are asked; `known` are those already recorded, which are drawn but not changed.
    `host_input` and `stage_input` are the ids of inputs of the same form that choose volume and stage.
    """

    host: str = ""
    stage: int | None = None
    piece: str = ""
    values: Mapping[str, str] = field(default_factory=lambda: NOTHING)
    faults: Mapping[str, str] = field(default_factory=lambda: NOTHING)
    prefix: str = ""
    names: Mapping[str, str] = field(default_factory=lambda: NOTHING)
    shape: Shape | None = None
    asks_size: bool = False
    asks_traces: bool = False
    known: tuple[Feature, ...] = ()
    host_input: str = ""
    stage_input: str = ""

    @property
    def position(self) -> tuple[Asked, ...]:
        """Give the inputs of the position."""
        return tuple(self._asked(Position, part) for part in PARTS)

    @property
    def size(self) -> tuple[Asked, ...]:
        """Give the inputs of the size of the piece, where it is asked."""
        return tuple(self._asked(Fragment, part) for part in SIZES) if self.asks_size else ()

    @property
    def traces(self) -> tuple[Asked, ...]:
        """Give the inputs of holes and folds, where they are asked."""
        return tuple(self._trace(part) for part in TRACES) if self.asks_traces else ()

    @property
    def known_size(self) -> tuple[tuple[str, str], ...]:
        """Give width, height and outline where they are known and not asked."""
        shape = self.shape or Shape()
        known = {"outline": shape.outline}
        if not self.asks_size:
            known |= {"width": _written(shape.width), "height": _written(shape.height)}
        return tuple((part, value) for part, value in known.items() if value)

    @property
    def known_traces(self) -> str:
        """Give the recorded traces whose place on the piece is known, as JSON."""
        return json.dumps([*_traces(self.known)])

    @property
    def words(self) -> Mapping[str, object]:
        """Give the words of the drawing."""
        return words_for_the_drawing()

    def _asked(self, model: type[Model], part: str) -> Asked:
        name = self.names.get(part, self.prefix + part)
        return asked_of(model, part, name, self.values.get(part, ""), self.faults.get(part, ""))

    def _trace(self, part: str) -> Asked:
        if part == "holes":
            told = _(
                "Heights from the tail of the piece in mm: 12 48.5 97. With their distance from its left"
                " edge: x 30: 12 48.5. A single hole elsewhere: (34, 60). A bar | begins a new series."
            )
            return self._input(part, _("Holes"), told)
        told = _(
            "A number is a fold across the piece, in mm from its tail: 97. One from tail to head is given"
            " with its distance from the left edge: x 30. A slanting one: (0, 40)-(20, 60)."
        )
        return self._input(part, _("Folds"), told)

    def _input(self, part: str, label: str, told: str) -> Asked:
        name = self.names.get(part, self.prefix + part)
        return Asked(
            part=part,
            name=name,
            id=_id(name),
            label=label,
            help=told,
            value=self.values.get(part, ""),
            fault=self.faults.get(part, ""),
        )


def asked_of(model: type[Model], part: str, name: str, value: str, fault: str) -> Asked:
    """Make the input of a field by its JSON name; its label, help and choices come from shapes and terms."""
    form = form_of(model.__name__, part)
    return Asked(
        part=part,
        name=name,
        id=_id(name),
        label=form.label(language()) if form else part,
        help=form.help if form else "",
        value=value,
        fault=fault,
        choices=tuple(_choices(model, part)),
    )


def _id(name: str) -> str:
    return f"placing-{name}".replace(".", "-")


def _choices(model: type[Model], part: str) -> Iterator[tuple[str, str]]:
    field_of_it = next(one for one in fields_of(model) if one.json_name == part)
    match field_of_it.marker:
        case Scheme(scheme):
            yield "", _("not said")
            yield from ((slug, term.label(language())) for slug, term in terms.of_scheme(scheme).items())
        case Datatype(iri) if iri.endswith("boolean"):
            yield from (("", _("not said")), ("false", _("no")), ("true", _("yes")))


def _traces(features: Iterable[Feature]) -> Iterator[dict[str, object]]:
    for one in features:
        if one.x is None or one.y is None:
            continue
        x, y = float(one.x), float(one.y)
        points = [[x, y]]
        is_area = one.feature_kind in AREAS
        if one.to_x is not None and one.to_y is not None:
            to_x, to_y = float(one.to_x), float(one.to_y)
            points = (
                [[x, y], [to_x, y], [to_x, to_y], [x, to_y], [x, y]] if is_area else [[x, y], [to_x, to_y]]
            )
        words = terms.label("feature", one.feature_kind, language())
        yield {"points": points, "isArea": is_area, "words": words}


def _written(value: object) -> str:
    return "" if value is None else format(value, "f")
