"""All the forms in which one record can be taken along, for a list of links beside it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from guardbook.exports.formats import formats_of
from guardbook.records.base import Record
from guardbook.wording import _, said_later

_ON_PAPER = frozenset({"fragment", "host"})
PDF, ZIP = "application/pdf", "application/zip"
# each heading, and the formats under it by their names
GROUPS = (
    (said_later("On paper"), ("labels",)),
    (said_later("As a citation"), ("citation", "csl", "bibtex", "ris", "datacite")),
    (said_later("As a description"), ("tei", "crm")),
    (said_later("For viewers of pictures"), ("iiif",)),
    (said_later("As a table"), ("csv", "xlsx")),
    (said_later("As RDF"), ("turtle", "jsonld", "trig", "nquads", "ntriples", "rdfxml")),
)


@dataclass(frozen=True, kw_only=True)
class Way:
    """One form: what it is called, what it is, its media type, and its address below the root."""

    label: str
    about: str
    media_type: str
    address: str


@dataclass(frozen=True, kw_only=True)
class Ways:
    """The forms under one heading."""

    title: str
    ways: tuple[Way, ...]


def ways_to_take(record: Record) -> tuple[Ways, ...]:
    """Give the forms that a record can be taken along in, in the language now spoken."""
    told = {found.name: found for found in formats_of(record.kind)}
    papers = tuple(_papers(record))
    groups = []
    for title, names in GROUPS:
        formats = [told[name] for name in names if name in told]
        ways = tuple(
            Way(
                label=_(one.label),
                about=_(one.about),
                media_type=one.media_type,
                address=one.address_of(record),
            )
            for one in formats
        )
        ways = (*(papers if title == GROUPS[0][0] else ()), *ways)
        groups += [Ways(title=_(title), ways=ways)] if ways else []
    return (*groups, Ways(title=_("For deposit"), ways=(_packet(record),)))


def _papers(record: Record) -> Iterator[Way]:
    if record.kind not in _ON_PAPER:
        return
    sheet = _("with drawings, and the sources of what is said")
    report = _("before treatment, what was done, and what became of everything")
    for label, about, name in (
        (_("Sheet for scholars"), sheet, "sheet.pdf"),
        (_("Report for the owner"), report, "report.pdf"),
    ):
        yield Way(label=label, about=about, media_type=PDF, address=f"/{record.short}/{name}")


def _packet(record: Record) -> Way:
    about = _("this record and all that it hangs on, with pictures and all that explains them")
    return Way(label=_("Packet"), about=about, media_type=ZIP, address=f"/api/packet?id={record.short}")
