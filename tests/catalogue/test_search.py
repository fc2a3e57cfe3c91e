"""People find what they wrote, however they write it the next time."""

import pytest

from guardbook.catalogue.access import Access
from guardbook.errors import WrongUse
from tests.catalogue.shelf import WHO, changed, placing, save, strip, volume


def found(access: Access, words: str = "", **asked: object) -> list[str]:
    return [hit.iri for hit in access.find(words, **asked).hits]  # type: ignore[arg-type]  # kept short


@pytest.mark.parametrize(
    ("written", "asked"),
    [
        ("Reforç del llom, cosit", "reforc"),
        ("Col·lecció de fulls", "colleccio"),
        ("Collecció de fulls", "col·lecció"),
        ("Œuvres de saint Cœur", "coeur"),
        ("a ﬂyleaf set in one sort", "flyleaf"),
        ("Maß und Straße", "strasse"),
        ("MISSALE", "missa"),
        ("full d'un gradual", "d'un"),
        ("inscribed Ⅻ on the turn-in", "turn-in"),
    ],
)
def test_accents_case_and_ligatures_do_not_hide_a_piece(workshop: Access, written: str, asked: str) -> None:
    piece = strip(note=written)
    save(workshop, piece, strip("other"))
    assert found(workshop, asked) == [piece.id]


@pytest.mark.parametrize(
    "asked", ["W 2024-017/b", "2024-017", "17/b", "w2024", "017", "7b", "lat. 412", "t41", "at.4"]
)
def test_parts_of_workshop_numbers_and_shelfmarks_are_found(workshop: Access, asked: str) -> None:
    piece = strip(workshopNumber="W 2024-017/b", shelfmark="MS lat. 412")
    save(workshop, piece, strip("other", workshopNumber="W 1999-3", shelfmark="MS gr. 9"))
    assert found(workshop, asked) == [piece.id]


def test_every_word_must_be_met_but_not_in_one_field(workshop: Access) -> None:
    piece = strip(note="psalter", condition="wormed", shelfmark="MS 5")
    save(workshop, piece, strip("other", note="psalter"))
    assert found(workshop, "psal worm 5") == [piece.id]
    assert found(workshop, "psalter burnt") == []


def test_the_number_as_written_comes_first_and_then_the_title(workshop: Access) -> None:
    noted = strip("noted", note="compare W 12 with this psalter")
    titled = strip("titled", title="Psalter leaf of W 12")
    numbered = strip("numbered", workshopNumber="w-12", title="Leaf")
    save(workshop, noted, titled, numbered)
    assert found(workshop, "W 12") == [numbered.id, titled.id, noted.id]


@pytest.mark.parametrize(
    "asked",
    ["spine lining", "panel lining", "reforç del llom", "entre-nerfs", "Rückenhinterklebung", "indorsatura"],
)
def test_a_piece_is_found_by_its_function_in_any_language(workshop: Access, asked: str) -> None:
    piece, host, other = strip(), volume(), strip("other")
    function = {"function": "spine-lining-panel"}
    save(
        workshop,
        piece,
        host,
        other,
        placing(piece, host, **function),
        placing(other, host, function="tacket"),
    )
    assert found(workshop, asked, kind="fragment") == [piece.id]
    assert found(workshop, asked, kind="placing") == [placing(piece, host).id]


def test_a_broader_term_finds_the_narrower_ones(workshop: Access) -> None:
    piece, host = strip(), volume()
    save(workshop, piece, host, placing(piece, host, function="spine-lining-panel"))
    assert found(workshop, kind="fragment", facets={"function": "spine-lining"}) == [piece.id]
    assert found(workshop, kind="fragment", facets={"function": "spine-lining-slotted"}) == []


def test_a_planned_placing_says_nothing_of_the_piece_yet(workshop: Access) -> None:
    piece, host = strip(), volume()
    save(workshop, piece, host, placing(piece, host, function="tacket", status="planned"))
    assert found(workshop, facets={"function": "tacket"}) == [placing(piece, host).id]


