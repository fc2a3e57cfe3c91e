"""Registering a piece at the bench: one form, and all that it makes is saved as one."""

from __future__ import annotations

import hashlib
import io
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from guardbook import settings
from guardbook.actions.form_parts import Rows
from guardbook.actions.register_piece import Registration, registration_form, send_registration
from guardbook.actions.registration_steps import fields_by_step
from guardbook.actions.where_it_sat import where_it_sat
from guardbook.catalogue.access import Access
from guardbook.completeness.questions import questions_of
from guardbook.errors import NotAllowed, WrongUse
from guardbook.records.base import Record
from guardbook.records.fields import fields_of
from guardbook.records.fragment import Fragment
from guardbook.records.host import HostVolume
from guardbook.records.placing import Placing
from guardbook.records.separation import Separation
from tests.actions.filling import Texts, sent
from tests.api.shelf import ANNA, BOOK, SHELF, STRIP
from tests.catalogue.shelf import changed, save

ON_SIGHT = {
    "fragment__title": "Strip of a missal",
    "fragment__extent": "strip",
    "fragment__material": "parchment",
    "fragment__seenBy": "Anna Verrin",
    "fragment__seenWhen": "3.11.2025",
    "placing__function": "sewing-guard",
    "placing__positions__0__plane": "textblock-spine",
}
LIFTED = {
    "separation__separationKind": "lifted-in-treatment",
    "separation__when": "2025-11-04",
    "separation__by": "Anna Verrin",
    "separation__housing": "box",
    "separation__wentTo": "City Library",
}


@pytest.fixture
def shelf(workshop: Access, own_data: Path) -> Access:
    assert not own_data.exists()
    save(workshop, *SHELF)
    return workshop


def filled(form: Registration | None, **typed: str) -> Texts:
    assert form is not None
    sections = [section for step in form.steps for section in (*step.sections, step.of_photographs)]
    return sent(form.hidden, sections, **typed)


def photograph(colour: str = "tan") -> io.BytesIO:
    file = io.BytesIO()
    Image.new("RGB", (60, 30), colour).save(file, "JPEG")
    return file


def made(access: Access, texts: Texts, role: str) -> Any:
    """Give the record that a role of a form made."""
    return access.record(settings.current().base + texts[f"id.{role}"][0]).record


def test_a_removed_strip_is_registered_with_all_that_belongs_to_it(shelf: Access, own_data: Path) -> None:
    typed = {
        **ON_SIGHT,
        **LIFTED,
        "fragment__height": "4 cm",
        "fragment__width": "20",
        "placing__positions__0__x": "-10",
        "placing__positions__0__y": "30",
        "fragment__holes__0__list": "x 5: 10 30",
        "fragment__folds": "20",
    }
    texts = filled(registration_form(shelf, BOOK.id), **typed)
    files = [
        ("photographs.in-place", "in place.jpg", photograph()),
        ("photographs.after-lifting", "a", photograph("red")),
    ]
    done = send_registration(shelf, texts, files)
    assert done.form is None
    piece = made(shelf, texts, "fragment")
    assert done.saved[0].iri == piece.id
    assert (str(piece.height), piece.seen_by, piece.seen_when) == ("40", ANNA.id, "2025-11-03")
    assert [one.feature_kind for one in piece.features] == ["sewing-hole", "sewing-hole", "fold"]
    assert (str(piece.features[2].to_x), str(piece.features[2].to_y)) == ("20", "20")
    placing, separation = made(shelf, texts, "placing"), made(shelf, texts, "separation")
    assert (placing.piece, placing.host, placing.stage) == (piece.id, BOOK.id, f"{BOOK.id}#stage-1")
    assert (separation.undoes, separation.stage) == (placing.id, f"{BOOK.id}#stage-3")
    before, after = (
        shelf.record(iri).record for iri in (*separation.images_before, *separation.images_after)
    )
    assert isinstance(shelf.record(BOOK.id).record, HostVolume)
    assert shelf.record(BOOK.id).record.stages[-1].stage_kind == "after-treatment"  # type: ignore[attr-defined]
    assert set(before.depicts) == {piece.id, BOOK.id}  # type: ignore[attr-defined]
    assert after.when == "2025-11-04"  # type: ignore[attr-defined]
    # the name of a file may name a person or a client
    assert (before.private_note, before.note) == ("in place.jpg", None)
    kept = own_data / before.file  # type: ignore[attr-defined]
    assert hashlib.sha256(kept.read_bytes()).hexdigest() == before.sha256  # type: ignore[attr-defined]
    assert "box" in where_it_sat(shelf, piece.id).words()
    assert {shelf.record(revision.iri).who for revision in done.saved} == {"Anna Verrin"}


