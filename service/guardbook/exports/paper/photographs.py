"""Photographs on paper: which belong to which part of a report, with what each shows, when and by whom."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from guardbook.binding.contradictions import sentence
from guardbook.exports.paper.blocks import Block, Picture, Pictures
from guardbook.exports.paper.matter import Matter, Pictured
from guardbook.exports.paper.said import date_said, listed, term
from guardbook.wording import _

BEFORE = frozenset({"in-place", "before-lifting"})
DURING = frozenset({"during-lifting"})
AFTER = frozenset({"after-lifting", "after-return"})
MOMENTS = (*sorted(BEFORE | DURING | AFTER), None)


def photographs(
    matter: Matter, moments: Iterable[str | None], at_most: int | None = None
) -> tuple[Block, ...]:
    """Give the photographs taken at some moments, oldest first; no block where there are none."""
    wanted = set(moments)
    found = [one for one in matter.pictures if one.image.moment in wanted][:at_most]
    return (Pictures(tuple(_printed(matter, one) for one in found)),) if found else ()


def other_photographs(matter: Matter) -> tuple[Block, ...]:
    """Give the photographs of which the moment is not said."""
    return photographs(matter, {None})


def files_of(matter: Matter) -> Mapping[str, bytes]:
    """Give all photographs by the names that their files have on paper."""
    return {_file_name(one): one.jpeg for one in matter.pictures if one.jpeg}


def _file_name(one: Pictured) -> str:
    return f"{one.image.identifier}.jpg" if one.jpeg else ""


def _printed(matter: Matter, one: Pictured) -> Picture:
    caption = ". ".join(sentence(part.rstrip(".")) for part in _caption(matter, one) if part) + "."
    return Picture(
        file=_file_name(one),
        caption=caption,
        alternative=_("Photograph: {caption}").format(caption=caption),
        instead="" if one.jpeg else _instead(one),
    )


def _caption(matter: Matter, one: Pictured) -> Iterator[str]:
    image = one.image
    yield image.title or listed(
        matter.piece(iri) if matter.dossier.piece(iri) else matter.name(iri) for iri in image.depicts
    )
    said = [
        term("moment", image.moment) if image.moment else "",
        term("technique", image.technique) if image.technique and image.technique != "visible-light" else "",
        date_said(image.when),
        matter.name(image.by) if image.by else "",
    ]
    yield listed(said)
    yield listed([image.rights_holder or "", image.licence or ""] if matter.is_public else [])
    yield image.identifier


def _instead(one: Pictured) -> str:
    if one.image.address:
        return _("The picture is not kept here. It is at {address}").format(address=one.image.address)
    return _("The file of this picture is not here, or cannot be printed.")
