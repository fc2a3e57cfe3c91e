"""What was done, step by step: what removals share is told once, of pieces treated alike what differs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from guardbook.exports.paper.blocks import Block, Heading, facts, table
from guardbook.exports.paper.event_rows import event_rows, object_name, object_of, what_was_done
from guardbook.exports.paper.matter import Matter
from guardbook.exports.paper.said import date_said, label_of
from guardbook.records.event import Event
from guardbook.records.separation import Separation
from guardbook.wording import _

# more columns than this beside that of the pieces cannot be read
_MOST_COLUMNS = 4


@dataclass(frozen=True, kw_only=True)
class Step:
    """One event as it is told: when, to which piece, what was done, and what is told of it by label."""

    when: str
    piece: str
    what: str
    rows: Mapping[str, str]
    is_removal: bool

    @property
    def alike(self) -> tuple[object, ...]:
        """Give what is the same for events told together: for removals day, reason and method."""
        if not self.is_removal:
            return self.when, self.what, tuple(self.rows.items())
        named = (label_of("Separation", name) for name in ("by", "reason", "methods", "methodNote"))
        return self.when, *(self.rows.get(label) for label in named)


def steps(matter: Matter, events: Sequence[Event], *, apart: bool = False) -> list[Block]:
    """Tell events in order; where each is to be weighed by itself, they are told `apart`."""
    told = [_step(matter, event) for event in events]
    if apart:
        return [block for step in told for block in _together([step])]
    shared = _shared(told)
    groups: dict[tuple[object, ...], list[Step]] = {}
    for step in told:
        groups.setdefault(step.alike, []).append(_without(step, shared))
    return [*_shared_blocks(shared), *(block for group in groups.values() for block in _together(group))]


def _step(matter: Matter, event: Event) -> Step:
    return Step(
        when=date_said(event.when) or _("Without a date"),
        piece=object_name(matter, object_of(event)),
        what=what_was_done(event),
        rows={label: value for label, value in event_rows(matter, event) if value},
        is_removal=isinstance(event, Separation),
    )


def _shared(told: Iterable[Step]) -> dict[str, str]:
    """Give by whom, on what authority and with whose consent most of several removals were made."""
    removals = [step.rows for step in told if step.is_removal]
    found = {}
    for label in (label_of("Separation", "by"), label_of("Separation", "authority"), _("Consent")):
        for value, count in Counter(rows.get(label, "") for rows in removals).most_common(1):
            if value and count > 1 and count > len(removals) / 2:
                found[label] = value
    return found


def _shared_blocks(shared: Mapping[str, str]) -> tuple[Block, ...]:
    if not shared:
        return ()
    return (Heading(_("For every removal, unless said otherwise"), 2), *facts(shared.items()))


def _without(step: Step, shared: Mapping[str, str]) -> Step:
    """Leave out what is told of all removals; what one of them does not record is said to be so."""
    if not step.is_removal:
        return step
    wanting = {label: _("not recorded") for label in shared if label not in step.rows}
    own = {label: value for label, value in step.rows.items() if shared.get(label) != value}
    return replace(step, rows={**wanting, **own})


def _together(group: Sequence[Step]) -> Iterator[Block]:
    """Tell events that are alike as one step, and what differs between them in a table."""
    labels = list(dict.fromkeys(label for step in group for label in step.rows))
    same = {label: value for label in labels if (value := _of_all(group, label)) is not None}
    differing = [label for label in labels if label not in same]
    kinds = list(dict.fromkeys(step.what for step in group))
    if len(differing) + (len(kinds) > 1) > _MOST_COLUMNS:
        yield from (block for step in group for block in _together([step]))
        return
    pieces = list(dict.fromkeys(step.piece for step in group))
    # where a table names the pieces, the heading only counts them
    called = _("{count} pieces").format(count=len(pieces)) if differing else "; ".join(pieces)
    told = _("{piece}: {what}").format(piece=called, what=", ".join(kinds))
    yield Heading(f"{group[0].when} – {told}", 2)
    yield from facts(same.items())
    if differing:
        yield from _differences(group, differing, with_kind=len(kinds) > 1)


def _of_all(group: Sequence[Step], label: str) -> str | None:
    """Give what is told of all under a label, or None where it differs."""
    values = {step.rows.get(label) for step in group}
    return values.pop() if len(values) == 1 else None


def _differences(group: Sequence[Step], labels: Sequence[str], *, with_kind: bool) -> tuple[Block, ...]:
    rows = [
        (step.piece, step.what if with_kind else "", *(step.rows.get(label, "") for label in labels))
        for step in group
    ]
    head = (_("Piece"), _("What was done"), *labels)
    return table(head, rows, (2.6, 2.0, *(2.4 for _label in labels)))
