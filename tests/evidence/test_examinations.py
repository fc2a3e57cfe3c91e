"""What can be examined only while a piece is lifted (common practice, no published source)."""

from __future__ import annotations

from typing import Any

import pytest

from guardbook.errors import WrongUse
from guardbook.evidence.examination_table import examination_table
from guardbook.evidence.examinations import Examinations, examinations_of
from guardbook.records import terms
from guardbook.records.alteration import Alteration
from guardbook.records.base import Record
from guardbook.records.image import Image
from tests.binding.bench import dossier, iri, made, move, piece, placing, separation, volume

NOT_ONCE_BACK = {"read-hidden-face", "light-hidden-face", "transmitted-light", "offset-beneath"}
IN_PART = {"thickness", "microscopy", "protein-rubbing", "xrf", "flat-measurement"}
ALWAYS = {"read-outer-face", "light-exposed-face"}


def examined(*more: Record, back: bool = True, about: Record | None = None, **fields: Any) -> Examinations:
    """Ask about the removal of a strip that goes back, or not, among other records."""
    kind = "lifted-and-returned" if back else "lifted-in-treatment"
    given = {"separationKind": kind, "status": "planned", **fields}
    off = separation("off", "Strip", "Book", 2, **given)
    records = (volume("Book", None, None), placing("in", "Strip", "Book", 1, outwardFace="recto"), off)
    strip = () if any(one.id == iri("fragment", "Strip") for one in more) else (piece("Strip"),)
    return examinations_of(dossier(*records, *strip, *more), about or off)


def slugs(found: Examinations, state: str) -> set[str]:
    """Give the examinations in a state."""
    return {one.row.slug for one in found.in_state(state)}


def test_before_a_return_all_is_named_that_cannot_be_done_afterwards() -> None:
    found = examined()
    assert slugs(found, "only-now") == NOT_ONCE_BACK
    assert slugs(found, "limited-after") == IN_PART
    assert slugs(found, "later") == ALWAYS


def test_a_piece_that_is_kept_apart_can_be_examined_later_but_its_place_in_the_volume_cannot() -> None:
    found = examined(back=False, housing="box")
    assert slugs(found, "only-now") == {"offset-beneath"}
    assert "before its place in the volume is covered again" in found.words()
    kept = examined(back=False, status="done", housing="box", replacedBy="nothing")
    assert slugs(kept, "only-now") == set()


@pytest.mark.parametrize("status", ["planned", "done"])
def test_while_it_is_open_whether_a_piece_goes_back_all_is_told_as_if_it_did(status: str) -> None:
    found = examined(back=False, status=status)
    assert slugs(found, "only-now") == NOT_ONCE_BACK
    assert "Whether it goes back is not recorded" in found.words()


@pytest.mark.parametrize("back", [True, False])
def test_every_examination_that_is_listed_brings_its_caution_whatever_becomes_of_the_piece(
    back: bool,
) -> None:
    words = examined(back=back, housing="box").words()
    assert "UV lamps: eye and skin protection" in words
    assert "X-rays: only with licensed equipment" in words


def test_the_removal_of_a_piece_that_is_back_in_its_place_is_told_as_past() -> None:
    off = separation("off", "Strip", "Book", 2, separationKind="lifted-in-treatment")
    back = placing("back", "Strip", "Book", 3, undoes=off.id, returnKind="put-back-in-place")
    records = (volume("Book", None, None, None), piece("Strip"), placing("in", "Strip", "Book", 1))
    found = examinations_of(dossier(*records, off, back), off)
    assert slugs(found, "out-of-reach") == NOT_ONCE_BACK
    assert slugs(found, "limited") == IN_PART
    assert not slugs(found, "only-now")
    assert "Thickness at several points (needs both faces free); now that it is back" in found.words()


def test_a_piece_kept_with_its_volume_after_a_return_stays_within_reach() -> None:
    off = separation("off", "Strip", "Book", 2, separationKind="lifted-in-treatment", replacedBy="nothing")
    back = placing("back", "Strip", "Book", 2, undoes=off.id, returnKind="kept-with-volume")
    records = (volume("Book", None, None), piece("Strip"), placing("in", "Strip", "Book", 1))
    assert slugs(examinations_of(dossier(*records, off, back), off), "only-now") == set()


def test_what_was_decided_on_is_not_asked_for_again() -> None:
    found = examined(examinations=["read-hidden-face", "thickness"])
    assert slugs(found, "decided") == {"read-hidden-face", "thickness"}
    assert "read-hidden-face" not in slugs(found, "only-now")


