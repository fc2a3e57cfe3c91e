"""All the forms in which one record can be taken along, for a list of links beside it."""

from __future__ import annotations

from dataclasses import dataclass

from guardbook.exports.formats import formats_of
from guardbook.records.base import Record
from guardbook.wording import _

_ON_PAPER = frozenset({"fragment", "host"})
PDF, ZIP = "application/pdf", "application/zip"


@dataclass(frozen=True, kw_only=True)
class Way:
    """One form: its proper name, what it is, its media type, and its address below the root."""

    label: str
    about: str
    media_type: str
    address: str


def ways_to_take(record: Record) -> tuple[Way, ...]:
    """Give the forms that a record can be taken along in, in the language now spoken."""
    told = (
        Way(
            label=_(found.label),
            about=_(found.about),
            media_type=found.media_type,
            address=found.address_of(record),
        )
        for found in formats_of(record.kind)
    )
    return (*_on_paper(record), *told, _packet(record))


def _on_paper(record: Record) -> tuple[Way, ...]:
    if record.kind not in _ON_PAPER:
        return ()
    sheet = _("a sheet for scholars, with drawings and the sources of what is said")
    report = _("a report for the owner: before treatment, what was done, and what became of everything")
    papers = (("sheet.pdf", sheet), ("report.pdf", report))
    return tuple(
        Way(label="PDF", about=about, media_type=PDF, address=f"/{record.short}/{name}")
        for name, about in papers
    )


def _packet(record: Record) -> Way:
    about = _("a packet for deposit: this record and all that it hangs on, with pictures and explanations")
    return Way(label="ZIP", about=about, media_type=ZIP, address=f"/api/packet?id={record.short}")
