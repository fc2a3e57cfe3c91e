"""The sheet for the bench: to print, and fill in by hand where no screen belongs."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict, dataclass
from datetime import datetime
from typing import Any

from guardbook.binding.scene_planes import ScenePlane
from guardbook.exports.paper.bench_fields import BenchStage, bench_stages
from guardbook.exports.paper.blank_plane import BlankPlane, blank_plane, empty_sheet, ruler
from guardbook.exports.paper.places import volume_line
from guardbook.exports.paper.qr import qr_svg
from guardbook.exports.paper.typesetting import NO_DAY, typeset
from guardbook.records.host import HostVolume
from guardbook.wording import _

EMPTY_SHEETS = 2


@dataclass(frozen=True)
class BenchSheet:
    """What stands on a sheet for a volume, or for one that is not recorded yet."""

    host: HostVolume | None
    keeper: str
    stages: tuple[BenchStage, ...]
    drawings: tuple[BlankPlane, ...]
    ruler: BlankPlane

    @property
    def volume(self) -> str:
        """Name the volume, or nothing."""
        return volume_line(self.host) if self.host else ""

    @property
    def qr(self) -> str:
        """Give the QR code of the volume, or nothing."""
        return qr_svg(self.host.id) if self.host else ""


def bench_sheet(host: HostVolume | None, keeper: str, planes: Iterable[ScenePlane]) -> BenchSheet:
    """Put a sheet together, in the language now spoken."""
    drawn = tuple(blank_plane(plane) for plane in planes)
    return BenchSheet(host, keeper, bench_stages(host), drawn or (empty_sheet(),) * EMPTY_SHEETS, ruler())


def set_bench_sheet(sheet: BenchSheet, paper: str = "a4", when: datetime = NO_DAY) -> bytes:
    """Set a sheet as PDF."""
    data: dict[str, Any] = {
        "title": _("Bench sheet: {volume}").format(volume=sheet.volume) if sheet.volume else _("Bench sheet"),
        "paper": paper,
        "volume": sheet.volume,
        "keeper": sheet.keeper,
        "identifier": sheet.host.identifier if sheet.host else "",
        "number": (sheet.host.workshop_number or "") if sheet.host else "",
        "qr": sheet.qr,
        "stages": [asdict(stage) for stage in sheet.stages],
        "drawings": [asdict(one) for one in sheet.drawings],
        "ruler": asdict(sheet.ruler),
        "words": words(sheet),
    }
    return typeset("bench_sheet", data, when=when)


def words(sheet: BenchSheet) -> dict[str, str]:
    """Give the words that stand on every sheet."""
    return {
        "kind": _("Bench sheet"),
        "volume": _("Volume"),
        "keeper": _("Kept by"),
        "identifier": _("Identifier"),
        "piece": _("Piece, from the label on its envelope"),
        "by": _("Filled in by"),
        "day": _("Day"),
        "drawing": _("Where it sits"),
        "draw": _(
            "Draw the outline of the piece in its place, its holes and folds; give each a number and its mm."
        ),
        "page": _("Page {number} of {count}"),
        "qr": _("QR code that leads to {address}").format(address=sheet.host.id) if sheet.host else "",
    }
