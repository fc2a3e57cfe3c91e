"""What stands between a piece in its place and its removal: what is not recorded, decided or consented to.

It holds nobody up: a conservator can go ahead, and the reason is kept with the removal.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from guardbook.binding.contradictions import event_words, sentence
from guardbook.binding.dossier import Dossier
from guardbook.binding.ordering import is_planned
from guardbook.completeness.finding import VIOLATION
from guardbook.completeness.outcome import Missing
from guardbook.completeness.report import Report
from guardbook.evidence.examinations import Examination, Examinations
from guardbook.evidence.situations import quoted, short
from guardbook.records.date_words import date_words
from guardbook.records.decision import Decision
from guardbook.records.fragment import Fragment
from guardbook.records.separation import Separation
from guardbook.wording import _, language, ngettext

_PRESSING = ("only-now", "limited-after")


@dataclass(frozen=True, kw_only=True)
class Gate:
    """A piece before its removal; `removal` is None where none is planned or recorded.

    `report` tells what the stage before lifting asks for, `consent` in sentences who consented to what,
    `others` are further planned removals of the same piece.
    """

    piece: Fragment
    removal: Separation | None
    others: tuple[Separation, ...]
    report: Report
    examinations: Examinations | None
    consent: tuple[str, ...]

    @property
    def is_planned(self) -> bool:
        """Say whether a removal is planned and has not been made."""
        return self.removal is not None and is_planned(self.removal)

    @property
    def name(self) -> str:
        """Say what is to be lifted, and by which removal."""
        piece = quoted(self.piece.display_title)
        if self.removal is None:
            return _("{piece}: no removal is planned").format(piece=piece)
        told = _("Before lifting {piece}: {event}") if self.is_planned else _("{piece} was lifted: {event}")
        return told.format(piece=piece, event=event_words(self.removal))

    @property
    def heading(self) -> str:
        """Name the piece, and say whether it is still to be lifted."""
        piece = quoted(self.piece.display_title)
        if self.removal is not None and not self.is_planned:
            return _("{piece} was lifted").format(piece=piece)
        return _("Before lifting {piece}").format(piece=piece)

    @property
    def never_again(self) -> tuple[Missing, ...]:
        """Give what is missing and cannot be got later."""
        return tuple(item for item in self.report.missing if not item.later)

    @property
    def still_later(self) -> tuple[Missing, ...]:
        """Give what is missing and can still be got later."""
        return tuple(item for item in self.report.missing if item.later)

    @property
    def ending(self) -> tuple[Examination, ...]:
        """Give the examinations that end when it goes back or its place is covered, if not decided on."""
        found = self.examinations.examinations if self.examinations else ()
        return tuple(one for one in found if one.state in _PRESSING)

    @property
    def cautions(self) -> tuple[str, ...]:
        """Give the cautions for the removal, with why each is shown; of the record alone if there is none."""
        return self.examinations.cautions if self.examinations else self.report.cautions

    @property
    def left_open(self) -> tuple[str, ...]:
        """Name, one by one, what would be gone ahead without."""
        return tuple(dict.fromkeys((*self._not_recorded(), *self._not_decided())))

    def _not_recorded(self) -> Iterator[str]:
        for item in self.report.missing:
            if item.severity == VIOLATION:
                label = item.labels.get(language()) or item.label
                told = _(item.message)
                yield f"{label} [{short(item.record)}]: {told}" if label else f"{told} [{short(item.record)}]"

    def _not_decided(self) -> Iterator[str]:
        if self.removal is None or self.removal.examinations_note:
            return
        for one in self.ending:
            if one.state == "only-now":
                yield _("Not decided on: {examination}.").format(examination=one.row.label)

    def words(self) -> str:
        """Tell it in plain sentences, what can never be got again first."""
        return "\n".join(self._lines())

    def _lines(self) -> Iterator[str]:
        yield self.name
        yield from _listed(_("Cannot be recorded later:"), map(_item, self.never_again))
        yield from _listed(_("Not recorded yet:"), map(_item, self.still_later))
        ending = (one.words for one in self.ending)
        yield from _listed(_("Ends when the piece goes back, or its place is covered:"), ending)
        yield from _listed(_("Consent:"), self.consent)
        yield from _listed(_("To mind (none of it replaces training):"), self.cautions)
        yield self.standing()

    def standing(self) -> str:
        """Say whether it can go ahead as it is, needs a reason, or has been made."""
        if self.removal is None:
            return _("No removal is planned. Plan one, so that consent, reason and condition have a place.")
        if not self.is_planned:
            return self._gone_ahead()
        count = len(self.left_open)
        if not count:
            return _("All that this stage asks for is there.")
        return ngettext(
            "{count} thing is open. Going ahead needs a reason, which is kept.",
            "{count} things are open. Going ahead needs a reason, which is kept.",
            count,
        ).format(count=count)

    def _gone_ahead(self) -> str:
        because = self.removal.went_ahead_because if self.removal else None
        if not because:
            return _("It has been lifted.")
        return _("It has been lifted, though not everything was recorded: {reason}").format(reason=because)

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            "piece": self.piece.id,
            "removal": self.removal.id if self.removal else None,
            "planned": self.is_planned,
            "others": [one.id for one in self.others],
            "report": self.report.as_json(),
            "examinations": self.examinations.as_json() if self.examinations else None,
            "consent": list(self.consent),
            "leftOpen": list(self.left_open),
            "cautions": list(self.cautions),
            "words": self.words(),
        }


def _listed(heading: str, items: Iterable[str]) -> Iterator[str]:
    lines = [f"  {item}" for item in items]
    if lines:
        yield heading
        yield from lines


def _item(item: Missing) -> str:
    label = item.labels.get(language()) or item.label
    named = f"{label} [{short(item.record)}]" if label else f"[{short(item.record)}]"
    return f"{named}: {_(item.message)} {_(item.how) if item.how else ''}".rstrip()


def consents(dossier: Dossier, removal: Separation | None, piece: str) -> Iterator[str]:
    """Tell who consented to a removal, on what authority, and in which decisions about the piece."""
    if removal is not None:
        yield _consent(dossier, removal.consent_by, removal.consent_when, removal.short)
        if removal.authority:
            yield _("Authority: {authority}").format(authority=removal.authority)
    for record in dossier.records.values():
        if isinstance(record, Decision) and piece in record.about:
            yield sentence(
                _("in the decision {title}: {consent}").format(
                    title=quoted(record.display_title),
                    consent=_consent(dossier, record.consent_by, record.consent_when, record.short),
                )
            )


def _consent(dossier: Dossier, by: str | None, when: str | None, record: str) -> str:
    if by is None:
        return _("No consent is recorded [{record}].").format(record=record)
    name = dossier.name(by)
    if not when:
        return _("Consent given by {name}, without a date [{record}].").format(name=name, record=record)
    return _("Consent given by {name}, {date} [{record}].").format(
        name=name, date=date_words(when), record=record
    )
