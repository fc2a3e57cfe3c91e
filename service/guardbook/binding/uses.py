"""Which of the uses of a piece a trace was made in: the one of a stay, an earlier or a later one."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from types import MappingProxyType

from guardbook.binding.replay import Life
from guardbook.binding.stays import Stay
from guardbook.records.fragment import Fragment, Series
from guardbook.records.placing import Position

# uses in the order in which they came
USE_ORDER: MappingProxyType[str, int] = MappingProxyType(
    {"carrier": 0, "first-use": 1, "second-use": 2, "later-use": 3}
)
Standing = Callable[[Series | None], str | None]


def standing_of(piece: Fragment, life: Life | None, stay: Stay) -> Standing:
    """Give what says of a series whether it was made `now` (in the use of this stay), `earlier` or `later`.

    By the order of the volumes the piece was in; within one volume, and where the volume of a series is not
    known, by the names of the uses. None where nothing tells.
    """
    uses = uses_of(life.stays) if life else ()
    hosts = list(dict.fromkeys(use[0].host for use in uses))
    here = _rank_here(piece, uses, stay)

    def standing(series: Series | None) -> str | None:
        if series is None:
            return None
        if series.host in hosts and stay.host in hosts and series.host != stay.host:
            return "earlier" if hosts.index(series.host) < hosts.index(stay.host) else "later"
        there = USE_ORDER.get(series.use or "")
        if here is None or there is None:
            return "now" if series.host == stay.host else None
        return "now" if there == here else "earlier" if there < here else "later"

    return standing


def uses_of(stays: Sequence[Stay]) -> tuple[tuple[Stay, ...], ...]:
    """Gather the stays of a piece into uses: one put back just as it lay goes on with the same use."""
    uses: list[tuple[Stay, ...]] = []
    for stay in stays:
        if uses and _goes_on(uses[-1][-1], stay):
            uses[-1] = (*uses[-1], stay)
        else:
            uses.append((stay,))
    return tuple(uses)


def _goes_on(before: Stay, stay: Stay) -> bool:
    returned = stay.placing is not None and stay.placing.return_kind == "put-back-in-place"
    if not returned or before.host != stay.host or not before.lyings or not stay.lyings:
        return False
    return _places(before.lyings[-1].positions) == _places(stay.lyings[0].positions)


def _places(positions: Sequence[Position]) -> list[Position]:
    """Give positions without what is told of them, so that only their geometry counts."""
    untold = {"id": "#position-1", "certainty": None, "note": None, "visible_in_place": None}
    return [position.model_copy(update=untold) for position in positions]


def _rank_here(piece: Fragment, uses: Sequence[Sequence[Stay]], stay: Stay) -> int | None:
    """Give the rank of the use of a stay: those named for this volume, in order, are its uses in order."""
    named = {series.use or "" for series in piece.series if series.host == stay.host}
    ranks = sorted(USE_ORDER[use] for use in named if use in USE_ORDER)
    here = [use for use in uses if use[0].host == stay.host]
    at = next((number for number, use in enumerate(here) if stay in use), None)
    if at is None or not ranks:
        return None
    return ranks[at] if len(ranks) == len(here) else ranks[0] if len(ranks) == 1 else None
