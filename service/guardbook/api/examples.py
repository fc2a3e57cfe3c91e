"""Records to show in the API's description: invented, right in every field, and as small as they can be."""

from __future__ import annotations

from typing import Any

STRIP: dict[str, Any] = {
    "id": "fragment/7K3QM2-J",
    "type": "Fragment",
    "title": "Strip of a psalter from a spine",
    "workshopNumber": "2024/17 a",
    "extent": "strip",
    "material": "parchment",
    "height": "182.5",
    "width": "31",
    "features": [{"featureKind": "sewing-hole", "x": "15.5", "y": "40"}],
    "dateMade": "13XX",
    "dateReason": "script",
}
VOLUME: dict[str, Any] = {
    "id": "host/3NBK40-J",
    "type": "HostVolume",
    "shelfmark": "A 17",
    "textDate": "1571",
}
CHANGE: dict[str, Any] = {"condition": "One fold, no losses.", "note": None}
REVISION: dict[str, Any] = {
    "iri": "https://guardbook.example/fragment/7K3QM2-J",
    "number": 1,
    "sequence": 52,
    "when": "2024-03-05T10:12:00+00:00",
    "who": "the workshop",
    "whatFor": "added through the API",
    "sha256": "9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08",
    "previous": "60303ae22b998861bce3b28f33eec1be758a213c86c93c076dbe9f558c11c752",
    "tombstone": False,
}
