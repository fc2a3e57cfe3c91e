"""What is wrong is said in the language of whoever reads it, and names the same place and values."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from guardbook.errors import Fault, GuardbookError
from guardbook.wording import speaking
from tests.wording.catalogues import TRANSLATED

FAULTS = (
    Fault(where="positions[2].x", found="'wide'", expected="45.5 mm", mend="1 2 3"),
    Fault(where="row 7, column Height", found="1,234", expected="1.234 mm", mend="1 2 3", doubt=True),
)


def kinds_of_error(kind: type[GuardbookError] = GuardbookError) -> Iterator[type[GuardbookError]]:
    """Give every kind of error there is."""
    yield kind
    for narrower in kind.__subclasses__():
        yield from kinds_of_error(narrower)


def title_in(language: str, kind: type[GuardbookError]) -> str:
    """Give the title of a kind of error in a language, as a page or a program is given it."""
    with speaking(language):
        return str(kind(message="").problem()["title"])


@pytest.mark.parametrize("language", TRANSLATED)
@pytest.mark.parametrize("kind", tuple(kinds_of_error()), ids=lambda kind: kind.__name__)
def test_the_title_of_an_error_is_in_the_language_of_the_reader(
    kind: type[GuardbookError], language: str
) -> None:
    assert title_in(language, kind) not in {"", kind.title}


@pytest.mark.parametrize("language", TRANSLATED)
@pytest.mark.parametrize("fault", FAULTS, ids=("sure", "doubt"))
def test_a_fault_is_told_in_the_language_of_the_reader_and_keeps_what_it_is_about(
    fault: Fault, language: str
) -> None:
    in_english = str(fault)
    with speaking(language):
        told = str(fault)
        assert fault.as_json()["message"] == told
    assert told != in_english
    assert [part for part in (fault.where, fault.found, fault.expected) if part not in told] == []
    assert told.endswith(" 1 2 3")


def test_a_fault_is_told_in_english_where_no_language_was_chosen() -> None:
    sure, doubt = map(str, FAULTS)
    assert sure == "Expected 45.5 mm, found 'wide' in positions[2].x. 1 2 3"
    assert doubt == "Please confirm: expected 1.234 mm, found 1,234 in row 7, column Height. 1 2 3"


def test_a_program_is_given_the_title_of_an_error_in_english() -> None:
    assert [kind for kind in kinds_of_error() if title_in("en", kind) != kind.title] == []
