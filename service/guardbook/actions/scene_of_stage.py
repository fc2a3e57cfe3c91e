"""Show a volume as it was at one of its stages: every piece in its place."""

from __future__ import annotations

from guardbook.actions.binding_dossier import dossier_of_hosts, host_called
from guardbook.binding.scene import Scene, scene_of
from guardbook.binding.scene_facts import stages_come_about
from guardbook.catalogue.access import Access


def scene_of_stage(access: Access, name: str, stage: int | None = None) -> Scene:
    """Give the volume of an identifier or a workshop number at a stage by number (None: as it stands now).

    What this viewer may not see is left out. Raises NotFound, Gone, and WrongUse for a record that is no
    volume, or a stage that it does not have.
    """
    host = host_called(access, name)
    dossier = dossier_of_hosts(access, [host])
    chosen = stages_come_about(dossier, host.id)[-1] if stage is None else stage
    return scene_of(dossier, host.id, chosen)
