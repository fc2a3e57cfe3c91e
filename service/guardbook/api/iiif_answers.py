"""The schemas of IIIF manifests, as far as ours go.

Source: IIIF Presentation API 3.0 (https://iiif.io/api/presentation/3.0/); what it calls required is so here.
"""

from __future__ import annotations

from types import MappingProxyType

from guardbook.api.json_types import NUMBER, TEXT, WHOLE, Schema, and_perhaps, fields, many, named, one_of

URI: Schema = {"type": "string", "format": "uri"}
ONE_OR_MORE_TEXTS: Schema = {"anyOf": [TEXT, many(TEXT)]}
BY_LANGUAGE: Schema = {
    "type": "object",
    "description": "Texts by the code of their language, or by `none`.",
    "additionalProperties": many(TEXT),
}


def _kind(name: str) -> Schema:
    return {"const": name}


_PAIR = fields("A label with its value.", label=BY_LANGUAGE, value=BY_LANGUAGE)
_LINK = and_perhaps(
    fields("Something elsewhere.", id=URI, type=TEXT),
    label=BY_LANGUAGE,
    format=TEXT,
    profile=TEXT,
    language=many(TEXT),
)
_ANNOTATION = and_perhaps(
    fields(
        "A picture or outline painted on a canvas, or what is said of a place on it.",
        type=_kind("Annotation"),
    ),
    id=URI,
    label=BY_LANGUAGE,
    motivation=ONE_OR_MORE_TEXTS,
    body={"anyOf": [{"type": "object"}, many({"type": "object"})]},
    target={"anyOf": [URI, {"type": "object"}]},
)
_PAGE = fields(
    "Annotations that belong together.",
    id=URI,
    type=_kind("AnnotationPage"),
    items=many(named("Annotation")),
)
_SCALE = {
    **fields("Millimetres to a unit of the canvas.", type=TEXT, profile=URI),
    "properties": {
        "@context": URI,
        "id": URI,
        "type": TEXT,
        "profile": URI,
        "physicalScale": NUMBER,
        "physicalUnits": TEXT,
    },
}
_CANVAS = and_perhaps(
    fields(
        "One face of the volume or leaf, to scale.",
        id=URI,
        type=_kind("Canvas"),
        label=BY_LANGUAGE,
        height=WHOLE,
        width=WHOLE,
        items=many(named("AnnotationPage")),
    ),
    service=many(_SCALE),
    annotations=many(named("AnnotationPage")),
)
_RANGE = and_perhaps(
    fields("A stage, with its canvases.", id=URI, type=one_of("Range", "Canvas")),
    label=BY_LANGUAGE,
    items=many(named("Range")),
)
_COLLECTION = and_perhaps(
    fields(
        "Manifests, and further collections, that can be gone through.",
        **{"@context": ONE_OR_MORE_TEXTS},
        id=URI,
        type=_kind("Collection"),
        label=BY_LANGUAGE,
        items=many(
            and_perhaps(
                fields("One of them.", id=URI, type=one_of("Manifest", "Collection"), label=BY_LANGUAGE),
                homepage=many(_LINK),
            )
        ),
    ),
    summary=BY_LANGUAGE,
    metadata=many(_PAIR),
    requiredStatement=_PAIR,
    partOf=many(_LINK),
    seeAlso=many(_LINK),
    homepage=many(_LINK),
    provider=many(and_perhaps(_LINK, homepage=many(_LINK))),
)
_MANIFEST = and_perhaps(
    fields(
        "A volume at its stages, or the leaves of a book that was cut up, for IIIF readers.",
        **{"@context": ONE_OR_MORE_TEXTS},
        id=URI,
        type=_kind("Manifest"),
        label=BY_LANGUAGE,
        items={**many(named("Canvas")), "minItems": 1},
    ),
    metadata=many(_PAIR),
    summary=BY_LANGUAGE,
    requiredStatement=_PAIR,
    rights=URI,
    provider=many(and_perhaps(_LINK, homepage=many(_LINK))),
    seeAlso=many(_LINK),
    partOf=many(_LINK),
    homepage=many(_LINK),
    structures=many(named("Range")),
    viewingDirection=TEXT,
    behavior=many(TEXT),
)

IIIF_ANSWERS = MappingProxyType(
    {
        "Annotation": _ANNOTATION,
        "AnnotationPage": _PAGE,
        "Canvas": _CANVAS,
        "Collection": _COLLECTION,
        "Manifest": _MANIFEST,
        "Range": _RANGE,
    }
)