def test_facets_are_counted_for_all_that_is_found_not_for_one_page(workshop: Access) -> None:
    save(workshop, *(strip(f"parchment {n}") for n in range(3)), strip("paper", material="paper-laid"))
    page = workshop.find(kind="fragment", limit=2)
    assert (len(page.hits), page.total) == (2, 4)
    assert page.facets["material"] == {"parchment": 3, "paper-laid": 1}
    rest = workshop.find(kind="fragment", limit=2, offset=2)
    assert {hit.iri for hit in page.hits}.isdisjoint(hit.iri for hit in rest.hits)
    assert workshop.find(facets={"material": "paper-laid"}).facets["material"] == {"paper-laid": 1}


def test_a_piece_that_sat_in_two_volumes_is_counted_once(workshop: Access) -> None:
    piece, first, second = strip(), volume("first"), volume("second")
    puts = [placing(piece, host, function="tacket") for host in (first, second)]
    save(workshop, piece, first, second, *puts)
    counts = workshop.find(kind="fragment").facets
    assert counts["function"] == {"tacket": 1}
    assert counts["host"] == {first.id: 1, second.id: 1}


@pytest.mark.parametrize(
    ("date", "names"),
    [
        ("1550", ["sixteenth"]),
        ("1490/1510", ["about 1500", "sixteenth", "before 1500"]),
        ("14XX", ["before 1500"]),
        ("1700/..", ["open"]),
        ("-0044", ["before 1500"]),
    ],
)
def test_a_date_finds_every_piece_whose_own_date_it_meets(
    workshop: Access, date: str, names: list[str]
) -> None:
    dated = {"sixteenth": "15XX", "about 1500": "1500~", "before 1500": "../1499", "open": "1650/.."}
    save(workshop, *(strip(name, dateMade=made) for name, made in dated.items()), strip("undated"))
    expected = {strip(name).id for name in names}
    assert set(found(workshop, facets={"date": date})) == expected


def test_a_search_that_makes_no_sense_names_what_can_be_asked(workshop: Access) -> None:
    with pytest.raises(WrongUse) as caught:
        workshop.find(kind="codex", facets={"colour": "red", "date": "about 1500"})
    assert [fault.where for fault in caught.value.faults] == ["facets", "kind", "facets date"]
    assert "material" in caught.value.faults[0].expected
    assert "1560~" in caught.value.faults[2].mend


@pytest.mark.parametrize(
    "asked", ['"', "'", "a AND (", "NEAR(", "*", "%", "_", "-", "title:x", "\x00", "; DROP"]
)
def test_signs_in_a_search_are_no_commands(workshop: Access, asked: str) -> None:
    save(workshop, strip(note="nothing of the kind"))
    assert workshop.find(asked).total in {0, 1}


def test_signs_alone_leave_the_search_as_wide_as_without_them(workshop: Access) -> None:
    save(workshop, strip(), strip("other"))
    assert workshop.find("- * %").total == 2


def test_a_hit_shows_the_words_around_what_was_looked_for(workshop: Access) -> None:
    long = (
        "The leaf was folded twice. " * 8 + "A Psálter initial was cut through. " + "It was pasted down. " * 8
    )
    save(workshop, strip(note=long, workshopNumber="W 7"))
    (hit,) = workshop.find("psalter").hits
    assert "A Psálter initial was cut" in hit.snippet
    assert hit.snippet.startswith("… ")
    assert hit.snippet.endswith(" …")
    assert len(hit.snippet) < 160
    assert (hit.workshop_number, hit.kind, hit.revision) == ("W 7", "fragment", 1)


def test_a_search_follows_every_revision_and_forgets_what_was_taken_out(workshop: Access) -> None:
    piece = strip(note="psalter", workshopNumber="W 7")
    save(workshop, piece)
    save(workshop, changed(piece, note="gradual", material="leather"), from_revision=1)
    assert found(workshop, "psalter") == []
    assert found(workshop, "gradual", facets={"material": "leather"}) == [piece.id]
    workshop.delete(piece.id, started_from=2, who=WHO, why="a mistake")
    assert workshop.find("gradual").total == workshop.find("W7").total == workshop.find().total == 0
    assert workshop.find().facets == {}


def test_private_fields_are_searched_by_the_workshop_only(workshop: Access, public: Access) -> None:
    piece = strip(privateNote="smells of smoke", boxLocation="shelf 3")
    save(workshop, piece)
    assert found(workshop, "smoke") == [piece.id]
    assert found(public, "smoke") == found(public, "shelf") == []
    assert found(public, "strip") == [piece.id]
