"""Records edited by forms made from the shapes."""

from __future__ import annotations

import pytest

from guardbook.actions.edit_record import Form, form_to_add, form_to_edit, send_form
from guardbook.actions.form_parts import Input, Rows
from guardbook.actions.load_demo import demo_records
from guardbook.catalogue.access import Access
from guardbook.completeness.questions import questions_of
from guardbook.errors import NotAllowed, NotFound
from guardbook.records.kinds import KINDS
from guardbook.wording import speaking
from tests.actions.filling import Texts, sent
from tests.api.shelf import ANNA, BOOK, OFF, PUT, SHELF, STRIP
from tests.catalogue.shelf import save


@pytest.fixture
def shelf(workshop: Access) -> Access:
    save(workshop, *SHELF)
    return workshop


def filled(form: Form | None, **typed: str) -> Texts:
    assert form is not None
    return sent(form.hidden, form.sections, **typed)


def one(form: Form, name: str) -> Input:
    found = [given for section in form.sections for given in section.inputs() if given.name == name]
    assert len(found) == 1, name
    return found[0]


def parts(form: Form, name: str) -> Rows:
    return next(
        item
        for section in form.sections
        for item in (*section.items, *section.more)
        if isinstance(item, Rows) and item.name == name
    )


@pytest.mark.parametrize("kind", KINDS)
def test_the_forms_of_the_demonstration_sent_back_unchanged_change_nothing(demo: Access, kind: str) -> None:
    before = demo.sequence
    for iri in list(demo.iris(kind)):
        done = send_form(demo, filled(form_to_edit(demo, iri)), name=iri)
        assert done.form is None, iri
    assert demo.sequence == before


def test_the_demonstration_has_records_of_every_kind() -> None:
    assert {record.kind for record in demo_records()} == set(KINDS)


def test_one_value_is_changed_and_all_else_stays_as_it_was(shelf: Access) -> None:
    texts = filled(form_to_edit(shelf, STRIP.id), fragment__height="4,15 cm", who="Anna")
    done = send_form(shelf, texts, name=STRIP.id)
    assert [revision.number for revision in done.saved] == [2]
    assert shelf.difference(STRIP.id, 1, 2) == ("Height (mm): 41.5 (was 40.0)",)
    assert shelf.record(STRIP.id).who == "Anna"


def test_every_fault_is_told_at_its_input_and_all_that_was_typed_stays(shelf: Access) -> None:
    typed = {"fragment__height": "tall", "fragment__width": "-3", "fragment__title": "New title"}
    done = send_form(shelf, filled(form_to_edit(shelf, STRIP.id), **typed), name=STRIP.id)
    assert done.form is not None
    assert done.is_wrong
    assert {fault.where for fault in done.form.faults} == {"fragment.height", "fragment.width"}
    assert one(done.form, "fragment.height").text == "tall"
    assert one(done.form, "fragment.height").faults[0].expected.startswith("one length")
    assert one(done.form, "fragment.title").text == "New title"
    assert shelf.record(STRIP.id).revision == 1


def test_a_fault_of_a_part_is_told_in_its_row(shelf: Access) -> None:
    texts = filled(form_to_edit(shelf, PUT.id), placing__positions__0__x="left")
    done = send_form(shelf, texts, name=PUT.id)
    assert done.form is not None
    assert one(done.form, "placing.positions.0.x").faults
    assert parts(done.form, "placing.positions").rows[0].is_wrong


def test_a_value_that_is_rare_is_asked_about_and_kept_where_the_person_is_sure(shelf: Access) -> None:
    texts = filled(form_to_edit(shelf, STRIP.id), fragment__seenWhen="03/04/2024")
    asked = send_form(shelf, texts, name=STRIP.id)
    assert asked.form is not None
    when = one(asked.form, "fragment.seenWhen")
    assert [fault.doubt for fault in when.faults] == [True]
    again = filled(asked.form, sure=when.sure_as)
    assert send_form(shelf, again, name=STRIP.id).saved
    assert shelf.record(STRIP.id).record.model_dump()["seen_when"] == "2024-04-03"


