"""Identifiers with a check symbol."""

from __future__ import annotations

from hypothesis import given

from guardbook.records.identifiers import faults_in, is_valid, likely_meant, new_identifier, normal_form
from tests.records.strategies import identifiers


@given(name=identifiers)
def test_how_a_label_is_typed_does_not_matter(name: str) -> None:
    typed = name.lower().replace("-", "").replace("0", "o").replace("1", "l")
    assert normal_form(typed) == name


@given(name=identifiers)
def test_every_single_slip_is_caught(name: str) -> None:
    for at in range(6):
        other = "2" if name[at] != "2" else "3"
        assert not is_valid(name[:at] + other + name[at + 1 :])


def test_a_known_identifier_one_slip_away_is_offered_first() -> None:
    known = new_identifier()
    slipped = ("Z" if known[0] != "Z" else "Y") + known[1:]
    assert likely_meant(slipped, frozenset({known}))[0] == known


def test_two_swapped_characters_are_put_right() -> None:
    assert "7K3QM2-J" in likely_meant("7KQ3M2-J")


def test_a_wrong_check_symbol_is_explained() -> None:
    (fault,) = faults_in("7K3QM2-D", "id")
    assert "7K3QM2 would end in J" in fault.expected


def test_fresh_identifiers_are_valid_and_can_be_spoken() -> None:
    drawn = {new_identifier() for _ in range(500)}
    assert all(is_valid(name) and name.replace("-", "").isalnum() for name in drawn)
    assert len(drawn) > 490
