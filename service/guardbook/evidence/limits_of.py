"""How early and how late something may have been, with the statements that set each limit."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from guardbook.evidence.days import day_at, day_number, from_words, until_words
from guardbook.evidence.network import Bound
from guardbook.evidence.said import Said
from guardbook.evidence.statements import Statement
from guardbook.evidence.times import Times, times_of
from guardbook.records.dates import Day
from guardbook.wording import _

NOT_BEFORE, NOT_AFTER = "not before", "not after"


@dataclass(frozen=True, kw_only=True)
class Limit:
    """Not before, or not after, a day, and why.

    `proved` says that it follows from other statements than the date that is stated for the thing itself.
    """

    side: str
    day: Day
    because: tuple[Statement, ...]
    proved: bool

    @property
    def date(self) -> str:
        """Give the day, no finer than it says."""
        return from_words(self.day) if self.is_early else until_words(self.day)

    @property
    def says_little(self) -> bool:
        """Say whether it is only the age of a piece that was put in, which may be much older than its use."""
        return any(one.says_little for one in self.because[:-1])

    @property
    def is_early(self) -> bool:
        """Say whether it is the early side that it bounds."""
        return self.side == NOT_BEFORE

    def heading(self) -> str:
        """Tell the bound alone."""
        if self.says_little:
            told = _("After the pieces in it were made, {date} or later")
        else:
            told = _("Not before {date}") if self.is_early else _("Not after {date}")
        return told.format(date=self.date)

    def words(self) -> str:
        """Tell it in one sentence that can be checked."""
        because = self.because_words()
        if not self.proved:
            because = _("only the record's own date says so: {because}").format(because=because)
        return f"{self.heading()}: {because}."

    def because_words(self) -> str:
        """Tell the statements, without those that go without saying."""
        told = [one.words for one in self.because if not one.silent] or [one.words for one in self.because]
        if self.says_little:
            told.append(_("waste is as a rule older than its use, often by centuries, so this says little"))
        return "; ".join(told)

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            "side": self.side,
            "date": self.date,
            "proved": self.proved,
            "saysLittle": self.says_little,
            "because": [one.as_json() for one in self.because],
            "words": self.words(),
        }


@dataclass(frozen=True)
class Limits:
    """The limits of one time: on each side what is proved, then what is only stated, if it is narrower."""

    not_before: tuple[Limit, ...]
    not_after: tuple[Limit, ...]

    @property
    def earliest(self) -> Limit | None:
        """Give the narrowest limit on the early side."""
        return self.not_before[-1] if self.not_before else None

    @property
    def latest(self) -> Limit | None:
        """Give the narrowest limit on the late side."""
        return self.not_after[-1] if self.not_after else None

    def proved(self) -> tuple[Day | None, Day | None]:
        """Give the days that are proved, None where none is."""
        sides = (self.not_before, self.not_after)
        early, late = (next((one.day for one in side if one.proved), None) for side in sides)
        return early, late

    def __iter__(self) -> Iterator[Limit]:
        return iter((*self.not_before, *self.not_after))

    @property
    def days(self) -> int | None:
        """Give how many days the narrowest limits leave, None where a side is open."""
        if self.earliest is None or self.latest is None:
            return None
        return day_number(self.latest.day) - day_number(self.earliest.day) + 1

    @property
    def is_one(self) -> bool:
        """Say whether both sides rest on the same, and are told in one sentence."""
        limits = tuple(self)
        return len(limits) == 2 and limits[0].because == limits[1].because

    def sentences(self) -> list[str]:
        """Give a sentence for each limit; two that rest on the same are told in one."""
        limits = tuple(self)
        if self.is_one:
            return [f"{self.span_words()}: {limits[0].because_words()}."]
        return [limit.words() for limit in limits]

    def agreement(self) -> str:
        """Say within which dates all else that is said leaves it."""
        bounds = self.proved_words()
        if not bounds:
            return _("Nothing else bounds it.")
        return _("All else that is said agrees: {bounds}.").format(bounds=bounds)

    def proved_words(self) -> str:
        """Say what is proved, on both sides or one; nothing where nothing is."""
        early, late = (
            next((one for one in side if one.proved), None) for side in (self.not_before, self.not_after)
        )
        if early and early.says_little:
            return _only_after_its_pieces(early.date, late.date if late else None)
        first, last = (one.date if one else None for one in (early, late))
        return _both(first, last, _("not before {first} and not after {last}"))

    def span_words(self) -> str:
        """Say both sides in short: `1711 to 1713`."""
        if self.earliest and self.latest and self.earliest.day == self.latest.day:
            return "-".join(f"{part:02}" for part in self.earliest.day)
        if self.earliest and self.earliest.says_little:
            return _only_after_its_pieces(self.earliest.date, self.latest.date if self.latest else None)
        early, late = (one.date if one else None for one in (self.earliest, self.latest))
        if early and early == late:
            return early
        return _both(early, late, _("{first} to {last}")) or _("not bounded")


def _only_after_its_pieces(made: str, late: str | None) -> str:
    """Say that only the age of its pieces bounds something on the early side, which says little."""
    if late:
        return _("not after {last}; on the early side only after the pieces in it were made, {first}").format(
            first=made, last=late
        )
    return _("dated by nothing but the pieces in it, made {date} or later").format(date=made)


def _both(early: str | None, late: str | None, both: str) -> str:
    if early and late:
        return both.format(first=early, last=late)
    if early:
        return _("not before {date}").format(date=early)
    return _("not after {date}").format(date=late) if late else ""


def limits_of(said: Said, times: Times, event: str, own: Iterable[str]) -> Limits:
    """Give the limits of a time; `own` are the statements that only repeat what is to be proved."""
    own = [key for key in own if key in times.network.statements]
    rest = times_of(times.network.without(own)) if own else times
    if rest is None:
        return Limits((), ())
    return Limits(
        _side(
            said,
            NOT_BEFORE,
            (rest.earliest(event), rest.why_earliest(event)),
            (times.earliest(event), times.why_earliest(event)),
        ),
        _side(
            said,
            NOT_AFTER,
            (rest.latest(event), rest.why_latest(event)),
            (times.latest(event), times.why_latest(event)),
        ),
    )


Found = tuple[int | None, tuple[Bound, ...]]


def _side(said: Said, side: str, proved: Found, stated: Found) -> tuple[Limit, ...]:
    limits = [_limit(said, side, proved, proved=True)] if proved[0] is not None else []
    if stated[0] is not None:
        narrower = _limit(said, side, stated, proved=False)
        if not limits or narrower.day != limits[0].day:
            limits.append(narrower)
    return tuple(limits)


def _limit(said: Said, side: str, found: Found, *, proved: bool) -> Limit:
    time, bounds = found
    keys = dict.fromkeys(bound.statement for bound in bounds)
    # told from the date to the thing; statements that say the same twice are told once
    because = {said.statements[key].words: said.statements[key] for key in keys}
    return Limit(side=side, day=day_at(time or 0), because=tuple(because.values()), proved=proved)
