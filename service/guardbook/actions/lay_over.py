"""Lay two stages over each other, of one volume or of two that held the same piece."""

from __future__ import annotations

from guardbook.actions.binding_dossier import dossier_of_hosts, host_called
from guardbook.binding.overlay import overlay_of
from guardbook.binding.overlay_parts import Overlay
from guardbook.binding.plane_keys import plane_called
from guardbook.binding.shared_stages import shared_stages
from guardbook.catalogue.access import Access


def lay_over(
    access: Access,
    a: str,
    b: str,
    *,
    stage_a: int | None = None,
    stage_b: int | None = None,
    plane: str | None = None,
) -> Overlay:
    """Lay two volumes, each by an identifier or a workshop number, over each other at stages by number.

    A stage that is not said is one at which the volume held what both of them held. `plane` is named as
    `plane_key` writes it (None: the one the shared piece lies on). Raises NotFound, Gone, and WrongUse for a
    record that is no volume, a stage it does not have or a plane that there is not.
    """
    hosts = [host_called(access, name) for name in (a, b)]
    wanted = None if plane is None else plane_called(plane)
    dossier = dossier_of_hosts(access, hosts)
    chosen = shared_stages(dossier, hosts[0], hosts[1])
    first = chosen[0] if stage_a is None else stage_a
    second = chosen[1] if stage_b is None else stage_b
    return overlay_of(dossier, (hosts[0].id, first), (hosts[1].id, second), wanted)
