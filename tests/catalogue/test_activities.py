"""What came into sight, changed or went is told to each viewer as it saw it, and never taken back."""

import pytest

from guardbook.catalogue.access import Access
from tests.catalogue.shelf import WHO, changed, made, placing, save, strip, volume

PIECE, HOST = strip(), volume()
PUT = placing(PIECE, HOST)
OWNER = made("agent", "Anna Ferrer", name="Anna Ferrer", mayBeNamed=True)


def told(access: Access, iri: str) -> list[str]:
    found = access.activities(0, access.newest_activity())
    return [activity.activity for activity in found if activity.iri == iri]


def test_a_record_that_comes_changes_and_goes_is_told_of_in_order(workshop: Access, public: Access) -> None:
    save(workshop, PIECE)
    save(workshop, changed(PIECE, note="wormed"), from_revision=1)
    workshop.delete(PIECE.id, started_from=2, who=WHO, why="a mistake")
    save(workshop, PIECE, from_revision=3)
    for viewer in (workshop, public):
        assert told(viewer, PIECE.id) == ["Create", "Update", "Delete", "Create"]
        numbers = [activity.number for activity in viewer.activities(0, 99)]
        assert numbers == list(range(1, viewer.newest_activity() + 1))


def test_the_public_is_not_told_of_what_it_never_saw(workshop: Access, public: Access) -> None:
    save(workshop, changed(PIECE, visibility="workshop"))
    workshop.delete(PIECE.id, started_from=1, who=WHO, why="a mistake")
    assert (public.newest_activity(), public.last_activity(PIECE.id)) == (0, None)
    assert told(workshop, PIECE.id) == ["Create", "Delete"]


def test_a_record_that_is_withdrawn_is_deleted_for_the_public_only(workshop: Access, public: Access) -> None:
    save(workshop, PIECE)
    save(workshop, changed(PIECE, visibility="workshop"), from_revision=1)
    save(workshop, PIECE, from_revision=2)
    assert told(public, PIECE.id) == ["Create", "Delete", "Create"]
    assert told(workshop, PIECE.id) == ["Create", "Update", "Update"]


def test_a_private_field_that_changes_is_no_news_to_the_public(workshop: Access, public: Access) -> None:
    save(workshop, PIECE)
    save(workshop, changed(PIECE, private_note="in the red box"), from_revision=1)
    assert told(public, PIECE.id) == ["Create"]
    assert told(workshop, PIECE.id) == ["Create", "Update"]


def test_what_hangs_on_a_withdrawn_record_goes_with_it(workshop: Access, public: Access) -> None:
    save(workshop, PIECE, HOST, PUT)
    save(workshop, changed(HOST, visibility="workshop"), from_revision=1)
    assert told(public, PUT.id) == ["Create", "Delete"]
    assert told(public, PIECE.id) == ["Create"]


def test_a_name_that_is_withdrawn_changes_every_text_it_stands_in(workshop: Access, public: Access) -> None:
    letter = strip("letter", note="Given by Anna Ferrer.")
    save(workshop, OWNER, letter)
    save(workshop, changed(OWNER, may_be_named=False), from_revision=1)
    assert told(public, letter.id) == ["Create", "Update"]
    assert told(public, OWNER.id) == ["Create", "Delete"]


def test_making_the_tables_anew_tells_nothing_again(workshop: Access, public: Access) -> None:
    save(workshop, PIECE, HOST, PUT, strip("secret", visibility="workshop"))
    before = public.activities(0, 99)
    workshop.rebuild()
    assert public.activities(0, 99) == before
    assert workshop.verify() == ()


def test_what_the_public_was_not_told_is_found_out_and_told(workshop: Access, public: Access) -> None:
    save(workshop, PIECE)
    with workshop._ledger.connections.writing() as connection:
        connection.execute("DELETE FROM activities")
    assert [fault.where for fault in workshop.verify()] == [f"what the public was told, {PIECE.id}"]
    workshop.rebuild()
    assert told(public, PIECE.id) == ["Create"]
    assert workshop.verify() == ()


@pytest.mark.parametrize("viewer", ["workshop", "public"])
def test_the_last_change_of_each_record_in_sight_is_known(
    request: pytest.FixtureRequest, workshop: Access, viewer: str
) -> None:
    save(workshop, PIECE, HOST)
    workshop.delete(HOST.id, started_from=1, who=WHO, why="a mistake")
    access: Access = request.getfixturevalue(viewer)
    (last,) = access.last_changes()
    newest = access.last_activity(PIECE.id)
    assert newest
    assert last == (PIECE.id, newest.when)
