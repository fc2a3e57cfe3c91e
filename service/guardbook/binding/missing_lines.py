"""How many lines are missing between two pieces of one leaf, by three methods, each with its uncertainty.

By number: the lines of both pieces are numbered on the leaf, so the lines between are counted. This is as
good as the numbers.

By pitch: the gap between the two outlines holds gap / pitch lines. The last line above and the first below
may each lie up to one pitch from the edge of its piece, so it is that number give or take one; the spread of
the pitches measured on the pieces is added.

By text, where the text of the leaf is known: the letters between the last line found above and the first
found below, divided by the letters of a line. The letters of a line are counted on the pieces themselves,
from where a line begins in the text to where the next begins (mean m and standard deviation s of k lines;
several pieces of the same line count once). For N letters the distance is L = N / m lines, of which one leads
to the next line and is not missing. Its variance is

    L s^2 / m^2  (lines are not alike)  +  L^2 s^2 / (k m^2)  (the mean is known from k lines only)  +  v

with v = 1/6 where it is not known how far along their lines the two pieces begin (the difference of two
places that may be anywhere in a line), and 0 where their places on the leaf say it. The range given is that
of Student's t for k - 1 degrees of freedom, 95 in 100. It takes lines to differ by chance: headings, initials
and paragraphs left out of the known text are not in it. With a single line no range can be given.

Source: propagation of variance as in any textbook of statistics; its use for lines of script is common
practice, no published source.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import fmean, stdev

from guardbook.binding.leaf_parts import LeafPiece, LineCount, MissingLines
from guardbook.binding.surviving_lines import SurvivingLine
from guardbook.wording import _, decimal, ngettext

# Student's t, two-sided 95 in 100, by degrees of freedom (standard tables; between rows the row above holds)
_T_95 = {1: 12.706, 2: 4.303, 3: 3.182, 4: 2.776, 5: 2.571, 6: 2.447, 7: 2.365, 8: 2.306, 9: 2.262, 10: 2.228}
_T_95 |= {12: 2.179, 15: 2.131, 20: 2.086, 30: 2.042, 60: 2.000, 120: 1.980}
# the part of the narrower of two pieces that must lie over the other for the one to be above it
ABOVE_SHARE = 0.25
TOUCHING_MM = 2.0


@dataclass(frozen=True)
class Written:
    """A piece on its leaf with its lines as found in the known text.

    `left_in_lines` is how far right its left edge lies, in written widths; None where that is not known.
    """

    piece: LeafPiece
    lines: tuple[SurvivingLine, ...]
    left_in_lines: float | None = None


@dataclass(frozen=True)
class LineLengths:
    """The letters of a line, counted on the pieces: mean, standard deviation (None for one), how many."""

    mean: float
    spread: float | None
    count: int


def missing_lines(pieces: Sequence[Written], pitches: Sequence[float]) -> tuple[MissingLines, ...]:
    """Estimate the missing lines between each piece and the next below it, by all methods there are data for.

    `pitches` are the line pitches measured on the leaf, in mm.
    """
    lengths = line_lengths(pieces)
    pairs = ((above, below) for above in pieces if (below := _next_below(above, pieces)))
    found = (_between(above, below, pitches, lengths) for above, below in pairs)
    return tuple(one for one in found if one.counts)


def line_lengths(pieces: Iterable[Written]) -> LineLengths | None:
    """Count the letters from the beginning of a line to that of the next, where both were found."""
    by_line: dict[tuple[str, int], list[float]] = defaultdict(list)
    for written in pieces:
        numbered = "" if written.piece.first_line is not None else written.piece.piece
        found = [(line.number, line.starts_at) for line in written.lines if line.starts_at is not None]
        for (number, start), (following, end) in pairwise(found):
            if following > number:
                by_line[numbered, number].append((end - start) / (following - number))
    counts = [fmean(found) for found in by_line.values()]
    if not counts:
        return None
    return LineLengths(fmean(counts), stdev(counts) if len(counts) > 1 else None, len(counts))


def _next_below(above: Written, pieces: Iterable[Written]) -> Written | None:
    """Give the nearest piece of the same side that lies below, by place, else by the numbers of the lines."""
    gaps = [
        (gap, other.piece.piece, other)
        for other in pieces
        if other.piece.piece != above.piece.piece and (gap := _gap(above.piece, other.piece)) is not None
    ]
    return min(gaps, key=lambda one: one[:2])[2] if gaps else None


def _gap(above: LeafPiece, below: LeafPiece) -> float | None:
    if above.leaf_side != below.leaf_side:
        return None
    if above.outline is None or below.outline is None:
        if above.last_line is None or below.first_line is None or below.first_line <= above.last_line:
            return None
        return float(below.first_line - above.last_line)
    left, bottom, right, _ = above.outline.bounds
    other_left, _, other_right, other_top = below.outline.bounds
    shared = min(right, other_right) - max(left, other_left)
    narrower = min(right - left, other_right - other_left)
    gap = bottom - other_top
    return gap if gap >= -TOUCHING_MM and shared >= ABOVE_SHARE * narrower else None


def _between(
    above: Written, below: Written, pitches: Sequence[float], lengths: LineLengths | None
) -> MissingLines:
    counts = (
        *_by_number(above.piece, below.piece),
        *_by_pitch(above.piece, below.piece, pitches),
        *_by_text(above, below, lengths),
    )
    agree = _agree(counts)
    told = " ".join(count.words for count in counts)
    if agree is not None:
        verdict = _("The methods agree.") if agree else _("The methods do not agree: look again.")
        told = f"{told} {verdict}"
    return MissingLines(
        above=above.piece.piece,
        below=below.piece.piece,
        counts=counts,
        agree=agree,
        words=_("Between {piece} and {other}: {told}").format(
            piece=above.piece.name, other=below.piece.name, told=told
        ),
    )


def _agree(counts: Sequence[LineCount]) -> bool | None:
    """Say whether the ranges of all methods overlap as they are told; None where fewer than two have one."""
    ranged = [(count.low, count.high) for count in counts if count.low is not None and count.high is not None]
    if len(ranged) < 2:
        return None
    return round(max(low for low, _ in ranged), 1) <= round(min(high for _, high in ranged), 1)


def _by_number(above: LeafPiece, below: LeafPiece) -> Iterable[LineCount]:
    if above.last_line is None or below.first_line is None or below.first_line <= above.last_line:
        return
    lines = float(below.first_line - above.last_line - 1)
    words = _lines(int(lines))
    yield LineCount(method="numbers", lines=lines, low=lines, high=lines, words=words)


def _by_pitch(above: LeafPiece, below: LeafPiece, pitches: Sequence[float]) -> Iterable[LineCount]:
    if not pitches or above.outline is None or below.outline is None:
        return
    pitch, spread = fmean(pitches), stdev(pitches) if len(pitches) > 1 else 0.0
    gap = max(0.0, float(above.outline.bounds[1] - below.outline.bounds[3]))
    lines, more = gap / pitch, 1 + gap / pitch * spread / pitch
    low, high = max(0.0, lines - more), lines + more
    words = _(
        "By the gap of {gap} mm and a line pitch of {pitch} mm, about {lines} lines ({low} to {high})."
    ).format(
        gap=decimal(f"{gap:.1f}"),
        pitch=decimal(f"{pitch:.1f}"),
        lines=decimal(f"{lines:.1f}"),
        low=decimal(f"{low:.1f}"),
        high=decimal(f"{high:.1f}"),
    )
    yield LineCount(method="pitch", lines=lines, low=low, high=high, words=words)


def _by_text(above: Written, below: Written, lengths: LineLengths | None) -> Iterable[LineCount]:
    last = next((line for line in reversed(above.lines) if line.starts_at is not None), None)
    first = next((line for line in below.lines if line.starts_at is not None), None)
    if lengths is None or last is None or first is None or last.starts_at is None or first.starts_at is None:
        return
    apart = first.starts_at - last.starts_at
    if apart <= 0:
        return
    # lines that survive but were not found in the text lie between as well
    survive = (above.lines[-1].number - last.number) + (first.number - below.lines[0].number)
    shift = _further_along(above, last, below, first)
    lines = apart / lengths.mean - (shift or 0.0) - 1 - survive
    yield _ranged(lines, apart, lengths, 1 / 6 if shift is None else 0.0)


def _further_along(above: Written, last: SurvivingLine, below: Written, first: SurvivingLine) -> float | None:
    """Say how much further along its line the second begins, in lines; None where that is not known."""
    if last.is_from_start and first.is_from_start:
        return 0.0
    if (
        last.is_from_start
        or first.is_from_start
        or above.left_in_lines is None
        or below.left_in_lines is None
    ):
        return None
    return below.left_in_lines - above.left_in_lines


def _ranged(lines: float, apart: int, lengths: LineLengths, placed: float) -> LineCount:
    told = {"letters": apart, "mean": decimal(f"{lengths.mean:.1f}")}
    if lengths.spread is None:
        about = max(0.0, lines)
        words = _(
            "By the {letters} letters of the text from line to line, at {mean} letters a line, about {lines} "
            "lines; with one line counted, how far that is out cannot be said."
        ).format(lines=decimal(f"{about:.1f}"), **told)
        return LineCount(method="text", lines=about, words=words)
    length, relative = apart / lengths.mean, (lengths.spread / lengths.mean) ** 2
    error = math.sqrt(length * relative + length**2 * relative / lengths.count + placed)
    reach = student_t(lengths.count - 1) * error
    about, low, high = (max(0.0, value) for value in (lines, lines - reach, lines + reach))
    words = _(
        "By the {letters} letters of the text from line to line, at {mean} letters a line (spread {spread}, "
        "from {count} lines), about {lines} lines, 95 in 100 between {low} and {high}."
    ).format(
        spread=decimal(f"{lengths.spread:.1f}"),
        count=lengths.count,
        lines=decimal(f"{about:.1f}"),
        low=decimal(f"{low:.1f}"),
        high=decimal(f"{high:.1f}"),
        **told,
    )
    return LineCount(method="text", lines=about, low=low, high=high, words=words)


def student_t(degrees: int) -> float:
    """Give Student's t, two-sided 95 in 100, for degrees of freedom (1 or more), never too small."""
    return _T_95[max(known for known in _T_95 if known <= degrees)]


def _lines(count: int) -> str:
    if count == 0:
        return _("By their recorded line numbers, no line is missing.")
    return ngettext(
        "By their recorded line numbers, {count} line is missing.",
        "By their recorded line numbers, {count} lines are missing.",
        count,
    ).format(count=count)