def test_being_sure_of_one_value_says_nothing_of_another(shelf: Access) -> None:
    texts = filled(
        form_to_edit(shelf, STRIP.id), fragment__seenWhen="03/04/2024", sure="fragment.seenWhen=05/06/2024"
    )
    assert send_form(shelf, texts, name=STRIP.id).is_wrong


def test_two_people_who_change_different_fields_lose_nothing(shelf: Access) -> None:
    mine = form_to_edit(shelf, STRIP.id)
    send_form(shelf, filled(mine, fragment__width="21", who="Berta"), name=STRIP.id)
    late = send_form(shelf, filled(mine, fragment__height="41", who="Carla"), name=STRIP.id)
    assert late.form is not None
    assert [one.who for one in late.form.conflicts] == ["Berta"]
    texts = filled(late.form)
    assert (texts["fragment.height"], texts["fragment.width"]) == (("41",), ("21",))
    assert [revision.number for revision in send_form(shelf, texts, name=STRIP.id).saved] == [3]


def test_where_both_changed_a_field_what_was_typed_stays_beside_what_was_saved(shelf: Access) -> None:
    mine = form_to_edit(shelf, STRIP.id)
    send_form(shelf, filled(mine, fragment__height="42", who="Berta"), name=STRIP.id)
    late = send_form(shelf, filled(mine, fragment__height="41"), name=STRIP.id)
    assert late.form is not None
    (differs,) = late.form.conflicts[0].differences
    assert (differs.label, differs.mine, differs.theirs, differs.is_mine) == ("Height (mm)", "41", "42", True)
    assert one(late.form, "fragment.height").text == "41"
    assert shelf.record(STRIP.id).revision == 2


def test_parts_that_two_people_added_are_both_kept(shelf: Access) -> None:
    mine = form_to_edit(shelf, STRIP.id)
    added = {"fragment__features__0__id": "#mine", "fragment__features__0__featureKind": "stain"}
    theirs = {"fragment__features__0__id": "#theirs", "fragment__features__0__featureKind": "fold"}
    send_form(shelf, filled(mine, **theirs), name=STRIP.id)
    late = send_form(shelf, filled(mine, **added), name=STRIP.id)
    assert late.form is not None
    assert {row.identity for row in parts(late.form, "fragment.features").rows} == {"#mine", "#theirs"}


def test_the_same_form_sent_twice_is_saved_once(shelf: Access) -> None:
    texts = filled(form_to_add(shelf, "fragment"), fragment__title="Sewing guard")
    saved = [send_form(shelf, texts, kind="fragment").saved[0] for _ in range(2)]
    assert saved[0] == saved[1]
    assert saved[0].number == 1


def test_a_form_sent_again_with_a_correction_replaces_what_came_the_first_time(shelf: Access) -> None:
    form = form_to_add(shelf, "fragment")
    first = send_form(shelf, filled(form, fragment__title="Guard", fragment__height="12"), kind="fragment")
    again = send_form(shelf, filled(form, fragment__title="Sewing guard"), kind="fragment")
    assert (again.saved[0].iri, again.saved[0].number) == (first.saved[0].iri, 2)
    assert shelf.record(first.saved[0].iri).record.model_dump()["height"] is None


def test_a_row_is_added_and_taken_out_by_buttons(shelf: Access) -> None:
    form = send_form(shelf, filled(form_to_edit(shelf, BOOK.id), add="host.stages"), name=BOOK.id).form
    assert form is not None
    rows = parts(form, "host.stages").rows
    assert [row.identity for row in rows] == ["#stage-1", "#stage-2", "#stage-3"]
    form = send_form(shelf, filled(form, remove=rows[-1].name), name=BOOK.id).form
    assert form is not None
    assert len(parts(form, "host.stages").rows) == 2
    assert shelf.record(BOOK.id).revision == 1


def test_a_part_that_another_record_names_cannot_be_taken_out(shelf: Access) -> None:
    form = send_form(shelf, filled(form_to_edit(shelf, BOOK.id), remove="host.stages.0"), name=BOOK.id).form
    done = send_form(shelf, filled(form), name=BOOK.id)
    assert done.form is not None
    assert PUT.short in str(done.form.faults[0].expected)


