"""Numbers and lengths as people write them: `45,5`, `12 cm`, `123 x 45,5 mm`, `12; 48,5; 97`.

What has one reading is read. What has two is read as the likelier one and tells the other, so that the
person can be asked. Anything else raises ValueError saying what was expected. Digits are kept: `45,50`
is 45.50, and `4,50 cm` is 45.0 mm.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

from guardbook.wording import _

MILLIMETRES_IN = {
    "mm": Decimal(1),
    "cm": Decimal(10),
    "m": Decimal(1000),
    "µm": Decimal("0.001"),
    # exact by definition: the international inch of 1959
    "in": Decimal("25.4"),
}
_SPELLINGS = {
    **{unit: unit for unit in MILLIMETRES_IN},
    **dict.fromkeys(("millimetre", "millimetres", "millimeter", "millimeters", "mm."), "mm"),
    **dict.fromkeys(("centimetre", "centimetres", "centimeter", "centimeters", "cm."), "cm"),
    **dict.fromkeys(("metre", "metres", "meter", "meters"), "m"),
    **dict.fromkeys(("μm", "um", "micron", "microns"), "µm"),
    **dict.fromkeys(("inch", "inches", '"', "″", "in."), "in"),
}
_LONGEST_NUMBER = 40
_MINUS = str.maketrans({"\u2212": "-", "\u2013": "-"})
_PLAIN = re.compile(r"[+-]?(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)")
_THOUSANDS_OR_DECIMALS = re.compile(r"[+-]?[1-9][0-9]{0,2}[.,][0-9]{3}")
_GROUPED = re.compile(
    r"[+-]?[1-9][0-9]{0,2}(?P<group>[.,'’\u00a0\u2009\u202f])[0-9]{3}(?:(?P=group)[0-9]{3})*"
    r"(?:(?!(?P=group))[.,][0-9]+)?"
)
_FRACTION = re.compile(
    r"(?:(?P<whole>[0-9]+)\s*)?(?P<sign>[¼½¾⅛⅜⅝⅞])"
    r"|(?P<before>[0-9]+)\s+(?P<over>[0-9]{1,2})/(?P<under>2|4|8|16|32)"
)
_SIGNS = {sign: Decimal(eighths) / 8 for sign, eighths in zip("⅛¼⅜½⅝¾⅞", range(1, 8), strict=True)}
_LENGTH = re.compile(r"(?P<number>.*?[0-9.,¼½¾⅛⅜⅝⅞])\s*(?P<unit>[^\W\d_]+\.?|[\"″])?")
_TIMES = re.compile(r"\s*(?:[x×*]|\bby\b)\s*", re.IGNORECASE)
_COMMA_LIST = re.compile(r"[0-9]+(?:,[0-9]+){2,}")
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2}(?:,[0-9]{3})+")


@dataclass(frozen=True)
class Read:
    """A number as it was read; `or_else` is the other reading in words, empty where there is none."""

    value: Decimal
    or_else: str = ""


def plain(value: Decimal) -> str:
    """Write a number with all its digits and no exponent.

    >>> plain(Decimal("1.2E+2"))
    '120'
    """
    return format(value, "f")


def number(text: str) -> Read:
    """Read one number with a decimal point or comma. Raises ValueError.

    `1,234` may be a decimal or a thousand: it is read as a decimal and tells the other reading.

    >>> number("45,50").value
    Decimal('45.50')
    >>> number("1,234")
    Read(value=Decimal('1.234'), or_else='1234')
    >>> number("1.234,5").value
    Decimal('1234.5')
    """
    written = text.strip().translate(_MINUS)
    if len(written) <= _LONGEST_NUMBER:
        if _PLAIN.fullmatch(written):
            other = re.sub("[.,]", "", written) if _THOUSANDS_OR_DECIMALS.fullmatch(written) else ""
            return Read(Decimal(written.replace(",", ".")), other)
        if grouped := _GROUPED.fullmatch(written):
            return Read(Decimal(written.replace(grouped["group"], "").replace(",", ".")))
    raise ValueError(_("one number, such as 45.5 or 45,5"))


def whole_number(text: str) -> Read:
    """Read one whole number; a decimal point in it is taken as one between thousands. Raises ValueError.

    >>> whole_number("12").value
    Decimal('12')
    >>> whole_number("1.200")
    Read(value=Decimal('1200'), or_else='1.200')
    """
    found = number(text)
    if found.or_else:
        return Read(Decimal(found.or_else), plain(found.value))
    if found.value != found.value.to_integral_value():
        raise ValueError(_("a whole number, such as 12"))
    return Read(found.value.to_integral_value())


def degrees(text: str) -> Read:
    """Read one angle in degrees, with or without its sign. Raises ValueError.

    >>> degrees("90°").value
    Decimal('90')
    """
    return number(re.sub(r"\s*(?:[°º]|deg(?:rees?)?\.?)\s*$", "", text, flags=re.IGNORECASE))


def unit_named(text: str) -> str | None:
    """Give the unit (a key of MILLIMETRES_IN) that a word stands for, or None.

    >>> unit_named("Centimetres")
    'cm'
    """
    return _SPELLINGS.get(text.strip().casefold())


def length_mm(text: str, unit: str = "mm") -> Read:
    """Read one length and give it in millimetres; `unit` holds where the text names none. Raises ValueError.

    >>> length_mm("4,50 cm").value
    Decimal('45.0')
    """
    (found,) = _one_or_more(text, unit, most=1)
    return found


def dimensions_mm(text: str, unit: str = "mm") -> tuple[Read, ...]:
    """Read two or three lengths with x between them, in millimetres; a unit at the end holds for all.

    Raises ValueError.

    >>> [plain(side.value) for side in dimensions_mm("12,3 x 4,5 cm")]
    ['123', '45']
    """
    found = _one_or_more(text, unit, most=3)
    if len(found) < 2:
        raise ValueError(_expected_length(most=3))
    return found


def _one_or_more(text: str, unit: str, most: int) -> tuple[Read, ...]:
    sides = [_LENGTH.fullmatch(side.strip()) for side in _TIMES.split(text.strip())]
    named = [side and side["unit"] and unit_named(side["unit"]) for side in sides]
    if len(sides) > most or any(
        not side or (side["unit"] and not name) for side, name in zip(sides, named, strict=True)
    ):
        raise ValueError(_expected_length(most))
    last = named[-1] or unit
    if last != next(filter(None, reversed(named)), last):
        raise ValueError(_("the unit after each length, or once after the last, such as 12 x 4,5 cm"))
    units = [name or next(filter(None, named[at:]), unit) for at, name in enumerate(named)]
    says = any(named)
    return tuple(
        _in_mm(side["number"], name, says=says) for side, name in zip(sides, units, strict=True) if side
    )


def _expected_length(most: int) -> str:
    if most == 1:
        return _("one length, such as 45,5 mm or 4.55 cm")
    return _("two or three lengths with x between them, such as 123 x 45,5 mm")


def _in_mm(text: str, unit: str, *, says: bool) -> Read:
    written = text.strip()
    if fraction := _FRACTION.fullmatch(written):
        value = _scaled(_fraction(fraction), unit)
        return Read(value, "" if says or unit == "in" else plain(_scaled(_fraction(fraction), "in")))
    found = number(written)
    return Read(_scaled(found.value, unit), found.or_else and plain(_scaled(Decimal(found.or_else), unit)))


def _fraction(found: re.Match[str]) -> Decimal:
    if found["sign"]:
        return Decimal(found["whole"] or 0) + _SIGNS[found["sign"]]
    return Decimal(found["before"]) + Decimal(found["over"]) / Decimal(found["under"])


def _scaled(value: Decimal, unit: str) -> Decimal:
    """Turn a length into mm without saying more or less about how exactly it was measured."""
    factor = MILLIMETRES_IN[unit]
    if unit == "in":
        return value * factor
    shifted = value.scaleb(factor.adjusted())
    return shifted.quantize(Decimal(1)) if shifted.as_tuple().exponent > 0 else shifted  # type: ignore[operator]


def numbers(text: str) -> tuple[Read, ...]:
    """Read numbers with spaces, semicolons, new lines, or commas and spaces between. Raises ValueError.

    One comma between two numbers may be a decimal comma or part a list: the other reading is told.

    >>> [plain(found.value) for found in numbers("12; 48,5; 97")]
    ['12', '48.5', '97']
    >>> numbers("12,48")
    (Read(value=Decimal('12.48'), or_else='12 and 48'),)
    """
    by_comma = ";" not in text and bool(re.search(r",\s", text))
    pieces = re.split(r"\s*[;\n]\s*" if re.search(r"[;\n]", text) else r",\s+|\s+", text.strip(" \t\r\n;,"))
    words = [word for piece in pieces for word in piece.split()]
    if len(words) == 1 and _COMMA_LIST.fullmatch(words[0]) and not _THOUSANDS.fullmatch(words[0]):
        return tuple(Read(Decimal(word)) for word in words[0].split(","))
    if not words:
        raise ValueError(_("numbers with spaces or semicolons between them, such as 12; 48,5; 97"))
    unclear = by_comma or (len(words) == 1 and ";" not in text)
    return tuple(_of_list(word, unclear=unclear) for word in words)


def _of_list(word: str, *, unclear: bool) -> Read:
    found = number(word)
    if unclear and not found.or_else and "," in word.strip(","):
        return Read(found.value, _(" and ").join(word.split(",")))
    return found
