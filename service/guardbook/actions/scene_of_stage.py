"""Show a volume as it was at one of its stages: every piece in its place."""

from __future__ import annotations

from guardbook.actions.binding_dossier import dossier_of_hosts, host_called
from guardbook.binding.ordering import stages_of
from guardbook.binding.scene import Scene, scene_of
from guardbook.catalogue.access import Access


def scene_of_stage(access: Access, name: str, stage: int | None = None) -> Scene:
    """Give the volume of an identifier or a workshop number at a stage by number (None: the last).

    What this viewer may not see is left out. Raises NotFound, Gone, and WrongUse for a record that is no
    volume, or a stage that it does not have.
    """
    host = host_called(access, name)
    last = max((one.number for one in stages_of(host)), default=1)
    return scene_of(dossier_of_hosts(access, [host]), host.id, last if stage is None else stage)
