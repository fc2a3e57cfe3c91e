"""Make labels for the envelopes and folders of pieces, and for the boxes of volumes."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from guardbook.actions.export_records import surroundings
from guardbook.actions.speaking_in import speaking_in
from guardbook.catalogue.access import Access
from guardbook.errors import WrongUse
from guardbook.exports.paper.label import KINDS, Label, label_of, newest, set_labels
from guardbook.exports.paper.label_sheet import sheet_called
from guardbook.records.base import Record
from guardbook.wording import _, language

# one request is to be answered while somebody waits
MOST_LABELS = 2000


def labels_of(access: Access, names: Sequence[str]) -> tuple[Label, ...]:
    """Give what stands on the labels of records, in the language now spoken, each once.

    Raises NotFound, Gone, and WrongUse for no names, too many, or a record that is neither piece nor volume.
    """
    around = surroundings(access, language())
    return tuple(label_of(record, around) for record in _records(access, names))


def make_labels(
    access: Access, names: Sequence[str], on: str = "label", *, in_language: str | None = None, **changes: Any
) -> bytes:
    """Make labels as PDF: `on` is `label` for a page each, or the paper of a sheet, `a4` or `letter`.

    `changes` are fields of LabelSheet that differ from the usual sheet, such as `start`. Raises as
    `labels_of`, and WrongUse with all that is wrong with the sheet.
    """
    sheet = sheet_called(on, **changes)
    with speaking_in(in_language):
        when = newest(_records(access, names), surroundings(access))
        return set_labels(labels_of(access, names), sheet, when)


def _records(access: Access, names: Sequence[str]) -> list[Record]:
    iris = dict.fromkeys(access.resolve(name) for name in names)
    if not 0 < len(iris) <= MOST_LABELS:
        raise WrongUse(
            message=_("Name 1 to {most} records to print labels of, not {count}.").format(
                most=MOST_LABELS, count=len(iris)
            )
        )
    found = [access.record(iri).record for iri in iris]
    others = [record.short for record in found if record.kind not in KINDS]
    if others:
        raise WrongUse(
            message=_("Labels are of pieces and volumes; {records} is neither.").format(
                records=", ".join(others)
            )
        )
    return found
