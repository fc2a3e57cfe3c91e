"""List the stages of a volume, with how many pieces it held at each."""

from __future__ import annotations

from dataclasses import dataclass

from guardbook.actions.binding_dossier import dossier_of_hosts, host_called
from guardbook.binding.host_states import HostState, lives_at_host, states_of
from guardbook.binding.scene_facts import stage_words
from guardbook.catalogue.access import Access


@dataclass(frozen=True, kw_only=True)
class StageTold:
    """One stage: its number, what it is called, its date (EDTF), the pieces then in place."""

    number: int
    name: str
    kind: str | None
    when: str | None
    is_planned: bool
    pieces: int


def stages_of_host(access: Access, name: str) -> tuple[StageTold, ...]:
    """Give the stages of the volume of an identifier or a workshop number, the first first.

    Pieces that this viewer may not see are not counted. Raises NotFound, Gone, and WrongUse for a record
    that is no volume.
    """
    host = host_called(access, name)
    dossier = dossier_of_hosts(access, [host])
    return tuple(_told(state) for state in states_of(dossier, host.id, lives_at_host(dossier, host.id)))


def _told(state: HostState) -> StageTold:
    stage = state.stage
    return StageTold(
        number=state.number,
        name=stage_words(stage),
        kind=stage.stage_kind if stage else None,
        when=stage.when if stage else None,
        is_planned=state.is_planned,
        pieces=len({found.stay.piece for found in state.pieces}),
    )
