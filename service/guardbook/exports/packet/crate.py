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
LICENCE = "LICENCE.txt"
_MODEL = "Part of the model: what the words of the records mean, or what was required of a record"
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
        "license": {"@id": LICENCE},
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
        *(_licence(address) for address in sorted(_licences(about))),
    ]
    document = {"@context": f"{_VERSION}/context", "@graph": graph}
    return json.dumps(document, ensure_ascii=False, indent=1).encode()


def _file(path: str, written: Written, about: About) -> dict[str, Any]:
    image = about.pictures.get(path)
    told: dict[str, Any] = {
        "@id": quote(path),
        "@type": ["File", "CreativeWork"] if path == LICENCE else "File",
        "name": image.display_title if image else path.rpartition("/")[2],
        "description": _picture_words(image) if image else about.said.get(path, _MODEL),
        "encodingFormat": _media_type(path, image),
        "contentSize": str(written.size),
        "sha256": written.sha256,
    }
    if image:
        told["mainEntityOfPage"] = image.id
        told |= {"license": {"@id": image.licence}} if image.licence else {}
    return told


def _picture_words(image: Image) -> str:
    shown = ", ".join(image.depicts)
    return f"A picture of {shown}" if shown else "A picture"


def _licences(about: About) -> set[str]:
    return {image.licence for image in about.pictures.values() if image.licence}


def _licence(address: str) -> dict[str, Any]:
    description = "The licence that pictures in this packet are under, as their records state it"
    return {"@id": address, "@type": "CreativeWork", "name": address, "description": description}


def _media_type(path: str, image: Image | None) -> str:
    if image and image.media_type:
        return image.media_type
    ending = path[path.rfind(".") :]
    return _TYPES.get(ending) or mimetypes.guess_type(path)[0] or "application/octet-stream"