def test_what_was_done_with_a_removal_is_done_and_what_was_not_is_out_of_reach_once_it_is_back() -> None:
    off = separation("off", "Strip", "Book", 2, examinations=["read-hidden-face"])
    back = placing("back", "Strip", "Book", 2, undoes=off.id, returnKind="put-back-in-place")
    records = (volume("Book", None, None), piece("Strip"), placing("in", "Strip", "Book", 1), off, back)
    found = examinations_of(dossier(*records), back)
    assert slugs(found, "done") == {"read-hidden-face"}
    assert slugs(found, "out-of-reach") == NOT_ONCE_BACK - {"read-hidden-face"}
    assert slugs(found, "limited") == IN_PART


def photograph(technique: str, face: str | None) -> Record:
    """Make an image of the strip."""
    given = {"depicts": [iri("fragment", "Strip")], "technique": technique, "face": face, "when": "2020-05"}
    image: Record = made(Image, "photograph", **{key: value for key, value in given.items() if value})
    return image


def test_an_image_of_the_hidden_face_shows_that_it_was_looked_at() -> None:
    found = examined(photograph("uv-fluorescence", "verso"))
    assert slugs(found, "done") == {"light-hidden-face"}
    assert "shown by an image [image/" in found.words()


@pytest.mark.parametrize("face", ["recto", "hair", None])
def test_an_image_of_another_face_or_of_one_that_does_not_compare_proves_no_look_at_the_hidden_one(
    face: str | None,
) -> None:
    assert "light-hidden-face" in slugs(examined(photograph("uv-fluorescence", face)), "only-now")


def test_cautions_go_with_methods_examinations_and_materials() -> None:
    words = examined(methods=["solvent"]).words()
    assert "Solvents: read the safety data sheet first" in words
    assert "UV lamps" in words
    assert "a qualified person come before anything said here" in words
    assert "Steam scalds" not in words


@pytest.mark.parametrize(
    "condition",
    [
        "Painted bright green.",
        "Orpiment on the outside.",
        "Vora pintada de verd.",
        "Cantos de color verde.",
        "Tranches vertes, arsénic possible.",
        "Hellgrüner Schnitt.",
        "Tagli verdi, forse arsenico.",
        "Einband bemalt.",
        "Traces de céruse.",
    ],
)
def test_paint_that_may_hold_arsenic_is_warned_of_on_any_piece(condition: str) -> None:
    found = examined(piece("Strip", condition=condition))
    assert any("arsenic" in caution for caution in found.cautions)
    assert not any("arsenic" in caution for caution in examined(piece("Strip", condition="Sound.")).cautions)


def test_paint_on_the_volume_is_warned_of_and_the_caution_says_what_called_for_it() -> None:
    off = separation("off", "Strip", "Book", 2, status="planned")
    green = volume("Book", None, None, condition="Schnitt (hellgrün), arsenic suspected.")
    found = examinations_of(dossier(green, piece("Strip"), placing("in", "Strip", "Book", 1), off), off)
    (told,) = [caution for caution in found.cautions if "arsenic" in caution]
    assert f"Shown because of: “hellgrün” [{green.short}]." in told


def test_what_was_done_to_the_volume_can_call_for_a_caution_too() -> None:
    off = separation("off", "Strip", "Book", 2, status="planned")
    painted = made(Alteration, "painted", target=iri("host", "Book"), description="Edges painted.")
    records = (volume("Book", None, None), piece("Strip"), placing("in", "Strip", "Book", 1), off, painted)
    assert any(painted.short in caution for caution in examinations_of(dossier(*records), off).cautions)


@pytest.mark.parametrize("note", ["Vertical folds.", "Ohne Grund gefaltet.", "The verdict of 1612."])
def test_words_that_only_look_like_a_colour_call_for_no_caution(note: str) -> None:
    found = examined(piece("Strip", note=note))
    assert not any("arsenic" in caution for caution in found.cautions)


def test_only_removals_and_returns_bear_on_what_can_be_examined() -> None:
    with pytest.raises(WrongUse, match="neither a removal nor a return"):
        examined(about=move("sold", "Strip"))


def test_the_table_has_every_examination_that_a_record_can_name() -> None:
    assert {row.slug for row in examination_table()} == set(terms.of_scheme("examination"))
    assert examined().as_json()["examinations"]
