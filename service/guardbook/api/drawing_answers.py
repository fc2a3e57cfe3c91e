"""The schemas of volumes set out, laid over each other, and of leaves rejoined; lengths in mm."""

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
    Schema,
    and_perhaps,
    fields,
    many,
    named,
    one_of,
    or_none,
)

POINT: Schema = {"type": "array", "items": NUMBER, "minItems": 2, "maxItems": 2}
OUTLINE: Schema = {"type": ["string", "null"], "description": "A polygon as well-known text, in mm."}
WAY: Schema = {
    "description": "From coordinates of the piece or picture to those of the plane: a, b, c, d, e, f with "
    "x' = ax + by + c and y' = dx + ey + f; null where too little is known.",
    "anyOf": [{"type": "array", "items": NUMBER, "minItems": 6, "maxItems": 6}, {"type": "null"}],
}

_FEATURE_FIELDS: dict[str, Schema] = {
    "id": TEXT,
    "kind": TEXT,
    "points": many(POINT),
    "diameter": NUMBER_OR_NONE,
    "series": TEXT_OR_NONE,
    "use": TEXT_OR_NONE,
    "useHost": TEXT_OR_NONE,
    "made": TEXT_OR_NONE,
    "through": TRUTH,
    "onThisFace": TRUTH,
    "certainty": TEXT_OR_NONE,
    "note": TEXT_OR_NONE,
}
_FOLD = fields(
    "A fold of a piece as it lies; `seen` where it is recorded, and not only to be expected there.",
    kind=TEXT,
    points=many(POINT),
    feature=TEXT_OR_NONE,
    seen=TRUTH,
)
_ITEM = fields(
    "A piece in its place; `measured` where its position is, `over`, `under` and `overlapping` name pieces.",
    piece=TEXT,
    name=TEXT,
    words=TEXT,
    outline=OUTLINE,
    function=TEXT_OR_NONE,
    measured=TRUTH,
    certainty=TEXT_OR_NONE,
    layer=WHOLE_OR_NONE,
    visibleInPlace=TEXT_OR_NONE,
    isSheet=TRUTH,
    fromOtherFace=TRUTH,
    frontTowardsViewer=TRUTH_OR_NONE,
    thickness=NUMBER_OR_NONE,
    way=WAY,
    image=TEXT_OR_NONE,
    imageWay=WAY,
    features=many(named("SceneFeature")),
    folds=many(named("SceneFold")),
    over=many(TEXT),
    under=many(TEXT),
    overlapping=many(TEXT),
    placing=TEXT_OR_NONE,
    position=TEXT_OR_NONE,
)
_GAP = fields(
    "Where a piece was that is gone; `open` where nothing took its place.",
    piece=TEXT,
    name=TEXT,
    words=TEXT,
    outline=OUTLINE,
    measured=TRUTH,
    function=TEXT_OR_NONE,
    event=TEXT_OR_NONE,
    replacedBy=TEXT_OR_NONE,
    filledBy=TEXT_OR_NONE,
    open=TRUTH,
)
_PLANE = and_perhaps(
    fields(
        "One face of the volume, its pieces from below upwards; `seenReversed` where +x runs to the left.",
        key=TEXT,
        plane=TEXT,
        words=TEXT,
        left=NUMBER,
        bottom=NUMBER,
        right=NUMBER,
        top=NUMBER,
        limitsFrom=TEXT,
        seenReversed=TRUTH,
        items=many(named("SceneItem")),
        stations=many(fields("A sewing station.", id=TEXT, y=NUMBER, kind=TEXT_OR_NONE)),
        panels=many(fields("A panel of the spine.", number=WHOLE, bottom=NUMBER, top=NUMBER)),
        folds=many(named("SceneFold")),
        gaps=many(named("SceneGap")),
        cutLater=many(named("SceneGap")),
    ),
    side=TEXT_OR_NONE,
    gathering=WHOLE_OR_NONE,
    leaf=WHOLE_OR_NONE,
    leafSide=TEXT_OR_NONE,
)
_SCENE = fields(
    "A volume at one of its stages, every piece in its place.",
    host=TEXT,
    name=TEXT,
    stage=WHOLE,
    stageWords=TEXT,
    stages=many(
        fields("A stage in words.", number=WHOLE, words=TEXT, when=TEXT_OR_NONE, isPlanned=TRUTH),
    ),
    size=fields(
        "Of the text block.",
        height=NUMBER_OR_NONE,
        width=NUMBER_OR_NONE,
        thickness=NUMBER_OR_NONE,
        spineWidth=NUMBER_OR_NONE,
    ),
    gatherings=many(
        fields("A gathering.", number=WHOLE, leafCount=WHOLE_OR_NONE, thickness=NUMBER_OR_NONE),
    ),
    registration=or_none(
        fields(
            "How the cover lies on the text block.",
            dx=NUMBER,
            dy=NUMBER,
            certainty=TEXT_OR_NONE,
            ofStage=WHOLE_OR_NONE,
        )
    ),
    planes=many(named("ScenePlane")),
    unplaced=many(named("SceneItem")),
    unplacedGaps=many(named("SceneGap")),
    contradictions=many(named("Contradiction")),
)
_SIDE = fields(
    "One of two volumes or stages laid over each other.",
    key=one_of("a", "b"),
    host=TEXT,
    name=TEXT,
    stage=WHOLE,
    stageWords=TEXT,
    plane=TEXT,
    way=WAY,
    items=many(named("SceneItem")),
)
_OVERLAY_FEATURE = fields(
    "A trace of the piece that both share, and which use accounts for it.",
    **_FEATURE_FIELDS,
    stated=many(TEXT),
    fits=many(fields("What of a volume it lies at.", side=TEXT, words=TEXT, offMm=NUMBER)),
    accounted=one_of("a", "b", "both", "neither"),
    disagrees=TRUTH,
)
_OVERLAY = fields(
    "Two stages or two uses of a cover laid over each other; `rows` is the table of traces in words.",
    a=named("OverlaySide"),
    b=named("OverlaySide"),
    registeredBy=TEXT_OR_NONE,
    words=TEXT,
    shared=or_none(named("SceneItem")),
    features=many(named("OverlayFeature")),
    covered=many(fields("A part that a board or spine covers.", side=TEXT, part=TEXT, outline=OUTLINE)),
    rowPairs=many(
        fields(
            "Two rows of holes along the spine.",
            rows=many(many(POINT)),
            apartMm=NUMBER,
            features=many(TEXT),
            asWideAs=many(TEXT),
            words=TEXT,
        )
    ),
    rows=many(
        fields(
            "One line of the table.",
            feature=TEXT,
            what=TEXT,
            where=TEXT,
            series=TEXT,
            useA=TEXT,
            useB=TEXT,
            accounted=TEXT,
        )
    ),
)
_LEAF_PIECE = fields(
    "A piece where it was cut from the leaf, and the volumes it was found in.",
    piece=TEXT,
    name=TEXT,
    words=TEXT,
    outline=OUTLINE,
    leafSide=TEXT_OR_NONE,
    certainty=TEXT_OR_NONE,
    frontTowardsViewer=TRUTH_OR_NONE,
    way=WAY,
    image=TEXT_OR_NONE,
    imageWay=WAY,
    firstLine=WHOLE_OR_NONE,
    lastLine=WHOLE_OR_NONE,
    hosts=many(
        fields("A volume.", host=TEXT, name=TEXT, shelfmark=TEXT_OR_NONE, stageWords=TEXT_OR_NONE),
    ),
)
_LEAF = fields(
    "A leaf seen from one side, with its known pieces and what is missing between them.",
    carrier=TEXT,
    leaf=TEXT,
    side=TEXT_OR_NONE,
    left=NUMBER,
    bottom=NUMBER,
    right=NUMBER,
    top=NUMBER,
    sizeFrom=TEXT,
    pieces=many(named("LeafPiece")),
    missing=many(OUTLINE),
    knownShare=NUMBER,
    linePitch=NUMBER_OR_NONE,
    lines=WHOLE_OR_NONE,
    missingLines=many(
        fields(
            "Lines missing between two pieces, by each method there are data for.",
            above=TEXT,
            below=TEXT,
            counts=many(
                fields(
                    "One count.",
                    method=TEXT,
                    lines=NUMBER,
                    low=NUMBER_OR_NONE,
                    high=NUMBER_OR_NONE,
                    words=TEXT,
                )
            ),
            agree=TRUTH_OR_NONE,
            words=TEXT,
        )
    ),
    overlaps=many(fields("Two pieces in one place.", piece=TEXT, other=TEXT, areaMm2=NUMBER, words=TEXT)),
)
_REJOINED = fields(
    "The known pieces of a book that was cut up, each leaf set out.",
    carrier=TEXT,
    name=TEXT,
    leaves=many(named("RejoinedLeaf")),
    unplaced=many(named("LeafPiece")),
)

DRAWING_ANSWERS = MappingProxyType(
    {
        "LeafPiece": _LEAF_PIECE,
        "Overlay": _OVERLAY,
        "OverlayFeature": _OVERLAY_FEATURE,
        "OverlaySide": _SIDE,
        "Rejoined": _REJOINED,
        "RejoinedLeaf": _LEAF,
        "Scene": _SCENE,
        "SceneFeature": fields("A trace of a piece, on its plane.", **_FEATURE_FIELDS),
        "SceneFold": _FOLD,
        "SceneGap": _GAP,
        "SceneItem": _ITEM,
        "ScenePlane": _PLANE,
    }
)
