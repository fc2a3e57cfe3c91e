"""The schemas of dates, readings, examinations and decisions."""

from __future__ import annotations

from types import MappingProxyType

from guardbook.api.json_types import (
    NUMBER,
    NUMBER_OR_NONE,
    TEXT,
    TEXT_OR_NONE,
    TRUTH,
    TRUTH_OR_NONE,
    WHOLE,
    WHOLE_OR_NONE,
    fields,
    many,
    named,
    one_of,
    or_none,
)
from guardbook.evidence.examinations import STATES
from guardbook.evidence.reading_rows import STRENGTHS
from guardbook.evidence.reading_table import ORDER

_STATEMENT = fields(
    "One thing that a record says: a date, or what follows from it by a rule.",
    key=TEXT,
    record=TEXT,
    words=TEXT,
    rule=TEXT,
    reason=TEXT,
)
_LIMIT = fields(
    "A bound and the statements that set it; `proved` where it does not rest on the stated date itself.",
    side=one_of("not before", "not after"),
    date=TEXT,
    proved=TRUTH,
    saysLittle=TRUTH,
    because=many(named("Statement")),
    words=TEXT,
)
_CASE = fields("What would hold in this case.", span=TEXT, limits=many(named("Limit")))
_DATING = fields(
    "What is known of the dates of a volume or piece; `words` tells it in sentences.",
    record=TEXT,
    name=TEXT,
    times=many(
        fields(
            "A stage or event, the date stated for it, and its bounds.",
            time=TEXT,
            record=TEXT,
            name=TEXT,
            stated=TEXT_OR_NONE,
            span=TEXT,
            limits=many(named("Limit")),
        )
    ),
    cases=many(
        fields(
            "Both cases where it is open whether a piece is original; null where one cannot be.",
            placing=TEXT,
            piece=TEXT,
            time=TEXT,
            ifOriginal=or_none(_CASE),
            otherwise=or_none(_CASE),
            words=TEXT,
        )
    ),
    contradictions=many(
        fields(
            "The fewest statements that cannot all hold; `mends` are the keys of those that would mend it.",
            statements=many(named("Statement")),
            mends=many(TEXT),
            laws=many(named("Statement")),
            words=TEXT,
        )
    ),
    datesNothing=many(TEXT),
    notes=many(TEXT),
    words=TEXT,
)
_READING = fields(
    "What one row of the table says here; `strength` is null where not all of its signs are recorded.",
    row=TEXT,
    source=TEXT,
    strength=or_none(one_of(*STRENGTHS)),
    signs=many(
        fields(
            "What anyone can see again.",
            state=one_of("seen", "not-seen", "unknown"),
            words=TEXT,
            traces=many(TEXT),
        )
    ),
    alternatives=many(
        fields(
            "Another explanation; null where it is neither excluded nor shown to stand.",
            words=TEXT,
            excluded=TRUTH_OR_NONE,
            because=TEXT,
            wouldDecide=TEXT,
        )
    ),
    wouldDecide=many(TEXT),
)
_CLAIM = fields(
    "What traces may mean, and how it stands by the strongest single reading.",
    claim=TEXT,
    words=TEXT,
    about=many(TEXT),
    name=TEXT,
    status=one_of(*ORDER),
    readings=many(_READING),
    told=many(TEXT),
)
_ENTERED = fields(
    "A reading that a person entered.",
    reading=TEXT,
    claim=TEXT_OR_NONE,
    strength=or_none(one_of(*STRENGTHS)),
    by=TEXT,
    when=TEXT_OR_NONE,
    observations=many(TEXT),
    alternatives=many(
        fields("Another explanation.", words=TEXT, excluded=TRUTH_OR_NONE, reason=TEXT_OR_NONE)
    ),
    wouldDecide=TEXT_OR_NONE,
    words=TEXT,
)
_EVIDENCE = fields(
    "What the traces of a volume or piece may mean, worked out and entered by people.",
    record=TEXT,
    name=TEXT,
    claims=many(_CLAIM),
    entered=many(_ENTERED),
    toLookFor=many(TEXT),
    notes=many(TEXT),
    words=TEXT,
)
_EXAMINATIONS = fields(
    "What can be examined only before or while a piece is out, and the cautions that apply.",
    event=TEXT,
    piece=TEXT,
    name=TEXT,
    goesBack=TRUTH,
    note=TEXT,
    examinations=many(
        fields(
            "One examination, and how it stands.",
            examination=TEXT,
            label=TEXT,
            needs=TEXT,
            onceBack=one_of("yes", "limited", "no"),
            state=one_of(*STATES),
            words=TEXT,
        )
    ),
    cautions=many(TEXT),
    words=TEXT,
)
_OPTION = fields(
    "An option: what it does, what it puts out of reach, its weighted mean and place.",
    id=TEXT,
    kind=TEXT,
    label=TEXT,
    description=TEXT_OR_NONE,
    effects=many(fields("What it does in one respect.", aspect=TEXT, label=TEXT, words=TEXT)),
    outOfReach=many(TEXT),
    outOfReachStated=TEXT_OR_NONE,
    worth=NUMBER_OR_NONE,
    place=WHOLE_OR_NONE,
)
_CHANGE = fields(
    "The weight at which one option would draw level with another; `first` where that is the first place.",
    criterion=TEXT,
    weight=NUMBER,
    to=NUMBER,
    exactly=TEXT,
    by=NUMBER,
    ahead=TEXT,
    behind=TEXT,
    first=TRUTH,
    words=TEXT,
)
_DECISION = fields(
    "The options of a decision side by side. It is arithmetic, no advice.",
    decision=TEXT,
    title=TEXT,
    about=many(TEXT),
    question=TEXT_OR_NONE,
    options=many(_OPTION),
    criteria=many(
        fields(
            "A criterion; `tried` where its weight is not that of the record.",
            id=TEXT,
            name=TEXT,
            weight=NUMBER,
            tried=TRUTH,
        )
    ),
    ranking=many(many(TEXT)),
    changes=many(_CHANGE),
    choice=TEXT_OR_NONE,
    reasons=TEXT_OR_NONE,
    consent=TEXT,
    consentBy=TEXT_OR_NONE,
    consentWhen=TEXT_OR_NONE,
    notes=many(TEXT),
    words=TEXT,
)

