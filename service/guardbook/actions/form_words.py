"""What a form says while one types: how a text is read, and which records could be meant."""

from __future__ import annotations

from typing import Any

from guardbook.actions.form_meanings import understood
from guardbook.actions.form_parts import Choice
from guardbook.actions.form_suggestions import suggestions
from guardbook.actions.named_records import NamedRecords
from guardbook.catalogue.access import Access
from guardbook.errors import NotFound
from guardbook.intake import lists
from guardbook.intake.drafts import Findings, Mention
from guardbook.intake.form_records import FOLDS, HOLES
from guardbook.intake.form_values import read_texts
from guardbook.records.fields import all_models, fields_of
from guardbook.records.kinds import KINDS
from guardbook.records.values import Reference
from guardbook.wording import _, ngettext


def understood_as(access: Access, model: str, field: str, text: str) -> dict[str, str]:
    """Say how the text of a field is read: `understood`, or what was `expected` where it cannot be read.

    `doubt` tells of a second reading. Raises NotFound for a field that there is not.
    """
    if field in {HOLES, FOLDS}:
        return _listed(field, text)
    found = next((one for one in all_models() if one.__name__ == model), None)
    path = next((path for path in fields_of(found) if path.json_name == field), None) if found else None
    if found is None or path is None or path.part:
        raise NotFound(
            message=_("There is no field {field} of {model} to type into.").format(
                field=repr(field), model=repr(model)
            )
        )
    findings = Findings()
    value = read_texts((text,), found, path, field, findings)
    if faults := [fault for fault in findings.faults if not fault.doubt]:
        return {"expected": f"{faults[0].expected}. {faults[0].mend}".strip()}
    named = NamedRecords(access)
    told = {"understood": understood(named, found, path, (text,))}
    if isinstance(path.marker, Reference) and isinstance(value, Mention):
        try:
            named.meant(value.text, path.marker.kinds)
        except ValueError as refusal:
            told["expected"] = str(refusal)
    if findings.faults:
        told["doubt"] = findings.faults[0].expected
    return told


def _listed(field: str, text: str) -> dict[str, str]:
    if not text.strip():
        return {"understood": ""}
    try:
        parts = (lists.folds(text) if field == FOLDS else lists.holes(text, "sewing-hole")).parts
    except ValueError as refusal:
        return {"expected": str(refusal)}
    if field == FOLDS:
        return {"understood": ngettext("{count} fold", "{count} folds", len(parts)).format(count=len(parts))}
    rows = len({part["inSeries"] for part in parts})
    holes = ngettext("{count} hole", "{count} holes", len(parts)).format(count=len(parts))
    in_rows = ngettext("in {count} series", "in {count} series", rows).format(count=rows)
    return {"understood": _("{holes}, {in_rows}").format(holes=holes, in_rows=in_rows)}


def suggested_for(access: Access, kinds: str, words: str) -> tuple[Choice, ...]:
    """Give records of some kinds, joined by hyphens, found by words. Raises NotFound for an unknown kind."""
    wanted: list[Any] = kinds.split("-")
    if unknown := [kind for kind in wanted if kind not in KINDS]:
        raise NotFound(
            message=_("There is no kind of record {kind}. The kinds are: {kinds}.").format(
                kind=repr(unknown[0]), kinds=", ".join(KINDS)
            )
        )
    return suggestions(access, wanted, words)
