"""Check symbols against Crockford's published definition and a package written from it.

Source: Douglas Crockford, "Base 32", https://www.crockford.com/base32.html (from memory: symbol table,
"the check symbol encodes the number modulo 37", decoding of I, L and O). Reader: PyPI `base32-crockford`.
"""

from __future__ import annotations

import base32_crockford
from hypothesis import given
from hypothesis import strategies as st

from guardbook.records.identifiers import CHECK_SYMBOLS, DIGITS, check_symbol, normal_form


@given(number=st.integers(0, 32**6 - 1))
def test_check_symbols_are_those_of_the_reference_package(number: int) -> None:
    encoded = base32_crockford.encode(number, checksum=True)
    assert check_symbol(encoded[:-1].zfill(6)) == encoded[-1]


@given(number=st.integers(0, 32**6 - 1))
def test_what_we_normalise_the_reference_package_decodes_to_the_same_number(number: int) -> None:
    digits = base32_crockford.encode(number).zfill(6)
    typed = (digits + check_symbol(digits)).lower().replace("1", "l").replace("0", "o")
    assert base32_crockford.decode(normal_form(typed), checksum=True) == number


def test_the_symbol_table_is_the_published_one() -> None:
    assert DIGITS == "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
    assert CHECK_SYMBOLS[32:] == "*~$=U"
    assert [check_symbol(digits) for digits in ("0", "Z", "10", "14", "15")] == ["0", "Z", "*", "U", "0"]
