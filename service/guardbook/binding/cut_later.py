"""What a piece still had at a stage and lost later: its record has only the size it was left with."""

from __future__ import annotations

from collections.abc import Iterator

from shapely.geometry.base import BaseGeometry

from guardbook.binding.contradictions import event_words, sentence
from guardbook.binding.limits import Limits
from guardbook.binding.ordering import Step
from guardbook.binding.replay import Life
from guardbook.binding.scene_parts import SceneGap, SceneItem
from guardbook.binding.stays import Stay
from guardbook.records.alteration import Alteration
from guardbook.wording import _

CUTS = frozenset({"trimmed"})
# less than this share of the plane beyond an outline is how exactly it was measured, and no lost part
_LEAST_SHARE = 0.01


def cuts_after(life: Life | None, stay: Stay, stage: int) -> Iterator[Alteration]:
    """Give each time a piece was cut down after a stage of the volume it was in."""
    steps = life.steps if life else ()
    cuts = [(at, step) for at, step in enumerate(steps) if _is_cut(step)]
    if not cuts:
        return
    order = {step.event.id: at for at, step in enumerate(steps)}
    begun = order.get(stay.placing.id, -1) if stay.placing else -1
    ended = order.get(stay.leaving.id, len(steps)) if stay.leaving else len(steps)
    for at, step in cuts:
        within = begun < at and step.host == stay.host and (step.stage or 0) > stage
        if isinstance(step.event, Alteration) and (at > ended or within):
            yield step.event


def _is_cut(step: Step) -> bool:
    return isinstance(step.event, Alteration) and step.event.alteration_kind in CUTS


def cut_later(item: SceneItem, limits: Limits, cuts: Iterator[Alteration]) -> Iterator[SceneGap]:
    """Tell of each cut what it took off: where, as much of the stated plane as the outline leaves bare."""
    for cut in cuts:
        yield SceneGap(
            piece=item.piece,
            name=item.name,
            words=_words(item, cut),
            outline=_beyond(item, limits),
            measured=False,
            function=item.function,
            event=cut.id,
        )


def _beyond(item: SceneItem, limits: Limits) -> BaseGeometry | None:
    if not item.is_sheet or item.outline is None or limits.source != "stated":
        return None
    beyond = limits.box.difference(item.outline)
    return beyond if beyond.area > _LEAST_SHARE * limits.box.area else None


def _words(item: SceneItem, cut: Alteration) -> str:
    told = _("{piece}: larger than drawn; cut down later by {event}").format(
        piece=item.name, event=event_words(cut)
    )
    return sentence(f"{told}: {cut.description}" if cut.description else f"{told}.")
