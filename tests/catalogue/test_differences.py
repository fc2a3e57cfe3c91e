"""What changed between two revisions, in words."""

from guardbook.catalogue.access import Access
from guardbook.catalogue.differences import differences
from guardbook.records.documents import from_document, to_document
from tests.catalogue.shelf import changed, iri, made, save, strip

HOLE = {"id": "#feature-1", "featureKind": "sewing-hole", "x": "4.0", "y": "120"}
FOLD = {"id": "#feature-2", "featureKind": "fold", "y": "60.5"}


def test_a_field_is_told_by_its_label_with_both_values() -> None:
    before = strip(height="45.5", material="parchment", note="wormed")
    after = strip(height="45.50", material="paper-laid", licence="https://rights.example/by")
    assert differences(before, after) == (
        "Note: empty (was wormed)",
        "Material: laid paper (was parchment)",
        "Height (mm): 45.50 (was 45.5)",
        "Licence: https://rights.example/by (was empty)",
    )


def test_the_same_is_told_in_the_language_that_is_asked_for() -> None:
    (line,) = differences(strip(material="parchment"), strip(material="paper-laid"), "ca")
    assert "paper verjurat" in line
    assert "pergamí" in line


def test_holes_that_were_added_moved_and_removed_are_told_one_by_one() -> None:
    before = strip(features=[HOLE, FOLD])
    third = {"id": "#feature-3", "featureKind": "stain", "note": "rust"}
    after = strip(features=[{**HOLE, "x": "4.5"}, third])
    lines = differences(before, after)
    assert ["#feature-2" in lines[0], "#feature-1" in lines[1], "#feature-3" in lines[2]] == [True] * 3
    assert lines[0].endswith("removed")
    assert lines[1].endswith("4.5 (was 4.0)")
    assert "stain" in lines[2]
    assert "rust" in lines[2]


def test_several_values_are_told_by_what_came_and_went() -> None:
    piece = iri("fragment", "strip")
    host = iri("host", "volume")
    before = made("placing", "put", piece=piece, host=host, fixings=["adhered-starch", "sewn-separately"])
    after = made("placing", "put", piece=piece, host=host, fixings=["adhered-starch", "tacketed"])
    (line,) = differences(before, after)
    assert line.count("added") == line.count("removed") == 1
    assert "starch" not in line


def test_yes_and_no_are_words() -> None:
    (line,) = differences(made("agent", "a", name="Ada"), made("agent", "a", name="Ada", mayBeNamed=True))
    assert line.endswith("yes (was empty)")


def test_nothing_changed_says_nothing() -> None:
    piece = strip(features=[HOLE], height="45.50")
    assert differences(piece, from_document(to_document(piece))) == ()


def test_two_revisions_of_the_catalogue_are_compared_either_way_round(workshop: Access) -> None:
    piece = strip()
    save(workshop, piece)
    save(workshop, changed(piece, note="wormed"), from_revision=1)
    assert workshop.difference(piece.id, 1, 2) == ("Note: wormed (was empty)",)
    assert workshop.difference(piece.id, 2, 1) == ("Note: empty (was wormed)",)
