"""Identifiers that survive handwriting: six base32 digits and a check symbol, `7K3QM2-J`.

Source: Douglas Crockford, *Base 32* (https://www.crockford.com/base32.html): 32 digits without I, L, O and
U; I and L are read as 1, O as 0; the check symbol is the number modulo 37, with `*~$=U` for 32 to 36.
Numbers whose symbol is not a letter or digit are never given out, so that every identifier can be spoken,
typed and put in a file name.
"""

from __future__ import annotations

import hashlib
import secrets

from guardbook.errors import Fault
from guardbook.wording import _, either

DIGITS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
CHECK_SYMBOLS = DIGITS + "*~$=U"
LENGTH = 6

_VALUE = {digit: value for value, digit in enumerate(DIGITS)}
_READ_AS = str.maketrans({"I": "1", "L": "1", "O": "0"})
_LOOK_ALIKE = tuple(
    frozenset(pair) for pair in ("8B", "5S", "2Z", "0D", "0Q", "17", "G6", "MN", "VY", "4A", "9P", "EF", "CG")
)


def check_symbol(digits: str) -> str:
    """Give the check symbol of some base32 digits (Crockford: value modulo 37)."""
    value = 0
    for digit in digits:
        value = value * 32 + _VALUE[digit]
    return CHECK_SYMBOLS[value % 37]


def new_identifier() -> str:
    """Draw a fresh identifier such as `7K3QM2-J`."""
    while True:
        digits = "".join(secrets.choice(DIGITS) for _ in range(LENGTH))
        if (symbol := check_symbol(digits)).isalnum():
            return f"{digits}-{symbol}"


def identifier_from(seed: str) -> str:
    """Give the identifier that always comes of the same text, so that what is sent twice is made once.

    >>> identifier_from("a photograph") == identifier_from("a photograph")
    True
    """
    number = int.from_bytes(hashlib.sha256(seed.encode()).digest(), "big")
    while True:
        digits = "".join(DIGITS[number >> 5 * place & 31] for place in range(LENGTH))
        if (symbol := check_symbol(digits)).isalnum():
            return f"{digits}-{symbol}"
        number += 1


def normal_form(text: str) -> str:
    """Give the spelling that is stored: upper case, I and L as 1, O as 0, one hyphen.

    >>> normal_form("7k3q m2j")
    '7K3QM2-J'
    """
    plain = text.strip().upper().replace("-", "").replace(" ", "")
    digits, symbol = plain[:LENGTH].translate(_READ_AS), plain[LENGTH:]
    return f"{digits}-{symbol if symbol == 'U' else symbol.translate(_READ_AS)}"


def is_valid(text: str) -> bool:
    """Say whether the text is an identifier in its stored spelling with the right check symbol."""
    digits, hyphen, symbol = text.partition("-")
    return (
        len(digits) == LENGTH
        and hyphen == "-"
        and all(digit in _VALUE for digit in digits)
        and symbol.isalnum()
        and check_symbol(digits) == symbol
    )


def _slips(text: str) -> dict[str, int]:
    """All valid identifiers one slip away from a seven-character text, with how likely each slip is.

    0 is two neighbours swapped, 1 a look-alike, 2 any other single character.
    """
    found: dict[str, int] = {}
    plain = text.replace("-", "")
    for at in range(len(plain) - 1):
        swapped = plain[:at] + plain[at + 1] + plain[at] + plain[at + 2 :]
        found.setdefault(f"{swapped[:LENGTH]}-{swapped[LENGTH:]}", 0)
    for at, old in enumerate(plain):
        for new in DIGITS if at < LENGTH else CHECK_SYMBOLS:
            changed = plain[:at] + new + plain[at + 1 :]
            rank = 1 if frozenset((old, new)) in _LOOK_ALIKE else 2
            found.setdefault(f"{changed[:LENGTH]}-{changed[LENGTH:]}", rank)
    return {candidate: rank for candidate, rank in found.items() if is_valid(candidate)}


def likely_meant(text: str, known: frozenset[str] = frozenset()) -> tuple[str, ...]:
    """Suggest identifiers that a mistyped one may stand for, the likeliest first.

    Identifiers in `known` (those of the catalogue) come before all others; of the others only swaps and
    look-alikes are offered, since any valid number is one slip from dozens.
    """
    spelled = normal_form(text)
    if len(spelled) != LENGTH + 2:
        return ()
    slips = _slips(spelled)
    ranked = sorted(slips, key=lambda candidate: (candidate not in known, slips[candidate], candidate))
    return tuple(c for c in ranked if c in known or slips[c] < 2)[:5]


def faults_in(text: str, where: str, known: frozenset[str] = frozenset()) -> tuple[Fault, ...]:
    """Explain what is wrong with an identifier, or give nothing if it is right."""
    if is_valid(normal_form(text)):
        return ()
    near = likely_meant(text, known)
    mend = _("Did you mean {near}?").format(near=either(near)) if near else _("Read it again from the label.")
    digits = normal_form(text).partition("-")[0]
    if len(digits) == LENGTH and all(digit in _VALUE for digit in digits):
        told = _("an identifier whose check symbol fits ({digits} would end in {symbol})")
        expected = told.format(digits=digits, symbol=check_symbol(digits))
    else:
        told = _("six base32 digits, a hyphen and a check symbol, such as {example}")
        expected = told.format(example=example())
    return (Fault(where=where, found=repr(text), expected=expected, mend=mend),)


def example() -> str:
    """Give a valid identifier for use in messages."""
    return f"7K3QM2-{check_symbol('7K3QM2')}"
