"""JSON-LD with its context inside, so that it is read the same in fifty years, without the network."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import BinaryIO

from guardbook.records.base import Record
from guardbook.records.context import context
from guardbook.records.documents import to_document


def write_json_ld(records: Iterable[Record], output: BinaryIO) -> None:
    """Write one document: the context once, then every record in `@graph`, one after the other."""
    output.write(b'{"@context": ' + _json(context()) + b',\n"@graph": [')
    for number, record in enumerate(records):
        body = {key: value for key, value in to_document(record).items() if key != "@context"}
        output.write((b",\n" if number else b"\n") + _json(body))
    output.write(b"\n]}\n")


def _json(value: object) -> bytes:
    return json.dumps(value, ensure_ascii=False).encode()
