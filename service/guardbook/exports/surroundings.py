"""What a format may ask about beside the records it is handed, all of it as the viewer may see it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from typing import Any, BinaryIO, Protocol

from guardbook.catalogue.revisions import Kept
from guardbook.errors import NotFound
from guardbook.records.base import Record
from guardbook.wording import _


def _nothing_kept(_iri: str) -> Kept | None:
    return None


def _nothing_linked(_iri: str, _field: str) -> tuple[str, ...]:
    return ()


def _nothing_laid_out(iri: str) -> dict[str, Any]:
    raise NotFound(message=_("Nothing of {record} can be laid out.").format(record=iri))


def _cannot_be_laid_out(_iri: str) -> bool:
    return False


@dataclass(frozen=True, kw_only=True)
class Surroundings:
    """The catalogue around some records.

    `kept` gives a record with its revision, or None where this viewer may not see it; `linked` the IRIs of
    the records that name one in a field. `manifest` lays a record out as an IIIF manifest, and raises
    NotFound where `can_be_laid_out` says no. `at` is where this instance is reached (None: at the base of
    its IRIs), `language` that of labels, `today` the day of the export.
    """

    kept: Callable[[str], Kept | None] = _nothing_kept
    linked: Callable[[str, str], tuple[str, ...]] = _nothing_linked
    manifest: Callable[[str], dict[str, Any]] = _nothing_laid_out
    can_be_laid_out: Callable[[str], bool] = _cannot_be_laid_out
    at: str | None = None
    language: str = "en"
    today: date = field(default_factory=lambda: datetime.now(UTC).date())

    def record(self, iri: str | None) -> Record | None:
        """Give a record, or the record that a part belongs to, or None."""
        kept = self.kept(iri.partition("#")[0]) if iri else None
        return kept.record if kept else None

    def name(self, iri: str | None) -> str | None:
        """Give what a record is called, or None."""
        record = self.record(iri)
        return record.display_title if record else None


ALONE = Surroundings()


class Writer(Protocol):
    """Writes records, taken one after the other, as bytes."""

    def __call__(self, records: Iterable[Record], output: BinaryIO, around: Surroundings = ALONE, /) -> None:
        """Write them."""


def by_themselves(write: Callable[[Iterable[Record], BinaryIO], None]) -> Writer:
    """Give a writer that asks nothing beside its records."""

    def writer(records: Iterable[Record], output: BinaryIO, _around: Surroundings = ALONE, /) -> None:
        write(records, output)

    return writer
