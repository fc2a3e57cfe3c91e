"""What was searched for and not found: only then is a thing that is not recorded not there."""

from __future__ import annotations

from guardbook.records.base import Record
from guardbook.wording import _

NOT_FOUND = "looked-for-not-found"


def none_but_recorded(record: Record | None, asked: str) -> str | None:
    """Give the reason of the answer that no more was found in a field than it holds; None without one.

    `asked` is the JSON name of the field. An answer beside recorded parts is about all others.
    """
    for answer in record.answers if record else ():
        if answer.asked == asked and answer.answer == NOT_FOUND:
            return (answer.reason or _("looked for, not found")).rstrip(".")
    return None


def how_to_answer() -> str:
    """Say how to record that a piece has no other traces, as the end of a sentence."""
    return _("where all of it was looked over, answer “looked for, not found” for its other features.")
