"""Lists of manifests, and lists of such lists, as IIIF collections.

Source: IIIF Presentation API 3.0, section 5.1 (Collection): manifests are named in a collection and not held
in it, and a long one is broken into further collections.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from iiif_prezi3 import Collection

from guardbook.exports.iiif.manifest import document


@dataclass(frozen=True, kw_only=True)
class Listed:
    """What a collection names: a `Manifest` or another `Collection`, its address and its name."""

    kind: str
    address: str
    name: str

    def reference(self) -> dict[str, Any]:
        """Give it as it is named."""
        return {"id": self.address, "type": self.kind, "label": {"none": [self.name]}}


def collection(
    address: str, name: str, summary: str, items: Sequence[Listed], part_of: Listed | None = None
) -> dict[str, Any]:
    """Write a collection; `part_of` names the one it is in."""
    made = Collection(
        id=address,
        label={"none": [name]},
        summary={"en": [summary]},
        items=[item.reference() for item in items],
        partOf=[part_of.reference()] if part_of else None,
    )
    return document(made)
