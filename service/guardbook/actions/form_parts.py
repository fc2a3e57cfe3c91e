"""What a form is made of: inputs, rows of parts, sections. Pages show it, and know nothing of models."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum

from guardbook.errors import Fault

_LINE_LENGTH, _MOST_LINES = 80, 16


class Widget(StrEnum):
    """What an input looks like: one line, several lines, a list to choose one or several from, files."""

    LINE = "line"
    LONG = "long"
    CHOICE = "choice"
    CHOICES = "choices"
    FILE = "file"


@dataclass(frozen=True, kw_only=True)
class Choice:
    """One thing to choose: what is sent, what is read, whether it is chosen now."""

    value: str
    label: str
    chosen: bool = False


@dataclass(frozen=True, kw_only=True)
class AnswerInput:
    """The inputs for an answer in place of a value: which answer, and how it was looked for."""

    name: str
    choices: tuple[Choice, ...]
    reason: str
    faults: tuple[Fault, ...] = ()

    @property
    def is_given(self) -> bool:
        """Tell whether there is an answer, or something wrong with it."""
        return bool(self.faults or self.reason or any(one.chosen and one.value for one in self.choices))


@dataclass(frozen=True, kw_only=True)
class Input:
    """One input: its name, the field it fills, what it is called, what stands in it, what is wrong with it.

    `unit` stands behind it, `suggests` names the list that it suggests values from, `understood` says how
    its text is read where that is not plain. `add_as` are the kinds of record that an unknown name can be
    added as, `sure_as` what is sent back where the person is sure of a doubtful value, `tied_to` the list of
    parts of the same record that it chooses from, `drawn` what it is on the drawing of a place.
    """

    name: str
    part: str
    model: str
    label: str
    help: str = ""
    why: str = ""
    how: str = ""
    widget: Widget = Widget.LINE
    texts: tuple[str, ...] = ("",)
    choices: tuple[Choice, ...] = ()
    unit: str = ""
    suggests: str = ""
    understood: str = ""
    faults: tuple[Fault, ...] = ()
    add_as: tuple[Choice, ...] = ()
    answer: AnswerInput | None = None
    is_asked: bool = False
    is_needed: bool = False
    tied_to: str = ""
    drawn: str = ""
    later: bool = True

    @property
    def text(self) -> str:
        """Give what stands in an input that holds one text."""
        return self.texts[0] if self.texts else ""

    @property
    def id(self) -> str:
        """Give the name as an `id` of HTML."""
        return self.name.replace(".", "-").replace("#", "")

    @property
    def is_filled(self) -> bool:
        """Tell whether anything stands in it, or is wrong with it."""
        return any(self.texts) or bool(self.faults) or bool(self.answer and self.answer.is_given)

    @property
    def lines(self) -> int:
        """Give how many lines its text takes, as far as an input shows at once."""
        taken = sum(1 + len(line) // _LINE_LENGTH for line in self.text.splitlines())
        return min(max(taken, 1), _MOST_LINES)

    @property
    def words(self) -> str:
        """Say in short what stands in it; a number with its label, since it says nothing by itself."""
        chosen = ", ".join(one.label for one in self.choices if one.chosen and one.value)
        if chosen or not self.text:
            return chosen
        return self.text if any(mark.isalpha() for mark in self.text) else f"{self.label} {self.text}"

    @property
    def sure_as(self) -> str:
        """Give what stands for this value among those that the person is sure of."""
        return f"{self.name}={'|'.join(self.texts)}"


@dataclass(frozen=True, kw_only=True)
class Row:
    """One part: its number in the form, its name in the record, its inputs, and those folded away."""

    name: str
    identity: str
    number: int
    inputs: tuple[Input, ...]
    more: tuple[Input, ...] = ()
    faults: tuple[Fault, ...] = ()

    @property
    def is_wrong(self) -> bool:
        """Tell whether anything in it is to be mended."""
        return bool(self.faults) or any(one.faults for one in (*self.inputs, *self.more))

    @property
    def words(self) -> str:
        """Say in one line what the part says: `sewing hole · x (mm) 12 · y (mm) 48.5`."""
        return " · ".join(one.words for one in self.inputs if one.words)


@dataclass(frozen=True, kw_only=True)
class Rows:
    """The parts of one list, and an empty row to add more by.

    `prefix` is how their names in the record begin, `is_place` is true for positions on the planes of a
    volume, which can be picked on its drawing.
    """

    name: str
    part: str
    label: str
    one: str
    prefix: str
    rows: tuple[Row, ...]
    blank: Row
    help: str = ""
    why: str = ""
    how: str = ""
    faults: tuple[Fault, ...] = ()
    answer: AnswerInput | None = None
    is_asked: bool = False
    is_place: bool = False
    later: bool = True

    @property
    def id(self) -> str:
        """Give the name as an `id` of HTML."""
        return self.name.replace(".", "-")

    @property
    def is_filled(self) -> bool:
        """Tell whether there is a part, or something wrong."""
        return bool(self.rows or self.faults or (self.answer and self.answer.is_given))


Item = Input | Rows


def input_named(sections: Iterable[Section], name: str) -> Input | Rows | None:
    """Give what a fault at `name` is about: the input, or the list of parts; None where it is not shown."""
    wanted = {name, name.rpartition(".")[0]} if ".answers." in name else {name}
    for section in sections:
        found: list[Input | Rows] = [*section.inputs()]
        found += [item for item in (*section.items, *section.more) if isinstance(item, Rows)]
        for one in found:
            if one.name in wanted or (one.answer and one.answer.name in wanted):
                return one
    return None


@dataclass(frozen=True, kw_only=True)
class Section:
    """Inputs under one heading; `more` are those that are folded away."""

    title: str
    items: tuple[Item, ...]
    more: tuple[Item, ...] = ()
    slug: str = ""

    def inputs(self, *, blank: bool = False) -> Iterator[Input]:
        """Give every input, at any depth, and those of the empty rows where they are asked for."""
        for item in (*self.items, *self.more):
            if isinstance(item, Input):
                yield item
            else:
                for row in (*item.rows, item.blank) if blank else item.rows:
                    yield from (*row.inputs, *row.more)

    @property
    def is_wrong(self) -> bool:
        """Tell whether anything in it is to be mended."""
        return any(one.faults or (one.answer and one.answer.faults) for one in self.inputs()) or any(
            item.faults for item in (*self.items, *self.more)
        )
