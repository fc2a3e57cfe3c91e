"""What each file of a packet is, for programs: the metadata of an RO-Crate.

Source: RO-Crate 1.2, sections on the root data entity, data entities and provenance of entities.
"""

from __future__ import annotations

import json
import mimetypes
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any
from urllib.parse import quote

from guardbook import settings
from guardbook.exports.packet.bag_writer import Written
from guardbook.records.image import Image

METADATA = "ro-crate-metadata.json"
_VERSION = "https://w3id.org/ro/crate/1.2"
_TYPES = {".trig": "application/trig", ".ttl": "text/turtle", ".jsonld": "application/ld+json"}


@dataclass(frozen=True, kw_only=True)
class About:
    """What a packet is: its title, the day it was made, and what is said of its files by path."""

    title: str
    description: str
    day: date
    said: Mapping[str, str]
    pictures: Mapping[str, Image]


def metadata(about: About, files: Mapping[str, Written]) -> bytes:
    """Give the metadata file for the files that are in the packet already."""
    here = settings.current()
    listed = sorted(files)
    root = {
        "@id": "./",
        "@type": "Dataset",
        "name": about.title,
        "description": about.description,
        "datePublished": about.day.isoformat(),
        "publisher": {"@id": here.base},
        "license": {"@id": "LICENCE.txt"},
        "hasPart": [{"@id": quote(path)} for path in listed],
    }
    graph = [
        {
            "@id": METADATA,
            "@type": "CreativeWork",
            "about": {"@id": "./"},
            "conformsTo": {"@id": _VERSION},
        },
        root,
        {"@id": here.base, "@type": "Organization", "name": here.name, "url": here.base},
        *(_file(path, files[path], about) for path in listed),
    ]
    document = {"@context": f"{_VERSION}/context", "@graph": graph}
    return json.dumps(document, ensure_ascii=False, indent=1).encode()


def _file(path: str, written: Written, about: About) -> dict[str, Any]:
    image = about.pictures.get(path)
    name = image.display_title if image else about.said.get(path, path)
    told: dict[str, Any] = {
        "@id": quote(path),
        "@type": "File",
        "name": name,
        "encodingFormat": _media_type(path, image),
        "contentSize": str(written.size),
        "sha256": written.sha256,
    }
    if image:
        told["mainEntityOfPage"] = image.id
        told |= {"license": {"@id": image.licence}} if image.licence else {}
    return told


def _media_type(path: str, image: Image | None) -> str:
    if image and image.media_type:
        return image.media_type
    ending = path[path.rfind(".") :]
    return _TYPES.get(ending) or mimetypes.guess_type(path)[0] or "application/octet-stream"
