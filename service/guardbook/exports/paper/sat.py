"""Where a piece sat, on a scholar's sheet: stay by stay, in the words of `where`, and where it is now."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from guardbook.binding.contradictions import sentence
from guardbook.binding.place_words import certainty_words
from guardbook.binding.stays import Lying, Stay
from guardbook.binding.whereabouts import StayTold
from guardbook.exports.paper.afterwards import now_line
from guardbook.exports.paper.blocks import Block, Paragraph, facts, table
from guardbook.exports.paper.matter import Matter
from guardbook.exports.paper.places import places_told, volume_line
from guardbook.exports.paper.said import date_said, days_written_out, listed, term
from guardbook.records.fragment import Fragment
from guardbook.records.host import Stage
from guardbook.wording import _


def where_it_sat(matter: Matter) -> Iterator[Block]:
    """Tell where the piece sat, where it is, what it was cut from, and what of this cannot be true."""
    told = matter.whereabouts
    rows = [row for stay in told.stays for row in _rows(matter, stay)] if told else []
    head = (_("Volume"), _("As what"), _("When"), _("Where"), _("How well known"))
    yield from table(head, rows, (2.8, 1.8, 2.4, 4.4, 1.6))
    cut_from = matter.subject.carrier_places if isinstance(matter.subject, Fragment) else ()
    yield from facts(
        [
            *((_("Now"), now_line(matter, one.now, located=False)) for one in matter.pieces),
            (_("Cut from"), "; ".join(_cut(matter, place.carrier, place.carrier_leaf) for place in cut_from)),
        ]
    )
    if not rows:
        yield Paragraph(_("Where it sat is not recorded"))
    for clash in matter.contradictions:
        words = _("Contradiction: {words}").format(words=days_written_out(clash.found))
        yield Paragraph(words)


def _cut(matter: Matter, carrier: str, leaf: str | None) -> str:
    return listed([matter.name(carrier), _("leaf {number}").format(number=leaf) if leaf else ""])


def _rows(matter: Matter, told: StayTold) -> Iterator[tuple[str, ...]]:
    """Give a row for each way in which a piece lay during a stay."""
    stay, host = told.stay, matter.dossier.host(told.stay.host)
    function = stay.said("function")
    ways = [(lying, list(lays)) for lying, lays in groupby(told.lays, key=lambda lay: lay.lying)]
    for lying, lays in ways:
        yield (
            volume_line(host) if host else matter.name(stay.host),
            term("function", function) if function else "",
            _when([stage for lay in lays for stage in lay.stages]),
            _where(stay, lying),
            listed(dict.fromkeys(certainty_words(position) for position in lying.positions)),
        )


def _where(stay: Stay, lying: Lying) -> str:
    return places_told(stay, lying) or _("not recorded")


def _when(stages: Sequence[Stage]) -> str:
    if not stages:
        return ""
    first, last = _stage(stages[0]), _stage(stages[-1])
    if len(stages) == 1:
        return sentence(first)
    return sentence(_("from {start} to {end}").format(start=first, end=last))


def _stage(stage: Stage) -> str:
    name = stage.name or term("stage-kind", stage.stage_kind)
    if not stage.when:
        return _("stage {number} ({name})").format(number=stage.number, name=name)
    when = date_said(stage.when)
    return _("stage {number} ({name}, {date})").format(number=stage.number, name=name, date=when)