def test_a_person_whom_nobody_knows_is_added_once_it_is_said_what_they_are(shelf: Access) -> None:
    texts = filled(form_to_edit(shelf, STRIP.id), fragment__seenBy="Dora Vell")
    asked = send_form(shelf, texts, name=STRIP.id)
    assert asked.form is not None
    who = one(asked.form, "fragment.seenBy")
    assert [choice.value for choice in who.add_as] == ["agent"]
    done = send_form(shelf, {**texts, "new.fragment.seenBy": ("agent",)}, name=STRIP.id)
    assert done.saved
    kept = shelf.record(STRIP.id).record.model_dump()["seen_by"]
    assert shelf.record(kept).record.display_title == "Dora Vell"


def test_people_are_shown_by_name_and_stages_to_choose_from(shelf: Access) -> None:
    form = form_to_edit(shelf, OFF.id)
    assert one(form, "separation.by").text == "Anna Verrin"
    assert [choice.label for choice in one(form, "separation.stage").choices] == [
        "not said",
        "1. bound, 1510",
        "2. repaired, 2020",
    ]
    assert ANNA.id not in filled(form).values()


def test_a_name_that_two_people_have_is_shown_by_its_identifier(shelf: Access) -> None:
    send_form(shelf, filled(form_to_add(shelf, "agent"), agent__name="Anna Verrin"), kind="agent")
    assert one(form_to_edit(shelf, OFF.id), "separation.by").text == ANNA.short


def test_what_a_stage_asks_comes_first_with_why_how_and_the_answers_that_count(shelf: Access) -> None:
    form = form_to_edit(shelf, STRIP.id)
    first = {item.part for section in form.sections for item in section.items}
    asked = {question.asks for question in questions_of("Fragment")}
    own = {item.part for section in form.sections for item in (*section.items, *section.more)}
    assert asked & own <= first
    thickness = one(form, "fragment.thickness")
    assert thickness.why
    assert thickness.how
    assert thickness.answer is not None
    assert [choice.value for choice in thickness.answer.choices] == ["", "cannot-be-known"]


def test_a_question_that_another_record_answers_can_be_answered_here(shelf: Access) -> None:
    texts = filled(form_to_edit(shelf, STRIP.id), fragment__answers__host__answer="cannot-be-known")
    assert send_form(shelf, texts, name=STRIP.id).saved
    assert [one.asked for one in shelf.record(STRIP.id).record.answers] == ["host"]


def test_labels_are_in_the_language_of_the_reader(shelf: Access) -> None:
    with speaking("ca"):
        assert one(form_to_edit(shelf, STRIP.id), "fragment.height").label == "Alçada (mm)"


def test_only_the_workshop_has_forms(shelf: Access, public: Access) -> None:
    with pytest.raises(NotAllowed):
        form_to_edit(public, STRIP.id)
    with pytest.raises(NotAllowed):
        form_to_add(public, "fragment")
    with pytest.raises(NotAllowed):
        send_form(public, filled(form_to_edit(shelf, STRIP.id)), name=STRIP.id)


def test_there_is_no_form_for_a_kind_that_there_is_not(workshop: Access) -> None:
    with pytest.raises(NotFound, match="fragment, host"):
        form_to_add(workshop, "book")


def test_a_series_of_holes_is_added_to_a_piece_as_a_list(shelf: Access) -> None:
    typed = {"fragment__holes__0__list": "x 5: 10 30", "fragment__folds": "20"}
    assert send_form(shelf, filled(form_to_edit(shelf, STRIP.id), **typed), name=STRIP.id).saved
    features = shelf.record(STRIP.id).record.model_dump()["features"]
    assert [one["feature_kind"] for one in features] == ["sewing-hole", "sewing-hole", "fold"]
    wrong = send_form(shelf, filled(form_to_edit(shelf, STRIP.id), fragment__folds="up"), name=STRIP.id)
    assert wrong.form is not None
    assert one(wrong.form, "fragment.folds").faults
