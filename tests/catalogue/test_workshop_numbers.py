"""One workshop number stands for one record."""

import pytest

from guardbook.catalogue.access import Access
from guardbook.errors import InvalidRecord
from tests.catalogue.shelf import WHO, changed, save, strip, volume


@pytest.mark.parametrize("again", ["W 12/b", "w-12.B", "W  12 b"])
def test_a_number_that_another_record_has_is_refused_by_name(workshop: Access, again: str) -> None:
    first, second = strip(workshopNumber="W 12/b"), volume(workshopNumber=again)
    save(workshop, first)
    with pytest.raises(InvalidRecord) as caught:
        save(workshop, second)
    (fault,) = caught.value.faults
    assert fault.where == f"{second.short} workshopNumber"
    assert again in fault.found
    assert first.id in fault.expected
    assert not workshop.has(second.id)
    assert workshop.verify() == ()


def test_two_records_of_one_batch_may_not_share_a_number(workshop: Access) -> None:
    first, second = strip("first", workshopNumber="W 1"), strip("second", workshopNumber="W 1")
    with pytest.raises(InvalidRecord) as caught:
        save(workshop, first, second)
    assert {fault.where.split()[0] for fault in caught.value.faults} == {first.short, second.short}
    assert workshop.sequence == 0


def test_numbers_that_only_look_alike_are_two_numbers(workshop: Access) -> None:
    save(workshop, strip("first", workshopNumber="12/3"), strip("second", workshopNumber="1/23"))
    assert workshop.resolve("12-3") != workshop.resolve("1-23")


def test_two_records_may_swap_their_numbers_in_one_save(workshop: Access) -> None:
    first, second = strip("first", workshopNumber="W 1"), strip("second", workshopNumber="W 2")
    save(workshop, first, second)
    save(
        workshop,
        changed(first, workshop_number="W 2"),
        changed(second, workshop_number="W 1"),
        from_revision=1,
    )
    assert workshop.resolve("W 1") == second.id
    assert workshop.resolve("W 2") == first.id


def test_the_number_of_a_record_taken_out_is_free_again(workshop: Access) -> None:
    first, second = strip("first", workshopNumber="W 1"), strip("second", workshopNumber="W 1")
    save(workshop, first)
    workshop.delete(first.id, started_from=1, who=WHO, why="registered twice")
    save(workshop, second)
    assert workshop.resolve("W 1") == second.id
    with pytest.raises(InvalidRecord):
        save(workshop, first, from_revision=2)
