"""Dating what is in a catalogue, past the gate."""

from __future__ import annotations

import pytest

from guardbook.actions.date_record import date_record
from guardbook.catalogue.access import Access
from guardbook.errors import WrongUse


def test_the_demonstration_explains_its_two_contradictions_by_two_statements_and_a_law_each(
    demo: Access,
) -> None:
    hosts = [date_record(demo, iri) for iri in demo.iris("host")]
    clashes = {clash.words() for found in hosts for clash in found.contradictions}
    assert len(clashes) == 2
    assert all(words.startswith("These two cannot both hold") for words in clashes)
    assert all("Not to be taken back, since it cannot be otherwise" in words for words in clashes)


def test_every_volume_of_the_demonstration_is_bounded_or_says_that_it_is_not(demo: Access) -> None:
    for iri in demo.iris("host"):
        found = date_record(demo, iri)
        assert found.times
        assert found.as_json()["words"] == found.words()


def test_a_person_has_no_date(demo: Access) -> None:
    with pytest.raises(WrongUse, match="neither a volume nor a piece"):
        date_record(demo, next(iter(demo.iris("agent"))))
