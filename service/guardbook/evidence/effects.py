"""What each option would do to access, evidence, function, visibility and undoing, as the record tells."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType
from typing import Any

from guardbook import settings
from guardbook.binding.dossier import Dossier
from guardbook.binding.replay import life_of
from guardbook.errors import BrokenShapes
from guardbook.evidence.done import allowed_for, examined
from guardbook.evidence.examination_table import ExaminationRow, examination_table
from guardbook.records import terms
from guardbook.records.image import Image
from guardbook.records.placing import Placing
from guardbook.wording import _, language, ngettext

FILE = "options.toml"
_IN_PLACE = frozenset({"in-place", "before-lifting"})


@dataclass(frozen=True, kw_only=True)
class OptionRow:
    """One option: what it puts out of reach in the end, told by `reach`, and its words by aspect."""

    out_of_reach: frozenset[str]
    is_lifted: bool
    reach: str
    words: Mapping[str, str]


@dataclass(frozen=True, kw_only=True)
class Effect:
    """What an option does in one respect."""

    aspect: str
    label: str
    words: str

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {"aspect": self.aspect, "label": self.label, "words": self.words}


@dataclass(frozen=True)
class OptionTable:
    """All options, and the names of the aspects."""

    aspects: Mapping[str, str]
    options: Mapping[str, OptionRow]


@lru_cache(maxsize=1)
def option_table() -> OptionTable:
    """Give the options. Raises BrokenShapes where the table cannot be used."""
    path = settings.current().shapes / FILE
    try:
        table = tomllib.loads(path.read_text(encoding="utf-8"))
        aspects = table["aspects"]
        options = {
            slug: OptionRow(
                out_of_reach=frozenset(row["out_of_reach"]),
                is_lifted=row["is_lifted"],
                reach=row["reach"],
                words={name: row[name] for name in aspects},
            )
            for slug, row in table["options"].items()
        }
    except (OSError, tomllib.TOMLDecodeError, KeyError, TypeError) as error:
        told = _("{file} cannot be used: {reason}")
        raise BrokenShapes(message=told.format(file=path.name, reason=error)) from error
    return OptionTable(MappingProxyType(aspects), MappingProxyType(options))


def effects_of(dossier: Dossier, piece: str, option: str) -> tuple[Effect, ...]:
    """Say what an option would do to a piece and its volume, aspect by aspect."""
    table = option_table()
    row = table.options.get(option)
    if row is None:
        return ()
    facts = _facts(dossier, piece)
    return tuple(
        Effect(aspect=aspect, label=_(label), words=_(row.words[aspect]).format_map(facts))
        for aspect, label in table.aspects.items()
    )


def out_of_reach(dossier: Dossier, piece: str, option: str) -> tuple[str, ...]:
    """Name the examinations, not done yet, that an option puts out of reach in the end, or allows in part.

    What a planned removal allows for will be done where the piece is lifted, and is not named.
    """
    row = option_table().options.get(option)
    if row is None:
        return ()
    will_be_done = allowed_for(dossier.events_of_piece(piece)) if row.is_lifted else set()
    return tuple(
        one.label if one.once_back == "no" else f"{one.label} ({_(one.limited)})"
        for one in _not_done(dossier, piece)
        if one.once_back in row.out_of_reach and one.slug not in will_be_done
    )


def reach_words(option: str, examinations: Iterable[str]) -> str:
    """Tell in a sentence which examinations an option puts out of reach; nothing where there are none."""
    row, names = option_table().options.get(option), "; ".join(examinations)
    return _(row.reach).format(examinations=names) if row and names else ""


def _not_done(dossier: Dossier, piece: str) -> list[ExaminationRow]:
    done = examined(dossier, piece)
    return [row for row in examination_table() if row.slug not in done]


def _facts(dossier: Dossier, piece: str) -> dict[str, str]:
    placing = _placing(dossier, piece)
    fixing = _listed("fixing", placing.fixings) if placing else ""
    function = terms.label("function", placing.function, language()) if placing and placing.function else ""
    return {
        "place": _place(dossier, piece, placing),
        "fixing": fixing or _("not recorded"),
        "work": _("serving as {function}").format(function=function)
        if function
        else _("in a function that is not recorded"),
        "seen": _seen(placing),
    }


def _placing(dossier: Dossier, piece: str) -> Placing | None:
    """Give the placing of the stay a piece is in, or of its last one."""
    stays = life_of(dossier, piece).stays
    return stays[-1].placing if stays else None


def _place(dossier: Dossier, piece: str, placing: Placing | None) -> str:
    measured = placing is not None and any(
        position.certainty == "measured" and position.x is not None for position in placing.positions
    )
    pictures = [
        record
        for record in dossier.records.values()
        if isinstance(record, Image) and piece in record.depicts and record.moment in _IN_PLACE
    ]
    count = len(pictures)
    if measured and not count:
        return _("its place is measured, and no image shows it there")
    if not count:
        return _("its place is not measured, and no image shows it there")
    if measured:
        told = ngettext(
            "its place is measured, and {count} image shows it there",
            "its place is measured, and {count} images show it there",
            count,
        )
    else:
        told = ngettext(
            "its place is not measured, but {count} image shows it there",
            "its place is not measured, but {count} images show it there",
            count,
        )
    return told.format(count=count)


def _seen(placing: Placing | None) -> str:
    shown = {p.visible_in_place for p in placing.positions if p.visible_in_place} if placing else set()
    return _listed("visibility-in-place", sorted(shown)) or _("not recorded")


def _listed(scheme: str, slugs: Iterable[str | None]) -> str:
    return ", ".join(terms.label(scheme, slug, language()) for slug in slugs if slug)
