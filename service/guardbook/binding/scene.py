"""A volume at one stage as one data structure: its planes, and every piece in place on them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from guardbook.binding.contradictions import Contradiction
from guardbook.binding.dossier import Dossier
from guardbook.binding.host_states import HostState, lives_at_host, states_of
from guardbook.binding.layout import layout_clashes
from guardbook.binding.planes import PlaneName
from guardbook.binding.replay import Life
from guardbook.binding.scene_facts import (
    SceneGathering,
    SceneRegistration,
    SceneSize,
    SceneStage,
    facts_json,
    gatherings_of,
    scene_registration,
    scene_stages,
    size_of,
    stage_words,
)
from guardbook.binding.scene_items import Setting
from guardbook.binding.scene_parts import SceneGap, SceneItem, all_json
from guardbook.binding.scene_planes import ScenePlane
from guardbook.binding.setting_out import SettingOut
from guardbook.binding.stage_order import stage_clashes
from guardbook.errors import NotFound, WrongUse
from guardbook.wording import _


@dataclass(frozen=True, kw_only=True)
class Scene:
    """A volume at a stage: planes with what lies on them, what has no place, and what cannot all be true.

    `stages` are all stages of the volume, so that one can go on to the next.
    """

    host: str
    name: str
    stage: int
    stage_words: str
    stages: tuple[SceneStage, ...]
    size: SceneSize
    gatherings: tuple[SceneGathering, ...]
    registration: SceneRegistration | None
    planes: tuple[ScenePlane, ...]
    unplaced: tuple[SceneItem, ...] = ()
    unplaced_gaps: tuple[SceneGap, ...] = ()
    contradictions: tuple[Contradiction, ...] = ()

    def plane(self, name: PlaneName) -> ScenePlane | None:
        """Give a plane of the scene, or None if nothing is known of it."""
        return next((found for found in self.planes if found.plane == name), None)

    def of_piece(self, iri: str) -> tuple[SceneItem, ...]:
        """Give a piece wherever it is in the scene, those without a place too."""
        everywhere = (*(item for plane in self.planes for item in plane.items), *self.unplaced)
        return tuple(item for item in everywhere if item.piece == iri)

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data; lengths in mm."""
        return {
            "host": self.host,
            "name": self.name,
            "stage": self.stage,
            "stageWords": self.stage_words,
            "stages": [facts_json(stage) for stage in self.stages],
            "size": facts_json(self.size),
            "gatherings": [facts_json(gathering) for gathering in self.gatherings],
            "registration": facts_json(self.registration) if self.registration else None,
            "planes": [plane.as_json() for plane in self.planes],
            "unplaced": all_json(self.unplaced),
            "unplacedGaps": all_json(self.unplaced_gaps),
            "contradictions": [clash.as_json() for clash in self.contradictions],
        }


def scene_of(dossier: Dossier, host: str, stage: int) -> Scene:
    """Work out a volume at a stage from the records of a dossier.

    Neighbours and gaps are known as far as the dossier holds all events of the volume and of its pieces. What
    is only planned has not happened: a stage that is only planned is shown as the volume stands, and says so.
    Raises NotFound where the volume is not in the dossier, and WrongUse for a stage that it does not have.
    """
    lives = {life.piece: life for life in lives_at_host(dossier, host)}
    state = _state(dossier, host, stage, lives.values())
    set_out = SettingOut(Setting(dossier, host, stage, lives), state)
    record = dossier.host(host)
    return Scene(
        host=host,
        name=dossier.name(host),
        stage=stage,
        stage_words=_stage_words(state),
        stages=scene_stages(dossier, host),
        size=size_of(record),
        gatherings=gatherings_of(record),
        registration=scene_registration(record, stage),
        planes=set_out.planes(),
        unplaced=set_out.unplaced(),
        unplaced_gaps=set_out.unplaced_gaps(),
        contradictions=tuple(_contradictions(dossier, state, lives.values())),
    )


def _stage_words(state: HostState) -> str:
    words = stage_words(state.stage)
    if not state.is_planned:
        return words
    return _("{stage} (only planned, shown as the volume stands)").format(stage=words)


def _state(dossier: Dossier, host: str, stage: int, lives: Iterable[Life]) -> HostState:
    if dossier.host(host) is None:
        raise NotFound(message=_("There is no record of the volume {record} here.").format(record=host))
    found = states_of(dossier, host, lives, only=stage)
    if not found:
        known = ", ".join(str(state.number) for state in states_of(dossier, host, ()))
        told = _("{volume} has no stage {number}. Its stages are: {numbers}.")
        raise WrongUse(message=told.format(volume=dossier.name(host), number=stage, numbers=known))
    return found[0]


def _contradictions(dossier: Dossier, state: HostState, lives: Iterable[Life]) -> Iterator[Contradiction]:
    """Give what clashes at this volume: in the order of events, and in the places of pieces at this stage."""
    own = {event.id for event in dossier.events_at_host(state.host)}
    for life in lives:
        yield from (clash for clash in life.contradictions if own & set(clash.events))
    yield from stage_clashes(dossier, state.host)
    yield from layout_clashes([state], dossier)
