"""Show the planes of a volume for a piece to be placed on."""

from __future__ import annotations

from collections.abc import Iterable

from guardbook.actions.binding_dossier import dossier_of_hosts, host_called
from guardbook.binding.ground import Ground, ground_of
from guardbook.binding.plane_keys import plane_called
from guardbook.binding.scene_facts import stages_come_about
from guardbook.catalogue.access import Access


def ground_for_placing(
    access: Access, name: str, stage: int | None = None, planes: Iterable[str] = ()
) -> Ground:
    """Give the planes of the volume of an identifier or a workshop number at a stage (None: as it stands).

    `planes` are the keys of others (`fold-7`), on which nothing is known to lie yet. What this viewer may not
    see is left out. Raises NotFound, Gone, and WrongUse for a record that is no volume, a stage that it does
    not have, or a key that names no plane.
    """
    host = host_called(access, name)
    dossier = dossier_of_hosts(access, [host])
    chosen = stages_come_about(dossier, host.id)[-1] if stage is None else stage
    return ground_of(dossier, host.id, chosen, map(plane_called, planes))
