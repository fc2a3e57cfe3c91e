"""Sheets of labels: how large each label is, how many stand on a sheet, and where a used sheet goes on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields, replace
from types import MappingProxyType
from typing import Any

from guardbook.errors import Fault, WrongUse
from guardbook.wording import _, decimal

# in mm: ISO 216, and 8.5 by 11 inches
PAPERS: MappingProxyType[str, tuple[float, float]] = MappingProxyType(
    {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
)
LEAST_WIDTH_MM, LEAST_HEIGHT_MM = 45.0, 18.0


@dataclass(frozen=True, kw_only=True)
class LabelSheet:
    """Labels on a sheet, lengths in mm; `start` is the first free label, counted row by row from 1.

    `paper` is one of `PAPERS`, or `label` for a page of the size of a label, one each.
    """

    paper: str = "label"
    columns: int = 1
    rows: int = 1
    width: float = 99.0
    height: float = 38.0
    left: float = 0.0
    top: float = 0.0
    gap_x: float = 0.0
    gap_y: float = 0.0
    start: int = 1

    @property
    def page(self) -> tuple[float, float]:
        """Give width and height of the page."""
        return PAPERS.get(self.paper, (self.width, self.height))

    def with_changes(self, **changes: Any) -> LabelSheet:
        """Give the sheet with what is said (not None) changed. Raises WrongUse with all its faults."""
        known = {one.name for one in fields(self)}
        made = replace(
            self, **{name: value for name, value in changes.items() if value is not None and name in known}
        )
        if faults := tuple(made.faults()):
            raise WrongUse(message=_("Labels cannot be laid out so."), faults=faults)
        return made

    def faults(self) -> Iterator[Fault]:
        """Find what is wrong with it."""
        yield from self._too_small()
        if min(self.left, self.top, self.gap_x, self.gap_y) < 0:
            yield Fault(
                where="left, top, gapX, gapY",
                found=_("a length below 0"),
                expected=_("millimetres of 0 or more"),
            )
        if min(self.columns, self.rows) < 1:
            yield Fault(
                where="columns, rows",
                found=f"{self.columns} x {self.rows}",
                expected=_("1 or more of each"),
            )
            return
        yield from self._beyond_the_page()
        if not 1 <= self.start <= self.columns * self.rows:
            yield Fault(
                where="start",
                found=str(self.start),
                expected=_("a label from 1 to {last}").format(last=self.columns * self.rows),
                mend=_("Count the labels row by row from the top left; give the first that is still there."),
            )

    def _too_small(self) -> Iterator[Fault]:
        for name, found, least in (
            ("labelWidth", self.width, LEAST_WIDTH_MM),
            ("labelHeight", self.height, LEAST_HEIGHT_MM),
        ):
            if found < least:
                yield Fault(
                    where=name,
                    found=decimal(f"{found:g}"),
                    expected=_("{length} mm or more").format(length=decimal(f"{least:g}")),
                    mend=_("Less leaves no room for a QR code that can be read."),
                )

    def _beyond_the_page(self) -> Iterator[Fault]:
        for name, page, margin, count, size, gap in (
            ("columns", self.page[0], self.left, self.columns, self.width, self.gap_x),
            ("rows", self.page[1], self.top, self.rows, self.height, self.gap_y),
        ):
            needed = margin + count * size + (count - 1) * gap
            if needed > page + 0.01:
                yield Fault(
                    where=name,
                    found=_("{number}, which take {length} mm with their margin and gaps").format(
                        number=count, length=decimal(f"{needed:g}")
                    ),
                    expected=_("what goes into the {length} mm of the page ({paper})").format(
                        length=decimal(f"{page:g}"), paper=self.paper
                    ),
                )


# label stock as it is commonly sold (common practice, no published source)
SHEETS: MappingProxyType[str, LabelSheet] = MappingProxyType(
    {
        "label": LabelSheet(),
        "a4": LabelSheet(
            paper="a4", columns=2, rows=7, width=99.1, height=38.1, left=4.65, top=15.15, gap_x=2.5
        ),
        "letter": LabelSheet(
            paper="letter", columns=2, rows=7, width=101.6, height=33.8, left=4.0, top=21.2, gap_x=4.7
        ),
    }
)


def sheet_called(name: str, **changes: Any) -> LabelSheet:
    """Give one of the known sheets, with changes. Raises WrongUse with all that is wrong."""
    if name not in SHEETS:
        told = _("There are no labels on {name}, only on {names}.")
        raise WrongUse(message=told.format(name=repr(name), names=", ".join(SHEETS)))
    return SHEETS[name].with_changes(**changes)
