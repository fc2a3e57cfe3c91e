"""Labels for the envelopes and folders of pieces, and for the boxes of volumes: what stands on each."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from typing import BinaryIO

from guardbook.exports.paper.label_sheet import SHEETS, LabelSheet
from guardbook.exports.paper.places import BETWEEN, around_piece, last_stay, stay_line
from guardbook.exports.paper.qr import qr_svg
from guardbook.exports.paper.said import date_said, size, term
from guardbook.exports.paper.typesetting import NO_DAY, typeset
from guardbook.exports.surroundings import ALONE, Surroundings
from guardbook.records.base import Record
from guardbook.records.fragment import Fragment
from guardbook.records.host import HostVolume
from guardbook.wording import _, speaking

KINDS = frozenset({"fragment", "host"})
# what goes on a label at the smallest size; the record holds the rest
MOST_CHARACTERS = 160


@dataclass(frozen=True, kw_only=True)
class Label:
    """One label: whose it is, what it is called, what it is, where it sat, and its QR code as SVG."""

    iri: str
    identifier: str
    number: str
    title: str
    what: str
    where: str
    qr: str
    qr_says: str


def label_of(record: Record, around: Surroundings = ALONE) -> Label:
    """Give the label of a piece or a volume, in the language now spoken."""
    match record:
        case Fragment():
            what, where = _piece(record), _sat(record, around)
        case HostVolume():
            what, where = _volume(record), around.name(record.keeper) or ""
        case _:
            raise TypeError(f"no label for {record.kind}")
    return Label(
        iri=record.id,
        identifier=record.identifier,
        number=_short(record.workshop_number or ""),
        title=_short(record.display_title),
        what=_short(what),
        where=_short(where),
        qr=qr_svg(record.id),
        qr_says=_("QR code that leads to {address}").format(address=record.id),
    )


def set_labels(labels: Sequence[Label], sheet: LabelSheet, when: datetime = NO_DAY) -> bytes:
    """Set labels on sheets, or each on a page of its own size, as PDF."""
    data = {
        "title": _("Labels: {identifiers}").format(
            identifiers=", ".join(one.identifier for one in labels[:8])
        ),
        "sheet": {**asdict(sheet), "page_width": sheet.page[0], "page_height": sheet.page[1]},
        "labels": [asdict(one) for one in labels],
    }
    return typeset("label", data, when=when)


def write_labels(records: Iterable[Record], output: BinaryIO, around: Surroundings = ALONE, /) -> None:
    """Write the labels of pieces and volumes on sheets of A4, in the language asked for."""
    kept = [record for record in records if record.kind in KINDS]
    with speaking(around.language):
        labels = [label_of(record, around) for record in kept]
        output.write(set_labels(labels, SHEETS["a4"], newest(kept, around)))


def newest(records: Iterable[Record], around: Surroundings) -> datetime:
    """Give when the last saved of some records was saved: the day of what is told of them."""
    times = [kept.when for record in records if (kept := around.kept(record.id))]
    return max(times, default=NO_DAY).astimezone(UTC)


def _piece(piece: Fragment) -> str:
    said = [
        term("extent", piece.extent) if piece.extent else "",
        term("material", piece.material) if piece.material else "",
        size(piece.height, piece.width),
        date_said(piece.date_made),
    ]
    line = BETWEEN.join(part for part in said if part)
    return line[:1].upper() + line[1:]


def _sat(piece: Fragment, around: Surroundings) -> str:
    dossier = around_piece(piece, around)
    stay = last_stay(piece, dossier)
    return stay_line(stay, dossier) if stay else _("Where it sat is not recorded")


def _volume(host: HostVolume) -> str:
    said = [host.shelfmark or "", term("binding-kind", host.binding_kind) if host.binding_kind else ""]
    return BETWEEN.join(part for part in (*said, size(host.height, host.width)) if part)


def _short(text: str) -> str:
    # spaces that do not break keep a dot with what it follows
    line = re.sub(r"[ \t\n]+", " ", text).strip()
    return line if len(line) <= MOST_CHARACTERS else f"{line[: MOST_CHARACTERS - 1].rstrip()}…"
