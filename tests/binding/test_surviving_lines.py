"""Lines read from a transcription, and found in a known text."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from guardbook.binding.surviving_lines import letters, lines_on, located

# Psalm 1, verses 1 to 3 (Vulgate)
PSALM = (
    "Beatus vir qui non abiit in consilio impiorum, et in via peccatorum non stetit, et in cathedra "
    "pestilentiae non sedit; sed in lege Domini voluntas ejus, et in lege ejus meditabitur die ac "
    "nocte. Et erit tamquam lignum quod plantatum est secus decursus aquarum, quod fructum suum "
    "dabit in tempore suo."
)


@pytest.mark.parametrize(
    ("written", "plain"),
    [
        ("Ideo non RESURGENT, impii: in judicio", "ideononresurgentimpiiiniudicio"),
        ("Quæ uoluntas ejus? cœlum, ſed", "quaeuoluntaseiuscoelumsed"),
        ("B[eatus] vir", "beatusuir"),
        ("honoré 12.", "honore"),
    ],
)
def test_texts_are_compared_by_their_letters_alone(written: str, plain: str) -> None:
    assert letters(written) == plain


def test_a_line_keeps_its_number_and_its_stretches_without_loss() -> None:
    one, two = lines_on("7 [...] die ac nocte. Et [...]\n8 [..] num quod [ . . . ] plantatum", 7, 8)
    assert (one.number, one.chunks, one.is_from_start) == (7, ("dieacnocteet",), False)
    assert (two.number, two.chunks) == (8, ("numquod", "plantatum"))


def test_lines_without_a_number_count_on_from_the_first_of_the_piece() -> None:
    assert [line.number for line in lines_on("Beatus vir\nqui non abiit", 12, 13)] == [12, 13]
    assert [line.number for line in lines_on("Beatus vir / qui non | abiit in", None, None)] == [1, 2, 3]
    assert [line.number for line in lines_on("3 Beatus vir\nqui non abiit", None, None)] == [3, 4]


def test_more_lines_than_the_piece_has_are_not_counted_at_all() -> None:
    assert lines_on("Beatus\nvir\nqui", 12, 13) == ()
    assert lines_on(None, None, None) == ()


def test_a_line_is_found_where_its_letters_stand_in_the_text() -> None:
    (line,) = located(lines_on("[...] secus decursus [...]", None, None), letters(PSALM))
    assert line.starts_at is not None
    assert letters(PSALM)[line.starts_at :].startswith("secusdecursus")


def test_a_stretch_that_stands_in_the_text_twice_is_found_only_between_lines_that_are_sure() -> None:
    twice = "1 et in via pecc [...]\n2 in lege [...]\n3 untas ejus, et [...]"
    found = located(lines_on(twice, 1, 3), letters(PSALM))
    assert [line.starts_at is not None for line in found] == [True, True, True]
    assert located(lines_on("et in lege", None, None), letters(PSALM))[0].starts_at is not None
    assert located(lines_on("[...] in lege [...]", None, None), letters(PSALM))[0].starts_at is None


def test_a_letter_read_otherwise_does_not_lose_the_line() -> None:
    (line,) = located(lines_on("[...] plantatum est secvs dicursus", None, None), letters(PSALM))
    assert line.starts_at == letters(PSALM).find("plantatum")


def test_a_line_that_would_stand_before_an_earlier_one_is_not_believed() -> None:
    found = located(lines_on("1 secus decursus\n2 Beatus vir qui\n3 quod fructum", 1, 3), letters(PSALM))
    assert [line.starts_at is not None for line in found] == [True, False, True]


def test_letters_that_the_text_does_not_have_are_found_nowhere() -> None:
    assert located(lines_on("Arma virumque cano", None, None), letters(PSALM))[0].starts_at is None


@given(st.integers(8, 40), st.integers(0, 6))
def test_a_text_written_out_in_lines_is_found_line_by_line_in_order(width: int, lost: int) -> None:
    plain = letters(PSALM)
    rows = [plain[start : start + width] for start in range(0, len(plain) - width, width)]
    written = "\n".join(f"{number} [...] {row[lost:]}" for number, row in enumerate(rows, start=1))
    found = located(lines_on(written, 1, len(rows)), plain)
    places = [(line.number, line.starts_at) for line in found if line.starts_at is not None]
    assert places == [(number, (number - 1) * width + lost) for number, _ in places]
    assert len(places) >= len(rows) / 2 or width - lost < 8
