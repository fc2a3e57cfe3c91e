"""Sizes and chain lines of leaves by the format a sheet was folded to, and what a leaf says of its format.

Chain lines run along the short side of a sheet, so their direction on a leaf tells how often it was folded.
Sources: H. G. Aldis, *The Printed Book* (1916), for folio, quarto and octavo; the duodecimo is derived from
these; the sheets are those of the Bologna stone of 1389 after C. M. Briquet. All from memory: published
readings of the stone differ by up to 15 mm, and so much is allowed here.

There are exceptions (sheets cut in half before printing, moulds with two sheets, turned chain lines; see
G. T. Tanselle in *Studies in Bibliography* 53, from memory). A format is proposed with what speaks for it and
against it, and is never forced on a record.
"""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType
from typing import NamedTuple

TOLERANCE_MM = 15.0
# a binder seldom cut away more than this of a leaf's height or width (common practice, no published source)
TRIMMED_SHARE = 0.15

# long and short side of a sheet in mm
BOLOGNA_SHEETS: MappingProxyType[str, tuple[float, float]] = MappingProxyType(
    {
        "imperiale": (740.0, 500.0),
        "realle": (615.0, 445.0),
        "meçane": (515.0, 345.0),
        "reçute": (450.0, 315.0),
    }
)


class Folding(NamedTuple):
    """How a sheet becomes leaves: which side is divided by what for height and width, and what they show."""

    height_of: str
    height_parts: int
    width_of: str
    width_parts: int
    chain_lines: str
    watermark: str


FOLDINGS: MappingProxyType[str, Folding] = MappingProxyType(
    {
        "folio": Folding("short", 1, "long", 2, "vertical", "the middle of the leaf"),
        "quarto": Folding("long", 2, "short", 2, "horizontal", "the middle of the spine fold"),
        "octavo": Folding("short", 2, "long", 4, "vertical", "the head of the spine fold"),
        "duodecimo": Folding("long", 3, "short", 4, "horizontal", "the fore-edge"),
    }
)


@dataclass(frozen=True)
class LeafOfSheet:
    """The untrimmed leaf a sheet gives in a format, in mm, the direction of its chain lines and its mark."""

    format: str
    sheet: str
    height: float
    width: float
    chain_lines: str
    watermark: str


@dataclass(frozen=True)
class FormatProposed:
    """A format a leaf may be of: the leaf it would be cut from, what speaks for it and what against."""

    leaf: LeafOfSheet
    speaks_for: tuple[str, ...]
    speaks_against: tuple[str, ...]

    @property
    def strength(self) -> str:
        """Say how far the evidence goes: `points to`, `fits` or `speaks against`."""
        if self.speaks_against:
            return "speaks-against"
        return "points-to" if len(self.speaks_for) > 1 else "fits"


def leaves_of_sheet(sheet: str, long_mm: float, short_mm: float) -> tuple[LeafOfSheet, ...]:
    """Give the untrimmed leaf of each format from a sheet of these sides in mm.

    >>> [(leaf.format, leaf.height, leaf.width) for leaf in leaves_of_sheet("reçute", 450, 315)][:2]
    [('folio', 315.0, 225.0), ('quarto', 225.0, 157.5)]
    """
    sides = {"long": float(long_mm), "short": float(short_mm)}
    return tuple(
        LeafOfSheet(
            format=name,
            sheet=sheet,
            height=sides[fold.height_of] / fold.height_parts,
            width=sides[fold.width_of] / fold.width_parts,
            chain_lines=fold.chain_lines,
            watermark=fold.watermark,
        )
        for name, fold in FOLDINGS.items()
    )


def formats_proposed(
    height: float, width: float, chain_lines: str | None = None
) -> tuple[FormatProposed, ...]:
    """Propose formats for a leaf of this height and width in mm, those that the most speaks for first.

    `chain_lines` are vertical or horizontal on the leaf as one reads it. A leaf is never larger than the
    sheet gave, within 15 mm, and seldom trimmed by more than 15 in 100 of either side. A format that only the
    chain lines speak against is still told, because there are exceptions; one of the wrong size is not.
    """
    leaves = (
        leaf for name, (long, short) in BOLOGNA_SHEETS.items() for leaf in leaves_of_sheet(name, long, short)
    )
    sized = [leaf for leaf in leaves if _can_be(height, leaf.height) and _can_be(width, leaf.width)]
    proposed = [_proposed(leaf, height, width, chain_lines) for leaf in sized]
    return tuple(
        sorted(proposed, key=lambda one: (len(one.speaks_against), _cut_away(one.leaf, height, width)))
    )


def _can_be(measured: float, untrimmed: float) -> bool:
    return untrimmed * (1 - TRIMMED_SHARE) - TOLERANCE_MM <= measured <= untrimmed + TOLERANCE_MM


def _cut_away(leaf: LeafOfSheet, height: float, width: float) -> float:
    return abs(leaf.height - height) + abs(leaf.width - width)


def _proposed(leaf: LeafOfSheet, height: float, width: float, chain_lines: str | None) -> FormatProposed:
    size = (
        f"{height:.0f} x {width:.0f} mm is what trimming leaves of {leaf.format} on a sheet {leaf.sheet} "
        f"({leaf.height:.0f} x {leaf.width:.0f} mm)"
    )
    if chain_lines is None:
        return FormatProposed(leaf, (size,), ())
    run = f"chain lines run {leaf.chain_lines} in {leaf.format}"
    if chain_lines == leaf.chain_lines:
        return FormatProposed(leaf, (size, run), ())
    return FormatProposed(leaf, (size,), (f"{run} as a rule, here they run {chain_lines}",))
