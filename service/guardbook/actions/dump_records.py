"""Hand all records on in one compressed file, a few at a time."""

from __future__ import annotations

import io
import zlib
from collections.abc import Iterator
from itertools import islice

from guardbook.catalogue.access import Access
from guardbook.errors import Gone, NotFound
from guardbook.exports.formats import Format, format_named
from guardbook.records.base import Record
from guardbook.wording import _

# both can be written in parts that make one document when put together
DUMPED = {"nq": "nquads", "trig": "trig"}
_AT_ONCE = 200
_GZIP = 16 + zlib.MAX_WBITS


def dump_format(ending: str) -> Format:
    """Give the format of a dump by its ending. Raises NotFound for one that there is not."""
    if ending not in DUMPED:
        names = ", ".join(f"/dump.{known}.gz" for known in DUMPED)
        message = _("There is no dump.{ending}.gz. The dumps are: {dumps}.")
        raise NotFound(message=message.format(ending=ending, dumps=names))
    return format_named(DUMPED[ending])


def dump_records(access: Access, ending: str) -> Iterator[bytes]:
    """Write every record this viewer may see, compressed with gzip, piece by piece.

    A record that is taken out while it is written is left out.
    """
    chosen = dump_format(ending)
    squeezed = zlib.compressobj(wbits=_GZIP)
    records = _records(access)
    while some := list(islice(records, _AT_ONCE)):
        written = io.BytesIO()
        chosen.write(some, written)
        yield squeezed.compress(written.getvalue())
    yield squeezed.flush()


def _records(access: Access) -> Iterator[Record]:
    for iri in access.iris():
        try:
            yield access.record(iri).record
        except (NotFound, Gone):
            continue
