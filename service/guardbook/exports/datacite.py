"""Metadata for a data repository in the JSON of DataCite, kernel 4: one record a line.

Described is the catalogue's record, a data set, not the piece: a DOI made of it names the description.
Source: DataCite metadata schema 4.5 in its JSON form.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any, BinaryIO

from guardbook.exports.citation import Citation, citations
from guardbook.exports.surroundings import ALONE, Surroundings
from guardbook.records.base import Record

_KERNEL = "http://datacite.org/schema/kernel-4"


def write_datacite(records: Iterable[Record], output: BinaryIO, around: Surroundings = ALONE, /) -> None:
    """Write the metadata of each record on a line of its own; of one record it is one JSON document."""
    output.writelines(
        json.dumps(_metadata(found), ensure_ascii=False).encode() + b"\n"
        for found in citations(records, around)
    )


def _metadata(found: Citation) -> dict[str, Any]:
    published = found.revised or found.seen
    said = {
        "schemaVersion": _KERNEL,
        "url": found.iri,
        "types": {"resourceTypeGeneral": "Dataset", "resourceType": "Catalogue record"},
        "creators": _creators(found),
        "titles": [{"title": found.title}],
        "publisher": {"name": found.catalogue},
        "publicationYear": f"{published.year:04}",
        "dates": [{"date": published.isoformat(), "dateType": "Updated"}],
        "version": None if found.revision is None else str(found.revision),
        "alternateIdentifiers": [{"alternateIdentifier": found.iri, "alternateIdentifierType": "IRI"}],
        "contributors": _contributors(found),
        "rightsList": [{"rightsUri": found.licence}] if found.licence else [],
        "descriptions": [
            {"description": text, "descriptionType": kind}
            for text, kind in ((found.note, "Abstract"), (found.cite_as, "Other"))
            if text
        ],
        "formats": ["application/ld+json", "text/turtle"],
    }
    return {name: value for name, value in said.items() if value}


def _creators(found: Citation) -> list[dict[str, str]]:
    """Give those who described it; where nobody may be named, the catalogue as a body."""
    if not found.authors:
        return [{"name": found.catalogue, "nameType": "Organizational"}]
    return [{"name": name} for name in found.authors]


def _contributors(found: Citation) -> list[dict[str, str]]:
    roles = (("HostingInstitution", found.keeper), ("RightsHolder", found.rights_holder))
    return [{"name": name, "contributorType": role} for role, name in roles if name]
