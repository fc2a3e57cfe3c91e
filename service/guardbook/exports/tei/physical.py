"""What it is made of and how large it is: the parts of `physDesc`."""

from __future__ import annotations

from decimal import Decimal
from typing import Any
from xml.etree.ElementTree import Element

from guardbook.exports.tei.elements import Child, element, joined, some
from guardbook.exports.tei.telling import Teller
from guardbook.records.carrier import Carrier
from guardbook.records.fragment import Fragment

Written = Fragment | Carrier


def dimensions(kind: str, **lengths: Decimal | None) -> Element | None:
    """Give lengths in mm as TEI has them: height, width and depth, in that order."""
    told = [
        element(name, _mm(value), quantity=_mm(value)) for name, value in lengths.items() if value is not None
    ]
    return element("dimensions", *told, type=kind, unit="mm") if told else None


def measure(kind: str, length: Decimal | None) -> Element | None:
    """Give one length in mm."""
    if length is None:
        return None
    return element("measure", f"{_mm(length)} mm", type=kind, quantity=_mm(length), unit="mm")


def _mm(length: Decimal) -> str:
    return format(length, "f")


def object_described(form: str | None, *parts: Child) -> Element | None:
    """Give `objectDesc`."""
    return some("objectDesc", *parts, form=form)


def support(teller: Teller, *further: Child) -> Element | None:
    """Give the material, its animal, its chain lines and its watermark."""
    record: Any = teller.record
    material = getattr(record, "material", None)
    told: list[Child] = [
        some("material", teller.term("material", material)),
        teller.term("animal", getattr(record, "animal", None)),
        getattr(record, "chain_lines", None),
        some("watermark", getattr(record, "watermark", None)),
    ]
    about = joined(told, "; ")
    held = element("support", *about) if about else None
    return some("supportDesc", held, *further, material=material)


def layout(record: Written) -> Element | None:
    """Give the written space, its lines and its ruling."""
    told = joined(
        [
            dimensions("written", height=record.written_height, width=record.written_width),
            measure("line-pitch", record.line_pitch),
            record.ruling,
        ]
    )
    counts = (record.columns, record.lines)
    if not told and counts == (None, None):
        return None
    made = element("layout", *told, columns=record.columns, writtenLines=record.lines)
    return element("layoutDesc", made)


def hand(teller: Teller, script: str | None) -> Element | None:
    """Give the script."""
    if script is None:
        return None
    return element("handDesc", element("handNote", teller.term("script", script), script=script))


def music(teller: Teller, notation: str | None) -> Element | None:
    """Give the musical notation."""
    return some("musicNotation", some("p", teller.term("notation", notation)))


def condition(text: str | None, *further: Child) -> Element | None:
    """Give the condition, with what else was seen."""
    told = [child for child in (some("p", text), *further) if child is not None]
    return element("condition", *told) if told else None
