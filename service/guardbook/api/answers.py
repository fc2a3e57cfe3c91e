"""The schemas of what the API answers, by the names that its description uses.

Answers that are plain dataclasses are described from these. The others write their own JSON and are
described by hand here; a test holds each against what is really answered.
"""

from __future__ import annotations

from types import MappingProxyType
from typing import Any

from guardbook.actions.add_files import Added
from guardbook.actions.import_packet import Imported
from guardbook.actions.list_terms import Term, TermList
from guardbook.api.descriptions import SCHEMAS
from guardbook.catalogue.access import Found, Revision
from guardbook.completeness.shape_files import STAGES

Schema = dict[str, Any]

DATACLASSES = MappingProxyType(
    {one.__name__: one for one in (Added, Found, Imported, Revision, Term, TermList)}
)

TEXT: Schema = {"type": "string"}
TEXT_OR_NONE: Schema = {"type": ["string", "null"]}
NUMBER_OR_NONE: Schema = {"type": ["number", "null"]}
WHOLE: Schema = {"type": "integer"}
TRUTH: Schema = {"type": "boolean"}


def _object(description: str, **fields: Schema) -> Schema:
    return {"type": "object", "description": description, "properties": fields, "required": list(fields)}


def _named(name: str) -> Schema:
    return {"$ref": SCHEMAS + name}


def _many(item: Schema) -> Schema:
    return {"type": "array", "items": item}


def _or_none(item: Schema) -> Schema:
    return {"anyOf": [item, {"type": "null"}]}


_FAULT = _object(
    "One thing that is wrong, and how to mend it; `doubt` asks to confirm a value that may be right.",
    where=TEXT,
    found=TEXT,
    expected=TEXT,
    mend=TEXT,
    doubt=TRUTH,
    message=TEXT,
)
_PROBLEM = _object(
    "An error (RFC 9457).",
    type={"type": "string", "format": "uri"},
    title=TEXT,
    status=WHOLE,
    detail=TEXT,
    faults=_many(_named("Fault")),
)
_MISSING = _object(
    "One thing that is missing, why it matters, how to get it, and whether one still can later.",
    record=TEXT,
    about=TEXT,
    field=TEXT_OR_NONE,
    label=TEXT,
    stage=TEXT,
    message=TEXT,
    why=TEXT,
    how=TEXT,
    later=TRUTH,
    accepts=_many(TEXT),
    severity={"enum": ["required", "recommended"]},
)
_ANSWERED = _object(
    "One thing that was looked for and not found, or that cannot be known.",
    record=TEXT,
    field=TEXT,
    label=TEXT,
    stage=TEXT,
    answer=TEXT,
    reason=TEXT,
)
_REPORT = _object(
    "What a check found; `because` says why it was this stage.",
    stage={"enum": list(STAGES)},
    because=TEXT,
    focus=_many(TEXT),
    complete=TRUTH,
    missing=_many(_named("Missing")),
    answered=_many(_named("Answered")),
    cautions=_many(TEXT),
    leftOut=_many(TEXT),
)
_EVENT = _object("An event, by its address.", id=TEXT, kind=TEXT, when=TEXT_OR_NONE, host=TEXT_OR_NONE)
_STAGE = _object("A state of a volume.", number=WHOLE, kind=TEXT, name=TEXT_OR_NONE, when=TEXT_OR_NONE)
_CONTRADICTION = _object(
    "Something that cannot be true as it is recorded.",
    kind=TEXT,
    about=_many(TEXT),
    events=_many(TEXT),
    found=TEXT,
    mend=TEXT,
)
_NEIGHBOUR = _object(
    "A piece that lay near; overlap in mm², gap in mm, `measured` where both were.",
    piece=TEXT,
    name=TEXT,
    relation=TEXT,
    plane=TEXT_OR_NONE,
    layer={"type": ["integer", "null"]},
    overlapMm2=NUMBER_OR_NONE,
    gapMm=NUMBER_OR_NONE,
    measured=TRUTH,
)
_LAY = _object(
    "How a piece lay over some stages: its size then, its positions (mm), its neighbours.",
    stages=_many(_named("StageOfHost")),
    size={"type": "object"},
    saidBy=TEXT_OR_NONE,
    positions=_many({"type": "object"}),
    neighbours=_many(_named("Neighbour")),
)
_STAY_FIELDS: dict[str, Schema] = {
    "host": TEXT,
    "hostName": TEXT,
    "hostShelfmark": TEXT_OR_NONE,
    "fromStage": _or_none(_named("StageOfHost")),
    "toStage": _or_none(_named("StageOfHost")),
    "putBy": _or_none(_named("EventNamed")),
    "takenBy": _or_none(_named("EventNamed")),
    "function": TEXT_OR_NONE,
    "fixings": _many(TEXT),
    "fixingNote": TEXT_OR_NONE,
    "outwardFace": TEXT_OR_NONE,
    "writingAngle": TEXT_OR_NONE,
    "folded": TEXT_OR_NONE,
    "originalToAssembly": TEXT_OR_NONE,
    "evidence": TEXT_OR_NONE,
}
_NOW = _object(
    "Where a piece is today.",
    state=TEXT,
    host=TEXT_OR_NONE,
    hostName=TEXT_OR_NONE,
    hostState=TEXT_OR_NONE,
    keeper=TEXT_OR_NONE,
    keeperName=TEXT_OR_NONE,
    shelfmark=TEXT_OR_NONE,
    housing=TEXT_OR_NONE,
    place=TEXT_OR_NONE,
    boxLocation=TEXT_OR_NONE,
    event=TEXT_OR_NONE,
    when=TEXT_OR_NONE,
)
_TOLD: dict[str, Schema] = {
    "planned": _many(_named("EventNamed")),
    "contradictions": _many(_named("Contradiction")),
    "withheldEvents": WHOLE,
    "words": TEXT,
}
_WHEREABOUTS = _object(
    "Where a piece sat, and where it is now; `words` tells it in sentences.",
    piece=TEXT,
    name=TEXT,
    stays=_many(_object("A stay in one volume.", **_STAY_FIELDS, lays=_many(_named("Lay")))),
    now=_named("Now"),
    **_TOLD,
)
_HOST_PIECES = _object(
    "Which pieces ever were in a volume; `words` tells it in sentences.",
    host=TEXT,
    name=TEXT,
    pieces=_many(
        _object(
            "A piece, its stays in the volume, and where it is now.",
            piece=TEXT,
            name=TEXT,
            stays=_many(_object("A stay in the volume.", **_STAY_FIELDS)),
            now=_named("Now"),
        )
    ),
    **_TOLD,
)
_DIFFERENCE = _object(
    "What changed between two revisions.", **{"from": WHOLE, "to": WHOLE}, changes=_many(TEXT)
)
_VERIFIED = _object("What does not agree; nothing, if all is well.", faults=_many(_named("Fault")))

WRITTEN_BY_HAND = MappingProxyType(
    {
        "Answered": _ANSWERED,
        "Contradiction": _CONTRADICTION,
        "Difference": _DIFFERENCE,
        "EventNamed": _EVENT,
        "Fault": _FAULT,
        "HostPieces": _HOST_PIECES,
        "Lay": _LAY,
        "Missing": _MISSING,
        "Neighbour": _NEIGHBOUR,
        "Now": _NOW,
        "Problem": _PROBLEM,
        "Report": _REPORT,
        "StageOfHost": _STAGE,
        "Verified": _VERIFIED,
        "Whereabouts": _WHEREABOUTS,
    }
)
