"""Numbers and lengths as people write them."""

from __future__ import annotations

import doctest
from collections.abc import Callable
from decimal import Decimal

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from guardbook import units
from guardbook.units import (
    Read,
    degrees,
    dimensions_mm,
    length_mm,
    number,
    numbers,
    plain,
    unit_named,
    whole_number,
)

sizes = st.decimals(min_value=0, max_value=5000, places=2)


def test_the_examples_in_the_text_are_true() -> None:
    assert doctest.testmod(units).failed == 0


@given(value=st.decimals(min_value=-5000, max_value=5000, places=2), comma=st.booleans())
def test_a_decimal_comma_says_what_a_decimal_point_says_with_every_digit(value: Decimal, comma: bool) -> None:
    text = plain(value).replace(".", ",") if comma else plain(value)
    assert plain(number(text).value) == plain(value)
    assert number(text).or_else == ""


@given(value=st.integers(min_value=1000, max_value=999_999), mark=st.sampled_from(".,"))
def test_three_digits_after_a_mark_are_asked_about(value: int, mark: str) -> None:
    thousands, rest = divmod(value, 1000)
    found = number(f"{thousands}{mark}{rest:03}")
    assert (found.value, found.or_else) == (Decimal(f"{thousands}.{rest:03}"), str(value))


@given(value=st.decimals(min_value=0, max_value=500, places=2), unit=st.sampled_from(["mm", "cm", "m"]))
def test_a_length_in_any_unit_is_given_in_millimetres(value: Decimal, unit: str) -> None:
    assert length_mm(f"{value} {unit}").value == value * units.MILLIMETRES_IN[unit]


@given(value=st.decimals(min_value=0, max_value=500, places=1))
def test_a_length_in_centimetres_is_as_exact_as_it_was_written(value: Decimal) -> None:
    exponent = length_mm(f"{value} cm").value.as_tuple().exponent
    assert exponent == 0


@given(sides=st.lists(sizes, min_size=2, max_size=3), times=st.sampled_from([" x ", "×", " X ", " by ", "x"]))
def test_dimensions_are_read_side_by_side(sides: list[Decimal], times: str) -> None:
    text = times.join(plain(side).replace(".", ",") for side in sides) + " mm"
    assert [side.value for side in dimensions_mm(text)] == sides


@given(values=st.lists(sizes, min_size=2, max_size=9), between=st.sampled_from(["; ", " ", ";", "\n"]))
def test_a_row_of_holes_is_read_hole_by_hole(values: list[Decimal], between: str) -> None:
    found = numbers(between.join(plain(value).replace(".", ",") for value in values))
    assert [hole.value for hole in found] == values
    assert not any(hole.or_else for hole in found)


def outcome(read: Callable[[str], Read | tuple[Read, ...]], text: str) -> Read | str:
    try:
        found = read(text)
    except ValueError as refusal:
        return str(refusal)
    return found if isinstance(found, Read) else found[0]


@given(text=st.text(alphabet="0123456789.,;x mc½-+'\u00a0\"/in", max_size=25))
def test_whatever_is_written_is_read_or_refused_in_words(text: str) -> None:
    for read in (number, whole_number, degrees, length_mm, dimensions_mm, numbers):
        found = outcome(read, text)
        assert "such as" in found or "unit" in found if isinstance(found, str) else found.value.is_finite()


@given(value=sizes)
def test_what_is_read_is_read_the_same_again(value: Decimal) -> None:
    assume(not number(plain(value)).or_else)
    assert number(plain(number(plain(value)).value)) == number(plain(value))


@pytest.mark.parametrize(
    ("text", "millimetres"),
    [
        ("45", "45"),
        ("45,5mm", "45.5"),
        ("12 cm", "120"),
        ("0,35 m", "350"),
        ("1.234,5", "1234.5"),
        ("1,234.5", "1234.5"),
        ("1'234", "1234"),
        ("0.345", "0.345"),
        ("350 µm", "0.350"),
        ("4 1/2 in", "114.30"),
        ('4½"', "114.30"),
    ],
)
def test_a_length_with_one_reading_is_read(text: str, millimetres: str) -> None:
    found = length_mm(text)
    assert (found.value, found.or_else) == (Decimal(millimetres), "")


@pytest.mark.parametrize(
    ("text", "value", "other"),
    [
        ("12.345", "12.345", "12345"),
        ("1,234 cm", "12.34", "12340"),
        ("4 1/2", "4.5", "114.30"),
    ],
)
def test_a_length_with_two_readings_tells_both(text: str, value: str, other: str) -> None:
    assert length_mm(text) == Read(Decimal(value), other)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "ca. 45",
        "45-50",
        ">45",
        "45 parsecs",
        "12,5,5",
        "1.23.456",
        "1 234",
        "45 x 12",
        "½ x",
        "nan",
        "1e3",
        "9" * 99,
    ],
)
def test_a_text_that_is_no_length_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"length|number"):
        length_mm(text)


@pytest.mark.parametrize("text", ["12 cm x 45", "45", "1 x 2 x 3 x 4", "a x b"])
def test_dimensions_that_leave_a_unit_or_a_side_open_are_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"unit after each length|two or three lengths"):
        dimensions_mm(text)


def test_a_unit_of_the_column_holds_where_the_cell_names_none() -> None:
    assert (length_mm("4,5", "cm").value, length_mm("4,5 mm", "cm").value) == (Decimal(45), Decimal("4.5"))


def test_commas_between_holes_are_told_from_commas_in_them() -> None:
    assert [plain(hole.value) for hole in numbers("12,48,97")] == ["12", "48", "97"]
    assert [hole.or_else for hole in numbers("12, 48,5, 97")] == ["", "48 and 5", ""]


def test_a_whole_number_may_have_a_mark_between_thousands_and_nothing_after() -> None:
    assert whole_number("1.200") == Read(Decimal(1200), "1.200")
    with pytest.raises(ValueError, match="whole number"):
        whole_number("4,5")


def test_units_are_known_by_their_names() -> None:
    assert [unit_named(word) for word in ("mm", "CM", "inches", "µm", "ells")] == [
        "mm",
        "cm",
        "in",
        "µm",
        None,
    ]
