"""Draw a piece where it sits or sat: its volume at the last stage of one of its stays, the piece outlined."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass

from guardbook.actions.draw_stage import StageDrawn, draw_stage
from guardbook.binding.stay_words import stage_words
from guardbook.binding.whereabouts import StayTold, Whereabouts
from guardbook.catalogue.access import Access
from guardbook.errors import NothingToDraw, WrongUse
from guardbook.wording import _


@dataclass(frozen=True, kw_only=True)
class StayPlace:
    """A stay that can be drawn: its number from 1, its volume, and the last stage of it."""

    number: int
    host: str
    host_name: str
    stage: int
    stage_words: str


def places_to_draw(told: Whereabouts) -> tuple[StayPlace, ...]:
    """Give where a piece sat, stay by stay, the first first."""
    return tuple(_place(stay, at, told) for at, stay in enumerate(told.stays, start=1))


def _place(one: StayTold, number: int, told: Whereabouts) -> StayPlace:
    stages = one.lays[-1].stages
    return StayPlace(
        number=number,
        host=one.stay.host,
        host_name=told.dossier.name(one.stay.host),
        stage=stages[-1].number if stages else one.stay.from_stage or 1,
        stage_words=stage_words(stages[-1]) if stages else "",
    )


def draw_in_place(
    access: Access,
    told: Whereabouts,
    number: int | None = None,
    *,
    link: Callable[[str], str] | None = None,
    id_prefix: str | None = None,
) -> tuple[StayPlace, StageDrawn] | None:
    """Draw the stay of a number (None: the last one), the piece outlined boldly.

    None where no stay is recorded, or none that anything can be drawn of. `link` and `id_prefix` are as in
    `draw_stage`. Raises WrongUse for a number that there is not.
    """
    places = places_to_draw(told)
    if number is not None and not 1 <= number <= len(places):
        name = told.dossier.name(told.piece)
        message = _("There is no stay {number} of {name}.").format(number=number, name=name)
        raise WrongUse(message=message)
    wanted = [places[number - 1]] if number else list(reversed(places))
    for place in (one for one in wanted if access.has(one.host)):
        with suppress(NothingToDraw):
            return place, draw_stage(
                access, place.host, place.stage, link=link, id_prefix=id_prefix, marked=told.piece
            )
    return None
