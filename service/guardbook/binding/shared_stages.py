"""The stages at which two volumes held the same piece, or one volume held it in two ways."""

from __future__ import annotations

from collections.abc import Sequence

from guardbook.binding.dossier import Dossier
from guardbook.binding.host_states import lives_at_host
from guardbook.binding.outlines import shape_of
from guardbook.binding.replay import Life
from guardbook.binding.scene_facts import stages_come_about
from guardbook.binding.stays import Stay
from guardbook.binding.uses import uses_of
from guardbook.records.host import HostVolume


def shared_stages(dossier: Dossier, a: HostVolume, b: HostVolume) -> tuple[int, int]:
    """Choose a stage of each volume at which it held the largest piece that both of them held.

    Of one volume with itself: a stage of the first and of the last use of that piece there. Where they share
    none, the first stage and the last of one volume, or the last stages of two.
    """
    lives = [life for life in lives_at_host(dossier, a.id) if _uses(life, a, b)]
    numbers = [stages_come_about(dossier, host.id) for host in (a, b)]
    found = max(lives, key=lambda life: _area(dossier, life), default=None)
    if found is None:
        return numbers[0][0 if a.id == b.id else -1], numbers[1][-1]
    first, second = _uses(found, a, b)
    return _stage(first, numbers[0]), _stage(second, numbers[1])


def _uses(life: Life, a: HostVolume, b: HostVolume) -> tuple[Sequence[Stay], ...]:
    """Give a use of a piece in either volume, or nothing if it was not used in both, or only once."""
    uses = uses_of(life.stays)
    in_a, in_b = ([use for use in uses if use[0].host == host.id] for host in (a, b))
    if a.id == b.id:
        return (in_a[0], in_b[-1]) if len(in_a) > 1 else ()
    return (in_a[0], in_b[0]) if in_a and in_b else ()


def _area(dossier: Dossier, life: Life) -> tuple[float, str]:
    piece = dossier.piece(life.piece)
    polygon = shape_of(piece).polygon if piece else None
    return (float(polygon.area) if polygon is not None else 0.0), life.piece


def _stage(use: Sequence[Stay], numbers: Sequence[int]) -> int:
    """Give the last stage of a use, of those that have come about."""
    held = [number for number in numbers if any(stay.holds_at(number) for stay in use)]
    return held[-1] if held else numbers[0]
