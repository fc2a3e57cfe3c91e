"""Where a manifest, and all that it names, is to be had."""

from __future__ import annotations

import mimetypes
from dataclasses import dataclass
from types import MappingProxyType
from urllib.parse import quote

from guardbook import settings
from guardbook.records.base import Record
from guardbook.records.image import Image

MANIFEST = "manifest.json"
CONTEXT = "http://iiif.io/api/presentation/3/context.json"
MEDIA_TYPE = f'application/ld+json;profile="{CONTEXT}"'
SVG_TYPE = "image/svg+xml"
# the collection of all of a kind
COLLECTED = MappingProxyType({"host": "volumes", "carrier": "carriers"})


@dataclass(frozen=True)
class Addresses:
    """The addresses of one instance; `at` is where it is reached, and ends in a slash."""

    at: str

    def record(self, iri: str) -> str:
        """Give where a record is described, by its IRI."""
        return self.at + iri.removeprefix(settings.current().base)

    def page(self, iri: str) -> str:
        """Give the page of a record, by its IRI."""
        return f"{self.record(iri)}.html"

    def view(self, record: Record, *parts: str) -> str:
        """Give where a volume or a carrier is laid out, or a part of it: a stage or leaf, a face.

        >>> from guardbook.records.carrier import Carrier
        >>> Addresses("https://x.example/").view(Carrier(id="carrier/7K3QM2-J"), "leaf-2 v", "recto")
        'https://x.example/iiif/carrier/7K3QM2-J/leaf-2%20v/recto'
        """
        return "/".join((f"{self.at}iiif/{record.short}", *(quote(part, safe="") for part in parts)))

    def collection(self, name: str = "", page: int | None = None) -> str:
        """Give where a collection is listed: all (""), `volumes`, `carriers`, or that of a keeper; or a page.

        >>> Addresses("https://x.example/").collection("volumes", 2)
        'https://x.example/iiif/collection/volumes/page-2.json'
        """
        steps = [step for step in ("iiif/collection", name, f"page-{page}" if page else "") if step]
        return f"{self.at}{'/'.join(steps)}.json"

    def collection_of(self, keeper: str, page: int | None = None) -> str:
        """Give where that of a keeper is listed, by its IRI."""
        return self.collection(keeper.removeprefix(settings.current().base), page)

    def picture(self, image: Image) -> str:
        """Give where the file of a picture that is kept here is served."""
        return f"{self.at}images/{image.identifier}{ending_of(image)}"


def type_of(image: Image) -> str | None:
    """Give the media type of a picture, as stated or by the ending of its file or address."""
    return image.media_type or mimetypes.guess_type(image.file or image.address or "")[0]


def ending_of(image: Image) -> str:
    """Give the usual ending of a picture's media type, with its dot, or nothing."""
    kind = type_of(image)
    return (mimetypes.guess_extension(kind) or "") if kind else ""
