"""The schemas of what the API answers, by the names that its description uses.

Answers that are plain dataclasses are described from these. The others write their own JSON and are
described by hand here; a test holds each against what is really answered.
"""

from __future__ import annotations

from types import MappingProxyType

from guardbook.actions.add_files import Added
from guardbook.actions.harvest import Harvested
from guardbook.actions.harvested import HarvestedHit, HarvestedShown
from guardbook.actions.import_packet import Imported
from guardbook.actions.list_terms import Term, TermList
from guardbook.actions.stages_of_host import StageTold
from guardbook.api.drawing_answers import DRAWING_ANSWERS
from guardbook.api.evidence_answers import EVIDENCE_ANSWERS
from guardbook.api.iiif_answers import IIIF_ANSWERS
from guardbook.api.json_types import (
    NUMBER_OR_NONE,
    TEXT,
    TEXT_OR_NONE,
    TRUTH,
    WHOLE,
    Schema,
    fields,
    many,
    named,
    or_none,
)
from guardbook.catalogue.access import Found, Revision
from guardbook.catalogue.harvested.store import Origin
from guardbook.completeness.shape_files import STAGES

DATACLASSES = MappingProxyType(
    {
        one.__name__: one
        for one in (
            Added,
            Found,
            Harvested,
            HarvestedHit,
            HarvestedShown,
            Imported,
            Origin,
            Revision,
            StageTold,
            Term,
            TermList,
        )
    }
)

_FAULT = fields(
    "One thing that is wrong, and how to mend it; `doubt` asks to confirm a value that may be right.",
    where=TEXT,
    found=TEXT,
    expected=TEXT,
    mend=TEXT,
    doubt=TRUTH,
    message=TEXT,
)
_PROBLEM = fields(
    "An error (RFC 9457).",
    type={"type": "string", "format": "uri"},
    title=TEXT,
    status=WHOLE,
    detail=TEXT,
    faults=many(named("Fault")),
)
_MISSING = fields(
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
    accepts=many(TEXT),
    severity={"enum": ["required", "recommended"]},
)
_ANSWERED = fields(
    "One thing that was looked for and not found, or that cannot be known.",
    record=TEXT,
    field=TEXT,
    label=TEXT,
    stage=TEXT,
    answer=TEXT,
    reason=TEXT,
)
_REPORT = fields(
    "What a check found; `because` says why it was this stage.",
    stage={"enum": list(STAGES)},
    because=TEXT,
    focus=many(TEXT),
    complete=TRUTH,
    missing=many(named("Missing")),
    answered=many(named("Answered")),
    cautions=many(TEXT),
    leftOut=many(TEXT),
)
_EVENT = fields("An event, by its address.", id=TEXT, kind=TEXT, when=TEXT_OR_NONE, host=TEXT_OR_NONE)
_STAGE = fields("A state of a volume.", number=WHOLE, kind=TEXT, name=TEXT_OR_NONE, when=TEXT_OR_NONE)
_CONTRADICTION = fields(
    "Something that cannot be true as it is recorded.",
    kind=TEXT,
    about=many(TEXT),
    events=many(TEXT),
    found=TEXT,
    mend=TEXT,
)
_NEIGHBOUR = fields(
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
_LAY = fields(
    "How a piece lay over some stages: its size then, its positions (mm), its neighbours.",
    stages=many(named("StageOfHost")),
    size={"type": "object"},
    saidBy=TEXT_OR_NONE,
    positions=many({"type": "object"}),
    neighbours=many(named("Neighbour")),
)
_STAY_FIELDS: dict[str, Schema] = {
    "host": TEXT,
    "hostName": TEXT,
    "hostShelfmark": TEXT_OR_NONE,
    "fromStage": or_none(named("StageOfHost")),
    "toStage": or_none(named("StageOfHost")),
    "putBy": or_none(named("EventNamed")),
    "takenBy": or_none(named("EventNamed")),
    "function": TEXT_OR_NONE,
    "fixings": many(TEXT),
    "fixingNote": TEXT_OR_NONE,
    "outwardFace": TEXT_OR_NONE,
    "writingAngle": TEXT_OR_NONE,
    "folded": TEXT_OR_NONE,
    "originalToAssembly": TEXT_OR_NONE,
    "evidence": TEXT_OR_NONE,
}
_NOW = fields(
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
    "planned": many(named("EventNamed")),
    "contradictions": many(named("Contradiction")),
    "withheldEvents": WHOLE,
    "words": TEXT,
}
_WHEREABOUTS = fields(
    "Where a piece sat, and where it is now; `words` tells it in sentences.",
    piece=TEXT,
    name=TEXT,
    stays=many(fields("A stay in one volume.", **_STAY_FIELDS, lays=many(named("Lay")))),
    now=named("Now"),
    **_TOLD,
)
_HOST_PIECES = fields(
    "Which pieces ever were in a volume; `words` tells it in sentences.",
    host=TEXT,
    name=TEXT,
    pieces=many(
        fields(
            "A piece, its stays in the volume, and where it is now.",
            piece=TEXT,
            name=TEXT,
            stays=many(fields("A stay in the volume.", **_STAY_FIELDS)),
            now=named("Now"),
        )
    ),
    **_TOLD,
)
_DIFFERENCE = fields(
    "What changed between two revisions.", **{"from": WHOLE, "to": WHOLE}, changes=many(TEXT)
)
_VERIFIED = fields("What does not agree; nothing, if all is well.", faults=many(named("Fault")))

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
        **DRAWING_ANSWERS,
        **EVIDENCE_ANSWERS,
        **IIIF_ANSWERS,
    }
)
