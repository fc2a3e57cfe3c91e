"""From what stands on an envelope to the record."""

import pytest

from guardbook.catalogue.access import Access
from guardbook.errors import NotFound, WrongUse
from guardbook.records import identifiers
from tests.catalogue.shelf import WHO, made, save, strip, volume

BASE = "https://guardbook.example/"


@pytest.mark.parametrize(
    "written",
    [
        BASE + "fragment/7K3QM2-J",
        "fragment/7K3QM2-J",
        "7K3QM2-J",
        " 7k3qm2j ",
        "7K3 QM2 J",
        "fragment/7k3qm2-j",
        "W 2024-017",
        "w.2024/017",
    ],
)
def test_a_record_answers_to_every_way_its_label_may_be_written(workshop: Access, written: str) -> None:
    piece = strip(id="fragment/7K3QM2-J", workshopNumber="W 2024-017")
    save(workshop, piece, strip("other"))
    assert workshop.resolve(written) == BASE + "fragment/7K3QM2-J"


def test_letters_that_look_like_digits_are_read_as_digits(workshop: Access) -> None:
    piece = strip(id="fragment/10A0B1-" + identifiers.check_symbol("10A0B1"))
    save(workshop, piece)
    assert workshop.resolve("IOaoBl" + piece.identifier[-1]) == piece.id


def test_a_wrong_check_symbol_is_explained_and_the_known_record_suggested(workshop: Access) -> None:
    save(workshop, strip(id="fragment/7K3QM2-J"), strip("other"))
    with pytest.raises(WrongUse) as caught:
        workshop.resolve("7K3MQ2-J")
    (fault,) = caught.value.faults
    assert fault.mend.startswith("Did you mean 7K3QM2-J")
    assert "check symbol" in fault.expected


def test_a_workshop_number_that_looks_like_a_mistyped_identifier_is_still_a_number(workshop: Access) -> None:
    piece = strip(workshopNumber="2024-017")
    save(workshop, piece)
    assert not identifiers.is_valid(identifiers.normal_form("2024-017"))
    assert workshop.resolve("2024-017") == piece.id


@pytest.mark.parametrize(
    "written", ["fragment/7K3QM2-J", "host/7K3QM2-J", "", "W 99", BASE, "a/b/c", "#", "https://x.example/"]
)
def test_what_is_not_here_is_not_found(workshop: Access, written: str) -> None:
    save(workshop, strip())
    with pytest.raises(NotFound):
        workshop.resolve(written)


def test_near_numbers_are_named_where_one_is_not_found(workshop: Access) -> None:
    piece = strip(workshopNumber="W 2024-017")
    save(workshop, piece)
    with pytest.raises(NotFound, match=piece.short):
        workshop.resolve("2024-01")


@pytest.mark.parametrize("written", ["x", "1", "w2"])
def test_a_sign_or_two_are_near_to_nothing(workshop: Access, written: str) -> None:
    save(workshop, strip(workshopNumber="W 2024-017x"))
    with pytest.raises(NotFound) as refused:
        workshop.resolve(written)
    assert refused.value.details["near"] == []


def test_one_identifier_in_two_kinds_asks_for_the_kind(workshop: Access) -> None:
    piece, host = strip(id="fragment/7K3QM2-J"), volume(id="host/7K3QM2-J")
    save(workshop, piece, host)
    with pytest.raises(WrongUse, match="kind"):
        workshop.resolve("7K3QM2-J")
    assert workshop.resolve("host/7K3QM2-J") == host.id


def test_what_was_taken_out_still_answers_to_its_address_but_not_to_its_number(workshop: Access) -> None:
    piece = strip(workshopNumber="W 7")
    save(workshop, piece)
    workshop.delete(piece.id, started_from=1, who=WHO, why="a mistake")
    assert workshop.resolve(piece.identifier) == piece.id
    with pytest.raises(NotFound):
        workshop.resolve("W 7")


def test_the_public_neither_resolves_nor_is_hinted_at_what_is_not_for_it(
    workshop: Access, public: Access
) -> None:
    hidden = strip(id="fragment/7K3QM2-J", workshopNumber="W 2024-017", visibility="workshop")
    owner = made("agent", "owner", name="Berta Quiroga", workshopNumber="P 9")
    save(workshop, hidden, owner)
    for written in ("7K3QM2-J", "W 2024-017", "P 9", owner.identifier):
        assert workshop.resolve(written)
        with pytest.raises(NotFound) as caught:
            public.resolve(written)
        assert caught.value.details["near"] == []
    with pytest.raises(WrongUse) as mistyped:
        public.resolve("7K3QM2-K")
    assert "7K3QM2-J" not in mistyped.value.faults[0].mend
    with pytest.raises(NotFound) as near:
        public.resolve("2024-01")
    assert near.value.details["near"] == []