def test_a_piece_that_stays_in_place_is_registered_without_a_removal(shelf: Access) -> None:
    texts = filled(registration_form(shelf, BOOK.short), **ON_SIGHT)
    saved = send_registration(shelf, texts).saved
    assert {revision.iri.split("/")[-2] for revision in saved} == {"fragment", "placing", "host"}
    assert shelf.record(BOOK.id).revision == 1


def test_a_volume_that_is_new_is_registered_with_its_piece(shelf: Access) -> None:
    volume = {"host__title": "Register of tolls", "host__shelfmark": "T 13", "host__keeper": "City Library"}
    texts = filled(registration_form(shelf, "new"), **ON_SIGHT, **LIFTED, **volume)
    assert send_registration(shelf, texts).form is None
    host = made(shelf, texts, "host")
    assert [stage.stage_kind for stage in host.stages] == ["bound", "as-received", "after-treatment"]
    assert made(shelf, texts, "placing").host == host.id
    assert made(shelf, texts, "separation").stage == f"{host.id}#stage-3"


def test_a_piece_whose_volume_nobody_knows_was_found_loose(shelf: Access) -> None:
    texts = filled(registration_form(shelf, "unknown"), fragment__title="Loose strip")
    assert send_registration(shelf, texts).form is None
    separation = made(shelf, texts, "separation")
    assert (separation.separation_kind, separation.host) == ("found-loose-host-unknown", None)
    assert not shelf.has(settings.current().base + texts["id.placing"][0])


def test_the_same_form_sent_twice_makes_everything_once(shelf: Access) -> None:
    texts = filled(registration_form(shelf, BOOK.id), **ON_SIGHT, **LIFTED, **{"new.fragment__seenBy": ""})
    first = send_registration(shelf, texts, [("photographs.after-lifting", "a.jpg", photograph())])
    before = shelf.sequence
    again = send_registration(shelf, texts, [("photographs.after-lifting", "a.jpg", photograph())])
    assert again.saved == first.saved
    assert shelf.sequence == before
    assert len(list(shelf.iris("image"))) == 1


def test_a_person_who_is_new_is_made_once_however_often_the_form_is_sent(shelf: Access) -> None:
    typed = {**ON_SIGHT, "fragment__seenBy": "Dora Vell", "new__fragment__seenBy": "agent"}
    texts = filled(registration_form(shelf, BOOK.id), **typed)
    for _ in range(2):
        assert send_registration(shelf, texts).form is None
    people = (shelf.record(iri).record for iri in shelf.iris("agent"))
    assert sorted(person.model_dump()["name"] for person in people) == ["Anna Verrin", "Dora Vell"]


def test_nothing_is_saved_and_no_file_kept_where_anything_is_wrong(shelf: Access, own_data: Path) -> None:
    before = shelf.sequence
    texts = filled(registration_form(shelf, BOOK.id), **ON_SIGHT, fragment__height="tall")
    files = [
        ("photographs.in-place", "a.jpg", photograph()),
        ("photographs.in-place", "b.doc", io.BytesIO(b"text")),
    ]
    done = send_registration(shelf, texts, files)
    assert done.form is not None
    assert {fault.where for fault in done.form.faults} == {"fragment.height", "photographs.in-place"}
    assert "b.doc" in next(fault.found for fault in done.form.faults if fault.where == "photographs.in-place")
    assert [step.name for step in done.form.steps if step.is_wrong] == ["before-lifting"]
    assert filled(done.form)["fragment.height"] == ("tall",)
    assert shelf.sequence == before
    assert not own_data.exists()


def test_a_form_that_says_nothing_of_its_piece_is_not_saved(shelf: Access) -> None:
    done = send_registration(shelf, filled(registration_form(shelf, BOOK.id)))
    assert done.form is not None
    assert [fault.where for fault in done.form.faults] == ["fragment.title"]


def test_a_volume_saved_in_between_is_shown_and_nobody_s_work_is_lost(shelf: Access) -> None:
    form = registration_form(shelf, BOOK.id)
    other = filled(registration_form(shelf, BOOK.id), **ON_SIGHT, **{**LIFTED, "separation__when": "2025-10"})
    assert send_registration(shelf, other).saved
    late = send_registration(shelf, filled(form, **ON_SIGHT, **LIFTED))
    assert late.form is not None
    assert [one.iri for one in late.form.conflicts] == [BOOK.id]
    texts = filled(late.form)
    assert texts["fragment.title"] == ("Strip of a missal",)
    assert send_registration(shelf, texts).form is None
    assert len(list(shelf.iris("separation"))) == 3
    stages = shelf.record(BOOK.id).record.model_dump()["stages"]
    assert [stage["when"] for stage in stages] == ["1510", "2020", "2025-10", "2025-11-04"]