_GATE = fields(
    "A piece before its removal: what is open, which `leftOpen` names one by one, and what to mind.",
    piece=TEXT,
    removal=TEXT_OR_NONE,
    planned=TRUTH,
    others=many(TEXT),
    report=named("Report"),
    examinations=or_none(named("Examinations")),
    consent=many(TEXT),
    leftOpen=many(TEXT),
    cautions=many(TEXT),
    words=TEXT,
)

_BENCH = fields(
    "Lists of pieces and volumes, each short; `waiting` counts those that are still being looked at.",
    sections=many(
        fields(
            "A list: how many there are, and the most urgent of them.",
            name=TEXT,
            heading=TEXT,
            count=WHOLE,
            items=many(
                fields(
                    "A piece or volume; `page` is where more is said, from the root of the site.",
                    record=TEXT,
                    title=TEXT,
                    workshopNumber=TEXT_OR_NONE,
                    words=TEXT,
                    page=TEXT,
                )
            ),
        )
    ),
    waiting=WHOLE,
    words=TEXT,
)

EVIDENCE_ANSWERS = MappingProxyType(
    {
        "Bench": _BENCH,
        "Dating": _DATING,
        "DecisionSheet": _DECISION,
        "Evidence": _EVIDENCE,
        "Examinations": _EXAMINATIONS,
        "Gate": _GATE,
        "Limit": _LIMIT,
        "Statement": _STATEMENT,
    }
)
