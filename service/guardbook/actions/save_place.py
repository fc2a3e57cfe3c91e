"""Save where a piece lies in a volume, from the inputs of a form, with the holes and folds seen on it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from guardbook.actions.merge_record import starting_point
from guardbook.actions.place_in_hand import PlaceInHand
from guardbook.actions.save_records import save_records
from guardbook.catalogue.access import Access, Revision
from guardbook.errors import Fault, InvalidRecord, raise_faults
from guardbook.intake.drafts import Findings
from guardbook.intake.form_records import FOLDS, HOLES, Document, FormReader
from guardbook.intake.form_texts import Texts, one_text
from guardbook.records.base import Record
from guardbook.records.documents import from_document, to_document
from guardbook.records.fragment import Fragment
from guardbook.records.identifiers import new_identifier
from guardbook.records.placing import Placing

PLACING, PIECE, STAGE = "placing", "fragment", "stage"
# the identifier that a new placing will have, so that one that is sent twice is made once
NEW = "new"
NOT_SAVED = "Nothing was saved; all that you typed is still here."
_ROW = re.compile(r"\[(\d+)\]")


def save_place(
    access: Access,
    in_hand: PlaceInHand,
    texts: Texts,
    *,
    started_from: int | None,
    piece_started_from: int,
    who: str,
    what_for: str,
    sure: bool = False,
) -> Revision:
    """Save a placing from inputs called `placing.positions.0.x`; give its newest revision.

    Holes and folds listed under `fragment` are added to the piece in the same save. What the form does not
    show stays as it is. Raises InvalidRecord and Doubtful, their faults under the names of the inputs where
    they have one, and as `save_records`.
    """
    findings = Findings()
    reader = FormReader(texts, findings)
    placing = reader.read(Placing, PLACING, _base(access, in_hand, started_from, one_text(texts, NEW)))
    if stage := one_text(texts, STAGE):
        placing[STAGE] = stage
    documents: list[tuple[Document, int | None]] = [(placing, started_from)]
    if _lists_traces(texts):
        kept = starting_point(access, in_hand.piece.id, piece_started_from)
        piece = reader.read(Fragment, PIECE, to_document(kept.record))
        documents.append((piece, piece_started_from))
    records = [(_record(document, findings, reader.rows), revision) for document, revision in documents]
    raise_faults(findings.faults, NOT_SAVED, sure=sure)
    whole = [(record, revision) for record, revision in records if record is not None]
    return save_records(access, whole, who=who, what_for=what_for, sure=sure)[0]


def _base(access: Access, in_hand: PlaceInHand, started_from: int | None, new: str) -> Mapping[str, Any]:
    if in_hand.placing is not None and not new:
        return to_document(starting_point(access, in_hand.placing.id, started_from).record)
    return {
        "id": new or f"{PLACING}/{new_identifier()}",
        "type": "Placing",
        "piece": in_hand.piece.id,
        "host": in_hand.host.id,
    }


def _lists_traces(texts: Texts) -> bool:
    own = (f"{PIECE}.{HOLES}", f"{PIECE}.{FOLDS}")
    return any(
        name.startswith(own) and not name.endswith(".kind") and one_text(texts, name) for name in texts
    )


def _record(document: Document, findings: Findings, rows: Mapping[str, list[int]]) -> Record | None:
    """Make the record, or none where it is not right: what is wrong with it joins what else was found."""
    try:
        return from_document(document)
    except InvalidRecord as error:
        role = PLACING if document["type"] == Placing.__name__ else PIECE
        findings.faults += [_at_its_input(fault, role, rows) for fault in error.faults]
        return None


def _at_its_input(fault: Fault, role: str, rows: Mapping[str, list[int]]) -> Fault:
    """Call the place of a fault as its input is called: `positions[0].x` is `placing.positions.0.x`."""
    name = f"{role}." + _ROW.sub(r".\1", fault.where)
    for parts, numbers in rows.items():
        found = re.match(rf"{re.escape(parts)}\.(\d+)(\..*)?$", name)
        if found and int(found[1]) < len(numbers):
            return replace(fault, where=f"{parts}.{numbers[int(found[1])]}{found[2] or ''}")
    return replace(fault, where=name)
