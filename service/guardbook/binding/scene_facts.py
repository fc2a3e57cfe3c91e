"""What a scene says of the whole volume: its size, its gatherings, its stages, how its cover lay."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from guardbook.binding.dossier import Dossier
from guardbook.binding.host_states import states_of
from guardbook.binding.stations_in_use import registration_at
from guardbook.binding.transforms import Affine, shift
from guardbook.records import terms
from guardbook.records.base import camel
from guardbook.records.host import HostVolume, Stage
from guardbook.wording import _


@dataclass(frozen=True, kw_only=True)
class SceneSize:
    """The size of the volume in mm, as far as it is known: its leaves, text block and spine."""

    height: float | None = None
    width: float | None = None
    thickness: float | None = None
    spine_width: float | None = None

    @property
    def half_spine(self) -> float | None:
        """Give half the width of the spine, or of the text block where only its thickness is known."""
        width = self.spine_width or self.thickness
        return width / 2 if width else None


@dataclass(frozen=True, kw_only=True)
class SceneGathering:
    """A gathering of the text block: its number from the front, its leaves, its thickness in mm."""

    number: int
    leaf_count: int | None = None
    thickness: float | None = None


@dataclass(frozen=True, kw_only=True)
class SceneRegistration:
    """How the cover lies on the text block: `dx`, `dy` (mm) are added to coordinates on the cover's outside.

    `of_stage` is the stage it is stated for, which is the last before where the stage itself has none.
    """

    dx: float
    dy: float
    certainty: str | None = None
    of_stage: int | None = None

    @property
    def way(self) -> Affine:
        """Give the way from the outside of the cover to the back of the text block."""
        return shift(self.dx, self.dy)


@dataclass(frozen=True, kw_only=True)
class SceneStage:
    """One of the stages of the volume, in words; `is_planned` where it has not come about."""

    number: int
    words: str
    when: str | None = None
    is_planned: bool = False


Fact = SceneSize | SceneGathering | SceneRegistration | SceneStage


def facts_json(fact: Fact) -> dict[str, Any]:
    """Give a fact as plain data."""
    return {camel(name): value for name, value in vars(fact).items()}


def size_of(host: HostVolume | None) -> SceneSize:
    """Give the size of a volume as its record has it."""
    names = ("height", "width", "thickness", "spine_width")
    values = {name: getattr(host, name, None) for name in names}
    return SceneSize(**{name: None if value is None else float(value) for name, value in values.items()})


def gatherings_of(host: HostVolume | None) -> tuple[SceneGathering, ...]:
    """Give the gatherings of a volume from the front."""
    found = [
        SceneGathering(
            number=one.number,
            leaf_count=one.leaf_count,
            thickness=None if one.thickness is None else float(one.thickness),
        )
        for one in (host.gatherings if host else ())
    ]
    return tuple(sorted(found, key=lambda one: one.number))


def scene_registration(host: HostVolume | None, stage: int) -> SceneRegistration | None:
    """Give how the cover lay at a stage, as stated for it or for the last stage before."""
    found = registration_at(host, stage)
    if found is None:
        return None
    said, of_stage = found
    return SceneRegistration(
        dx=float(said.dx), dy=float(said.dy), certainty=said.certainty, of_stage=of_stage
    )


def scene_stages(dossier: Dossier, host: str) -> tuple[SceneStage, ...]:
    """Give the stages of a volume in words, the first first."""
    return tuple(
        SceneStage(
            number=state.number,
            words=stage_words(state.stage),
            when=state.stage.when,
            is_planned=state.is_planned,
        )
        for state in states_of(dossier, host, ())
        if state.stage
    )


def stages_come_about(dossier: Dossier, host: str) -> tuple[int, ...]:
    """Give the numbers of the stages that are not only planned, the first first; never none.

    A volume that is only planned, or has no stages, is seen at its first.
    """
    states = states_of(dossier, host, ())
    return tuple(state.number for state in states if not state.is_planned) or (states[0].number,)


def stage_words(stage: Stage | None) -> str:
    """Call a stage by its name, or by its kind."""
    if stage is None:
        return _("stage not recorded")
    return stage.name or terms.label("stage-kind", stage.stage_kind)
