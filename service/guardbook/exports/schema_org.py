"""A record in the words of schema.org, for search engines: only what these words can say rightly.

Pieces, volumes and carriers are kept things (`ArchiveComponent`), pictures `ImageObject`, people `Person`,
bodies `Organization`. schema.org has no words for a placing or a reading, so that events, readings and
decisions are not told of. Source: schema.org, its domains and ranges.
"""

from __future__ import annotations

from collections.abc import Callable
from types import MappingProxyType
from typing import Any

from guardbook import settings
from guardbook.exports.surroundings import Surroundings
from guardbook.records import terms
from guardbook.records.agent import Agent, Institution
from guardbook.records.base import Record
from guardbook.records.carrier import Carrier
from guardbook.records.dates import bounds
from guardbook.records.fragment import Fragment
from guardbook.records.host import HostVolume
from guardbook.records.image import Image

Said = dict[str, Any]


def in_schema_org(record: Record, around: Surroundings, page_address: str) -> Said | None:
    """Give a record as JSON-LD in schema.org's words, or None where these have no word for it.

    `page_address` is that of its page.
    """
    writer = next((write for kind, write in _WRITERS.items() if isinstance(record, kind)), None)
    if writer is None:
        return None
    said = {
        "@context": "https://schema.org",
        "@id": record.id,
        "name": record.display_title,
        "url": page_address,
        "identifier": _identifiers(record),
        "description": record.note,
        **writer(record, around),
    }
    return {name: value for name, value in said.items() if value not in (None, [], {})}


def dataset_in_schema_org(at: str, about: str, dumps: dict[str, str]) -> Said:
    """Give the catalogue as a data set, with the address and media type of each dump."""
    here = settings.current()
    said = {
        "@context": "https://schema.org",
        "@type": "Dataset",
        "@id": f"{here.base}dataset",
        "name": here.name,
        "description": about,
        "url": at,
        "license": here.licence,
        "distribution": [
            {"@type": "DataDownload", "contentUrl": address, "encodingFormat": media_type}
            for address, media_type in dumps.items()
        ],
    }
    return {name: value for name, value in said.items() if value is not None}


def _identifiers(record: Record) -> list[str]:
    numbers = (record.identifier, record.workshop_number, getattr(record, "shelfmark", None))
    return [number for number in numbers if number]


def _kept(record: Any, around: Surroundings) -> Said:
    return {
        "additionalType": settings.NAMESPACE + type(record).__name__,
        "holdingArchive": _archive(record.keeper, around),
        "license": record.licence,
        "creditText": record.rights_holder,
        "isPartOf": {"@type": "Dataset", "@id": f"{settings.current().base}dataset"},
        "size": _size(record),
    }


def _archive(iri: str | None, around: Surroundings) -> Said | None:
    """Give the body that keeps it; a person is no archive."""
    found = around.record(iri)
    if not isinstance(found, Institution):
        return None
    return {"@type": "ArchiveOrganization", "@id": found.id, "name": found.display_title}


def _person(iri: str | None, around: Surroundings) -> Said | None:
    found = around.record(iri)
    return {"@type": "Person", "@id": found.id, "name": found.display_title} if found else None


def _size(record: Any) -> str | None:
    known = [(name, getattr(record, name)) for name in ("height", "width")]
    return " x ".join(f"{value:f} mm ({name})" for name, value in known if value is not None) or None


def _fragment(record: Any, around: Surroundings) -> Said:
    return {
        "@type": "ArchiveComponent",
        **_kept(record, around),
        "material": _term("material", record.material, around),
        "dateCreated": _date(record.date_made),
        "locationCreated": _place(record.place_made),
        "inLanguage": list(record.text_languages),
        "text": record.first_words,
    }


def _host(record: Any, around: Surroundings) -> Said:
    return {
        "@type": "ArchiveComponent",
        **_kept(record, around),
        "abstract": record.content,
        "dateCreated": _date(record.binding_date),
    }


def _carrier(record: Any, around: Surroundings) -> Said:
    return {
        "@type": "ArchiveComponent",
        **_kept(record, around),
        "abstract": record.content,
        "material": _term("material", record.material, around),
        "dateCreated": _date(record.date_made),
        "locationCreated": _place(record.place_made),
        "inLanguage": list(record.text_languages),
    }


def _image(record: Any, around: Surroundings) -> Said:
    return {
        "@type": "ImageObject",
        "contentUrl": record.address,
        "encodingFormat": record.media_type,
        "width": _pixels(record.pixel_width),
        "height": _pixels(record.pixel_height),
        "creator": _person(record.by, around),
        "dateCreated": _date(record.when),
        "license": record.licence,
        "creditText": record.rights_holder,
        "about": [{"@id": iri} for iri in record.depicts],
    }


def _pixels(count: int | None) -> Said | None:
    return {"@type": "QuantitativeValue", "value": count, "unitText": "px"} if count else None


def _agent(record: Any, _around: Surroundings) -> Said:
    return {"@type": "Person", "jobTitle": record.role, "sameAs": record.address}


def _institution(record: Any, _around: Surroundings) -> Said:
    place = _place(record.place)
    return {"@type": "Organization", "location": place, "sameAs": record.address}


def _term(scheme: str, slug: str | None, around: Surroundings) -> str | None:
    return terms.label(scheme, slug, around.language) if slug else None


def _place(name: str | None) -> Said | None:
    return {"@type": "Place", "name": name} if name else None


def _date(text: str | None) -> str | None:
    """Give a date as schema.org takes it (ISO 8601): a year or day, or a span; nothing for an open one."""
    if text is None:
        return None
    found = bounds(text)
    if not (found.earliest and found.latest) or found.earliest[0] < 1:
        return None
    first, last = (f"{year:04}-{month:02}-{day:02}" for year, month, day in (found.earliest, found.latest))
    return first if first == last else f"{first}/{last}"


_WRITERS: MappingProxyType[type[Record], Callable[[Any, Surroundings], Said]] = MappingProxyType(
    {
        Fragment: _fragment,
        HostVolume: _host,
        Carrier: _carrier,
        Image: _image,
        Agent: _agent,
        Institution: _institution,
    }
)
