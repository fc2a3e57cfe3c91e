"""Hand records on in one of the formats."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import BinaryIO

from guardbook.catalogue.access import Access
from guardbook.errors import WrongUse
from guardbook.exports.formats import Format, format_named
from guardbook.records.base import Record


def export_records(access: Access, names: Sequence[str] | None, format_name: str, output: BinaryIO) -> Format:
    """Write the named records (all of them for None) to `output`, and give the format.

    Names may be identifiers in any spelling or workshop numbers. Raises NotFound, before anything is
    written, where one of them is of no record; WrongUse for an unknown format or for no names.
    """
    chosen = format_named(format_name)
    if names is not None and not names:
        raise WrongUse(message="Say which records to export, or ask for all of them.")
    iris = access.iris() if names is None else [access.resolve(name) for name in names]
    records = _with_events(access, _pieces(iris, names)) if chosen.of_pieces else _records(access, iris)
    chosen.write(records, output)
    return chosen


def _pieces(iris: Iterable[str], names: Sequence[str] | None) -> Iterator[str]:
    """Give the pieces among the records. Raises WrongUse where records were named and none is a piece."""
    pieces = [iri for iri in iris if "/fragment/" in iri]
    if names and not pieces:
        raise WrongUse(message="This format has a row for each piece, and none of these records is a piece.")
    return iter(pieces)


def _with_events(access: Access, pieces: Iterable[str]) -> Iterator[Record]:
    """Give each piece with its placings and separations after it, in the order of their dates."""
    for iri in pieces:
        yield access.record(iri).record
        events = [access.record(other).record for other in access.linked(iri, "piece")]
        yield from sorted(
            events, key=lambda event: (getattr(event, "when", None) or "", event.kind, event.id)
        )


def _records(access: Access, iris: Iterable[str]) -> Iterator[Record]:
    return (access.record(iri).record for iri in iris)
