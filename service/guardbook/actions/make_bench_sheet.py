"""Make the sheet to print and fill in at the bench, for a volume or for one that is not recorded yet."""

from __future__ import annotations

from guardbook.actions.binding_dossier import host_called
from guardbook.actions.event_dossier import seen
from guardbook.actions.speaking_in import speaking_in
from guardbook.binding.dossier import Dossier
from guardbook.binding.scene import scene_of
from guardbook.binding.scene_facts import stages_come_about
from guardbook.binding.scene_planes import ScenePlane
from guardbook.catalogue.access import Access
from guardbook.errors import WrongUse
from guardbook.exports.paper.bench_sheet import BenchSheet, bench_sheet, set_bench_sheet
from guardbook.exports.paper.label_sheet import PAPERS
from guardbook.exports.paper.typesetting import NO_DAY
from guardbook.records.host import HostVolume
from guardbook.wording import _


def lay_out_bench_sheet(access: Access, name: str | None = None) -> BenchSheet:
    """Give what stands on the sheet for a volume (None: for any), in the language now spoken.

    Raises NotFound, Gone, and WrongUse for a record that is no volume.
    """
    host = host_called(access, name) if name else None
    keeper = next(seen(access, [host.keeper]), None) if host and host.keeper else None
    return bench_sheet(host, keeper.display_title if keeper else "", _planes(host) if host else ())


def make_bench_sheet(
    access: Access, name: str | None = None, *, in_language: str | None = None, paper: str = "a4"
) -> bytes:
    """Make it as PDF. Raises as `lay_out_bench_sheet`, and WrongUse for a paper or language there is not."""
    if paper not in PAPERS:
        raise WrongUse(
            message=_("There is no paper {paper}, only {papers}.").format(
                paper=repr(paper), papers=", ".join(PAPERS)
            )
        )
    with speaking_in(in_language):
        sheet = lay_out_bench_sheet(access, name)
        when = access.record(sheet.host.id).when if sheet.host else NO_DAY
        return set_bench_sheet(sheet, paper, when)


def _planes(host: HostVolume) -> tuple[ScenePlane, ...]:
    """Give the planes of a volume as it stands, with nothing on them."""
    dossier = Dossier.of([host])
    return scene_of(dossier, host.id, stages_come_about(dossier, host.id)[-1]).planes
