"""Reading the evidence on what is in a catalogue, past the gate."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from guardbook.actions.load_demo import load_demo
from guardbook.actions.weigh_evidence import weigh_evidence
from guardbook.catalogue.access import Access, Viewer
from guardbook.catalogue.catalogue import open_catalogue
from guardbook.errors import WrongUse


@pytest.fixture(scope="module")
def views() -> Iterator[tuple[Access, Access]]:
    """Give the demonstration as the workshop and as the public see it."""
    with open_catalogue(None) as opened:
        load_demo(opened.access(), if_empty=True)
        yield opened.access(), opened.access(Viewer.PUBLIC)


@pytest.mark.parametrize(
    ("host", "claim", "status"),
    [
        ("host/5JZSY8-3", "re-used-cover", "settled"),
        ("host/60CWNS-H", "re-used-cover", "ruled out"),
        ("host/F18WKB-Q", "re-used-cover", "pointed to"),
        ("host/F46DQ0-3", "together", "settled"),
        ("host/YSF07N-H", "joined", "settled"),
    ],
)
def test_the_demonstration_is_read_as_its_story_tells_it(
    views: tuple[Access, Access], host: str, claim: str, status: str
) -> None:
    found = weigh_evidence(views[0], host)
    assert status in [one.status for one in found.claims if one.claim == claim]


def test_the_pieces_of_one_leaf_are_read_together(views: tuple[Access, Access]) -> None:
    found = weigh_evidence(views[0], "fragment/YY0CZ6-2")
    (settled,) = (one for one in found.claims if one.claim == "same-carrier" and one.status == "settled")
    assert "Sewing guard from a psalter, gathering 11" in settled.subject.name
    assert "Entered by Hanneke Solmery" in found.words()


def test_the_public_is_told_nothing_of_a_person_who_may_not_be_named(views: tuple[Access, Access]) -> None:
    told = [weigh_evidence(views[1], iri).words() for iri in views[1].iris("host")]
    assert told
    hidden = [views[0].record(iri).record for iri in views[0].iris("agent") if not views[1].has(iri)]
    assert hidden
    assert not [one.display_title for one in hidden if any(one.display_title in words for words in told)]


def test_a_person_gives_no_evidence(views: tuple[Access, Access]) -> None:
    with pytest.raises(WrongUse, match="neither a volume nor a piece"):
        weigh_evidence(views[0], next(iter(views[0].iris("agent"))))
