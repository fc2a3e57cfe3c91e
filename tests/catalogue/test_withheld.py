"""A name is found in a text however it is spelled, and nothing else is taken for it."""

import pytest

from guardbook.catalogue.withheld import Withheld

NAME = "Berta Quiroga Sanç"


@pytest.mark.parametrize(
    ("text", "seen"),
    [
        ("Berta Quiroga Sanç", "[name withheld]"),
        ("from BERTA  QUIROGA\nSANC, her house", "from [name withheld], her house"),
        ("Quiroga Sanç, Berta (owner)", "[name withheld] (owner)"),
        ("berta_quiroga-sanç.jpg", "[name withheld].jpg"),
        ("mail: bertaquirogasanc@letters.example", "mail: [name withheld]@letters.example"),
        ("Berta Quiroga Sanc\u0327 wrote", "[name withheld] wrote"),
        ("Berta Quiroga Sanç and Berta Quiroga Sanç", "[name withheld] and [name withheld]"),
        ("«Berta Quiroga Sanç»", "«[name withheld]»"),
    ],
)
def test_a_name_is_withheld_however_it_is_written(text: str, seen: str) -> None:
    assert Withheld([NAME]).removed_from(text) == seen


@pytest.mark.parametrize(
    "text", ["Bertanova Quiroga Sanç", "Berta and Quiroga Sanç", "Roberta Quiroga Sanç", "", "Sanç", "Ærta"]
)
def test_other_words_are_left_as_they_are(text: str) -> None:
    assert Withheld([NAME]).removed_from(text) == text


def test_single_letters_and_signs_are_no_name() -> None:
    assert Withheld(["A", "-", ""]).removed_from("A fold - and a stain") == "A fold - and a stain"


def test_the_longest_of_several_names_is_withheld_whole() -> None:
    withheld = Withheld(["Berta", NAME])
    assert withheld.removed_from(f"{NAME}, or Berta") == "[name withheld], or [name withheld]"


def test_what_stands_before_and_after_keeps_its_ligatures_and_accents() -> None:
    text = "ﬂyleaf of Berta Quiroga Sanç, ǆ"
    assert Withheld([NAME]).removed_from(text) == "ﬂyleaf of [name withheld], ǆ"
