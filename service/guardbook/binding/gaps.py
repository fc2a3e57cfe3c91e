"""What is known to be missing from a volume at a stage: pieces that were there before, and are no more."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from shapely.geometry.base import BaseGeometry

from guardbook.binding.contradictions import sentence
from guardbook.binding.dossier import Dossier
from guardbook.binding.host_states import InPlace
from guardbook.binding.scene_parts import SceneGap, SceneItem
from guardbook.binding.stays import Stay
from guardbook.records import terms
from guardbook.records.separation import Separation

# a piece of the same function that covers this share of a gap has taken its place
FILLED_SHARE = 0.5


def gone_by(stays: Iterable[Stay], stage: int) -> Iterator[InPlace]:
    """Give each piece that was there before a stage and is not at it, as it lay last."""
    last: dict[str, Stay] = {}
    there = set()
    for stay in stays:
        if stay.holds_at(stage):
            there.add(stay.piece)
        elif stay.to_stage is not None and stay.to_stage <= stage:
            last[stay.piece] = stay
    for piece, stay in last.items():
        if piece not in there and stay.lyings:
            yield InPlace(stay, stay.lyings[-1])


def gap_of(stay: Stay, item: SceneItem, now_there: Iterable[SceneItem], dossier: Dossier) -> SceneGap:
    """Make the gap a piece left where its last item was, with what of the items now there fills it."""
    leaving = stay.leaving
    replaced = leaving.replaced_by if isinstance(leaving, Separation) else None
    filled = next((one for one in now_there if _fills(one, item)), None)
    return SceneGap(
        piece=item.piece,
        name=item.name,
        words=_words(stay, item, replaced, dossier.name(filled.piece) if filled else None),
        outline=item.outline,
        measured=item.measured,
        function=item.function,
        event=leaving.id if leaving else None,
        replaced_by=replaced,
        filled_by=filled.piece if filled else None,
    )


def _fills(one: SceneItem, gone: SceneItem) -> bool:
    if one.function is None or one.function != gone.function or one.outline is None or gone.outline is None:
        return False
    wanted = FILLED_SHARE * gone.outline.area
    return _bounds_share(one.outline, gone.outline) >= wanted and bool(
        one.outline.intersection(gone.outline).area >= wanted
    )


def _bounds_share(one: BaseGeometry, two: BaseGeometry) -> float:
    """Give the area that two bounding boxes share, which is never less than what the outlines share."""
    left, bottom, right, top = one.bounds
    other_left, other_bottom, other_right, other_top = two.bounds
    width, height = (
        min(right, other_right) - max(left, other_left),
        min(top, other_top) - max(bottom, other_bottom),
    )
    return max(0.0, width) * max(0.0, height)


def _words(stay: Stay, item: SceneItem, replaced: str | None, filled: str | None) -> str:
    """Say what is missing, since when, and what took its place."""
    leaving = stay.leaving
    kind = leaving.separation_kind if isinstance(leaving, Separation) else None
    how = terms.label("separation-kind", kind) if kind else "gone"
    since = f"{item.name}: {how}, not there from stage {stay.to_stage} on"
    if filled:
        return sentence(f"{since}; {filled} lies there now.")
    if replaced and replaced != "nothing":
        return sentence(f"{since}; in its place: {terms.label('replacement', replaced)}.")
    unsaid = "nothing took its place" if replaced else "what took its place is not recorded"
    return sentence(f"{since}; {unsaid}.")