def test_the_steps_follow_the_hands_and_ask_everything_the_stages_ask() -> None:
    models: dict[str, type[Record]] = {
        "host": HostVolume,
        "fragment": Fragment,
        "placing": Placing,
        "separation": Separation,
    }
    steps = list(fields_by_step(models))
    assert [step.plan.name for step in steps] == ["volume", "on-sight", "before-lifting", "lifting", "after"]
    asked = [
        name for step in steps for name in (*step.first, *(n for some in step.asked.values() for n in some))
    ]
    everything = [*asked, *(name for step in steps for name in step.more)]
    assert len(everything) == len(set(everything))
    for role, model in models.items():
        own = {field.json_name for field in fields_of(model)}
        wanted = {
            f"{role}.{one.asks}" for one in questions_of(model.__name__) if one.stage != "ready-to-share"
        }
        not_asked = {name for name in wanted - set(asked) if name.partition(".")[2] in own}
        # holes, folds and photographs are asked in another way, and the volume is chosen before
        assert not_asked <= {
            "fragment.features",
            "fragment.series",
            *(f"separation.images{when}" for when in ("Before", "During", "After")),
            # of a new volume only the least is asked; the rest is folded away
            *(f"host.{name}" for name in ("height", "thickness", "spineWidth", "stages", "condition")),
        }


def test_the_place_can_be_drawn_from_the_first_sight_on(shelf: Access) -> None:
    form = registration_form(shelf, BOOK.id)
    on_sight, before = form.steps[0], form.steps[1]
    plane = next(one for section in on_sight.sections for one in section.inputs() if one.drawn == "plane")
    assert plane.name == "placing.positions.0.plane"
    places = next(item for section in before.sections for item in section.items if isinstance(item, Rows))
    assert places.is_place
    assert "plane" not in {one.part for one in (*places.rows[0].inputs, *places.rows[0].more)}
    drawn = {one.drawn for section in before.sections for one in section.inputs()}
    assert {"x", "y", "rotation", "mirrored", "width", "height", "holes", "folds"} <= drawn


def test_only_a_volume_holds_pieces_and_only_the_workshop_registers_them(
    shelf: Access, public: Access
) -> None:
    with pytest.raises(WrongUse, match="no volume"):
        registration_form(shelf, STRIP.id)
    with pytest.raises(NotAllowed):
        registration_form(public, BOOK.id)


def wheres(form: Registration | None) -> set[str]:
    assert form is not None
    return {fault.where for fault in form.faults}


def test_one_photograph_is_not_of_two_moments(shelf: Access) -> None:
    texts = filled(registration_form(shelf, BOOK.id), **ON_SIGHT)
    files = [
        ("photographs.in-place", "a.jpg", photograph()),
        ("photographs.after-lifting", "b.jpg", photograph()),
        ("photographs.in-place", "again.jpg", photograph()),
    ]
    done = send_registration(shelf, texts, files)
    assert wheres(done.form) == {"photographs.after-lifting"}
    assert "'b.jpg', which was chosen under 'in place' too" in str(done.form and done.form.faults[0])


def test_a_number_that_another_record_has_comes_back_in_the_form(shelf: Access) -> None:
    save(shelf, changed(STRIP, workshop_number="W-12/b"), from_revision=1)
    texts = filled(registration_form(shelf, BOOK.id), **ON_SIGHT, fragment__workshopNumber="w 12 b")
    done = send_registration(shelf, texts)
    assert wheres(done.form) == {"fragment.workshopNumber"}
    assert filled(done.form)["fragment.title"] == ("Strip of a missal",)


def test_all_faults_are_told_at_once_those_of_people_and_of_measures(shelf: Access) -> None:
    typed = {**ON_SIGHT, "fragment__seenBy": "Nobody Known", "fragment__height": "0"}
    done = send_registration(shelf, filled(registration_form(shelf, BOOK.id), **typed))
    assert wheres(done.form) == {"fragment.seenBy", "fragment.height"}


def test_a_trace_beside_its_piece_is_asked_about_and_kept_where_one_is_sure(shelf: Access) -> None:
    typed = {**ON_SIGHT, "fragment__height": "180", "fragment__holes__0__list": "x 5: 10 400"}
    form = registration_form(shelf, BOOK.id)
    done = send_registration(shelf, filled(form, **typed))
    assert wheres(done.form) == {"fragment.height"}
    assert "400 mm from its tail" in str(done.form and done.form.faults[0])
    sure = {**filled(done.form), "sure": ("fragment.height=180",)}
    assert send_registration(shelf, sure).form is None


def test_what_would_contradict_what_is_recorded_is_asked_about_before_it_is_saved(shelf: Access) -> None:
    typed = {**ON_SIGHT, **LIFTED, "separation__when": "1490"}
    form = registration_form(shelf, BOOK.id)
    done = send_registration(shelf, filled(form, **typed))
    assert wheres(done.form) == {"separation.when"}
    assert all(fault.doubt for fault in (done.form.faults if done.form else ()))
    assert shelf.record(BOOK.id).revision == 1
