"""One record as an IIIF manifest, or many as a collection that names the manifest of each."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from itertools import chain, islice
from typing import BinaryIO

from guardbook import settings
from guardbook.exports.iiif.addresses import CONTEXT, MANIFEST, Addresses
from guardbook.exports.surroundings import ALONE, Surroundings
from guardbook.records.base import Record

KINDS = frozenset({"fragment", "host", "carrier"})


def write_iiif(records: Iterable[Record], output: BinaryIO, around: Surroundings = ALONE, /) -> None:
    """Write the manifest of one record, or for more than one a collection of those that have a manifest.

    A collection names manifests where they are served. Raises NotFound where nothing of the one record can
    be laid out.
    """
    found = (record for record in records if record.kind in KINDS)
    first = list(islice(found, 2))
    if len(first) == 1:
        output.write(_json(around.manifest(first[0].id)))
        return
    output.writelines(_collection(chain(first, found), around))


def _collection(records: Iterable[Record], around: Surroundings) -> Iterator[bytes]:
    addresses = Addresses(around.at or settings.current().base)
    told = {
        "@context": CONTEXT,
        "id": addresses.collection(),
        "type": "Collection",
        "label": {"none": [settings.current().name]},
    }
    yield _json(told)[:-1] + b', "items": ['
    shown = (record for record in records if around.can_be_laid_out(record.id))
    for number, record in enumerate(shown):
        label = {"none": [record.display_title]}
        named = {"id": addresses.view(record, MANIFEST), "type": "Manifest", "label": label}
        yield (b",\n" if number else b"\n") + _json(named)
    yield b"\n]}\n"


def _json(value: object) -> bytes:
    return json.dumps(value, ensure_ascii=False).encode()
