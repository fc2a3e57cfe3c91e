"""One strip, the volume it sat in, and what happened to it, in few words; each with all a stage asks for."""

from __future__ import annotations

from typing import Any

import pyoxigraph as ox

from guardbook.records.base import Record
from guardbook.records.documents import from_document
from guardbook.records.kinds import KINDS
from guardbook.records.mapping import to_quads
from tests.catalogue.shelf import iri

STRIP, VOLUME = iri("fragment", "strip"), iri("host", "ledger")
PLACING, SEPARATION = iri("placing", "strip in ledger"), iri("separation", "strip from ledger")
KEEPER, HAND = iri("institution", "town archive"), iri("agent", "bench")
IN_PLACE = iri("image", "in place")


def made(kind: str, address: str, /, **fields: Any) -> Record:
    """Make a record from the fields of its JSON document; a field that is None is left out."""
    body = {name: value for name, value in fields.items() if value is not None}
    return from_document({"id": address, "type": KINDS[kind].__name__, **body})


def strip(**fields: Any) -> Record:
    """Make the strip with all that is asked of it before lifting."""
    known: dict[str, Any] = {
        "title": "Strip of an antiphoner",
        "extent": "strip",
        "material": "parchment",
        "seenBy": HAND,
        "seenWhen": "2024-03-05",
        "condition": "Cockled at the tail.",
        "features": [{"featureKind": "sewing-hole", "x": "3", "y": "12"}],
    }
    return made("fragment", STRIP, **{**known, **fields})


def placing(**fields: Any) -> Record:
    """Make its placing with all that is asked of it before lifting."""
    known: dict[str, Any] = {
        "piece": STRIP,
        "host": VOLUME,
        "stage": f"{VOLUME}#stage-1",
        "function": "spine-lining-panel",
        "fixings": ["adhered"],
        "originalToAssembly": "yes",
        "outwardFace": "hair",
        "writingAngle": "90",
        "folded": "It lies flat.",
        "layerOrder": "Over the text block, under the covering.",
        "sewingRelation": "No thread goes through it.",
        "edgesInPlace": "Cut, all pasted down.",
        "positions": [position()],
    }
    return made("placing", PLACING, **{**known, **fields})


def position(**fields: Any) -> dict[str, Any]:
    """Make its position, measured."""
    known: dict[str, Any] = {
        "plane": "textblock-spine",
        "x": "-12",
        "y": "80",
        "rotation": "90",
        "mirrored": False,
        "layer": 1,
        "visibleInPlace": "hidden",
        "certainty": "measured",
    }
    return {name: value for name, value in {**known, **fields}.items() if value is not None}


def separation(**fields: Any) -> Record:
    """Make its planned separation with all that is asked of it before lifting."""
    known: dict[str, Any] = {
        "piece": STRIP,
        "host": VOLUME,
        "undoes": PLACING,
        "status": "planned",
        "separationKind": "lifted-in-treatment",
        "authority": "Order of the archive, 2 March 2024.",
        "consentBy": KEEPER,
        "consentWhen": "2024-03-01",
        "reason": "The lining stops the spine from flexing.",
        "conditionBefore": "Sound, lifting at one corner.",
        "methods": ["gel-or-poultice"],
        "examinations": ["read-hidden-face"],
        "imagesBefore": [IN_PLACE],
    }
    return made("separation", SEPARATION, **{**known, **fields})


def image(**fields: Any) -> Record:
    """Make the photograph of the strip in its place."""
    known: dict[str, Any] = {
        "depicts": [STRIP],
        "file": "in-place.jpg",
        "technique": "visible-light",
        "moment": "in-place",
        "scaleBarInView": True,
        "by": HAND,
        "when": "2024-03-05",
    }
    return made("image", IN_PLACE, **{**known, **fields})


def everything(**changed: Record) -> list[Record]:
    """Give the whole situation, with some of its records changed."""
    known = {
        "strip": strip(),
        "placing": placing(),
        "separation": separation(),
        "image": image(),
        "hand": made("agent", HAND, name="Rue Alder", mayBeNamed=True),
    }
    return list({**known, **changed}.values())


def quads(*records: Record) -> list[ox.Quad]:
    """Give the statements of some records."""
    return [quad for record in records for quad in to_quads(record)]


def answered(field: str, answer: str) -> list[dict[str, Any]]:
    """Give an answer in place of a field."""
    return [{"asked": field, "answer": answer, "reason": "Looked with a loupe."}]
