"""What is known to be missing from a volume at a stage: pieces that were there before, and are no more."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import shapely

from guardbook.binding.contradictions import sentence
from guardbook.binding.dossier import Dossier
from guardbook.binding.host_states import InPlace
from guardbook.binding.scene_parts import SceneGap, SceneItem
from guardbook.binding.stays import Stay
from guardbook.records import terms
from guardbook.records.separation import Separation
from guardbook.wording import _

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


class NowThere:
    """The pieces on a plane at a stage, asked which of them lies where another one lay."""

    def __init__(self, items: Iterable[SceneItem]) -> None:
        self._items = [item for item in items if item.outline is not None]
        self._tree = shapely.STRtree([item.outline for item in self._items if item.outline is not None])

    def filling(self, gone: SceneItem) -> SceneItem | None:
        """Give a piece of the same function that covers most of where a piece lay, or None."""
        if gone.outline is None or gone.function is None or not self._items:
            return None
        near = (self._items[at] for at in sorted(self._tree.query(gone.outline).tolist()))
        return next((one for one in near if one.function == gone.function and _covers(one, gone)), None)


def _covers(one: SceneItem, gone: SceneItem) -> bool:
    if one.outline is None or gone.outline is None:
        return False
    return bool(one.outline.intersection(gone.outline).area >= FILLED_SHARE * gone.outline.area)


def gap_of(stay: Stay, item: SceneItem, now_there: NowThere, dossier: Dossier) -> SceneGap:
    """Make the gap a piece left where its last item was, with what of the items now there fills it."""
    leaving = stay.leaving
    replaced = leaving.replaced_by if isinstance(leaving, Separation) else None
    filled = now_there.filling(item)
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


def _words(stay: Stay, item: SceneItem, replaced: str | None, filled: str | None) -> str:
    """Say what is missing, since when, and what took its place."""
    leaving = stay.leaving
    kind = leaving.separation_kind if isinstance(leaving, Separation) else None
    how = terms.label("separation-kind", kind) if kind else _("gone")
    since = _("{piece}: {how}, not there from stage {number} on").format(
        piece=item.name, how=how, number=stay.to_stage
    )
    return sentence(f"{since}; {_instead(replaced, filled)}.")


def _instead(replaced: str | None, filled: str | None) -> str:
    if filled:
        return _("{piece} lies there now").format(piece=filled)
    if replaced and replaced != "nothing":
        return _("in its place: {replacement}").format(replacement=terms.label("replacement", replaced))
    return _("nothing took its place") if replaced else _("what took its place is not recorded")
