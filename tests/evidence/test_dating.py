"""What pieces, inscriptions and stages prove of dates, and what they do not (common practice)."""

from __future__ import annotations

import pytest

from guardbook.binding.dossier import Dossier
from guardbook.errors import InvalidRecord, NotFound
from guardbook.evidence.dates_told import dates_told
from guardbook.evidence.dating import dating_of
from guardbook.evidence.said import said_in
from guardbook.records.alteration import Alteration
from guardbook.records.base import Record
from guardbook.records.carrier import Carrier
from tests.binding.bench import (
    alteration,
    dossier,
    iri,
    made,
    move,
    piece,
    placing,
    separation,
    stage,
    volume,
)
from tests.evidence.shelf import BOOK, book, dated, limits, pastedown, years


def inscribed(across: str | None = BOOK, date: str = "1580", under: str | None = None) -> Record:
    """Make a pastedown with a dated inscription that goes on across the joint, or runs under a piece."""
    trace: dict[str, object] = {"id": "#feature-1", "featureKind": "inscription", "dateMade": date}
    if across:
        trace["continuesOn"] = [across]
    if under:
        trace["runsUnder"] = [under]
    return piece("Pastedown", dateMade="15XX", features=[trace])


def test_a_piece_younger_than_the_text_block_dates_the_binding() -> None:
    found = limits(dated(book("1600"), *pastedown("1712")))
    assert found.earliest is not None
    assert found.earliest.day == (1712, 1, 1)
    assert found.earliest.words().startswith("Not before 1712: “Pastedown” is of 1712 [fragment/")
    assert "“Pastedown” is original to stage 1 (bound) [placing/" in found.earliest.words()


def test_old_waste_never_gives_an_earliest_date_for_a_binding() -> None:
    found = dated(book("1600"), *pastedown("1190/1215"))
    earliest = limits(found).earliest
    assert earliest is not None
    assert [one.rule for one in earliest.because] == ["date", "text-before-binding"]
    (old,) = found.dates_nothing
    assert old.startswith("“Pastedown” (1190 to 1215) [fragment/")


def test_old_waste_dates_nothing_even_when_the_date_of_the_text_block_is_taken_back() -> None:
    said = said_in(dossier(book("1600"), *pastedown("1190/1215")))
    rest = said.network.without([f"date {BOOK} textDate"])
    leads = {bound.before for bound in rest.bounds if bound.after == iri("placing", "pasted")}
    assert f"cut {iri('fragment', 'Pastedown')}" not in leads


def test_without_a_dated_text_the_youngest_piece_bounds_it_and_the_answer_says_how_little() -> None:
    found = dated(book(None), *pastedown("1190/1215"))
    bound = limits(found)
    assert years(bound)[0] == 1190
    assert bound.earliest is not None
    assert bound.earliest.words().startswith("After the pieces in it were made, 1190 or later")
    assert "so this says little" in bound.earliest.words()
    assert "only after the pieces in it were made, 1190" in bound.span_words()


def test_a_repair_dates_itself_and_not_the_binding() -> None:
    found = dated(book("1600"), *pastedown("1850", original="no"))
    assert years(limits(found)) == (1600, 2020)
    assert years(limits(found, iri("placing", "pasted"))) == (1850, 2020)


@pytest.mark.parametrize("said", ["uncertain", None])
def test_a_piece_of_which_it_is_open_whether_it_is_original_gives_both_cases(said: str | None) -> None:
    found = dated(book("1600"), *pastedown("1712", original=said))
    assert years(limits(found))[0] == 1600
    (case,) = found.cases
    assert case.if_original is not None
    assert case.otherwise is not None
    assert (years(case.if_original)[0], years(case.otherwise)[0]) == (1712, 1600)
    assert "If it is: stage 1 (bound) was not before 1712" in case.words()
    assert "What would decide it" in case.words()


def test_a_piece_that_cannot_be_original_is_told_so_in_that_case() -> None:
    found = dated(book("1600", "1650", "2020"), *pastedown("1712", original="uncertain"))
    (case,) = found.cases
    assert case.if_original is None
    assert "cannot all hold" in case.words()


def test_writing_across_piece_and_volume_gives_the_latest_date() -> None:
    _, put = pastedown("15XX")
    found = limits(dated(book("1574"), inscribed(), put))
    assert years(found) == (1574, 1580)
    assert found.latest is not None
    assert "goes on across the joint" in found.latest.words()


def test_writing_on_a_piece_alone_gives_no_latest_date() -> None:
    _, put = pastedown("15XX")
    assert years(limits(dated(book("1574"), inscribed(across=None), put))) == (1574, 2020)


def test_writing_across_a_later_repair_dates_the_repair_only() -> None:
    _, put = pastedown("15XX", original="no")
    found = dated(book("1500"), inscribed(), put)
    assert years(limits(found, iri("placing", "pasted")))[1] == 1580
    assert limits(found).latest is not None
    assert years(limits(found))[1] == 1580


def test_an_inscription_on_a_piece_that_was_not_yet_there_is_a_contradiction() -> None:
    _, put = pastedown("15XX", original="no", when="1650")
    (clash,) = dated(book("1500"), inscribed(date="1580"), put).contradictions
    assert len(clash.statements) == 3
    assert "goes on across the joint" in clash.words()


def test_an_inscription_across_to_a_volume_where_the_piece_never_lay_is_told() -> None:
    _, put = pastedown("15XX")
    other = volume("Other", "1500")
    found = dated(book("1574"), other, inscribed(across=other.id), put)
    assert "nothing says that the two ever lay together" in found.words()
    assert years(limits(found)) == (1574, 2020)


def test_what_runs_under_a_label_is_older_than_the_label_put_on() -> None:
    label = piece("Label", dateMade="1700")
    on = placing("labelled", "Label", "Book", 1, originalToAssembly="no", function="label")
    _, put = pastedown("15XX")
    found = dated(book("1574"), inscribed(None, "1580", label.id), put, label, on)
    assert years(limits(found, on.id))[0] == 1700
    undated = dated(book("1500"), inscribed(None, "1580", label.id), put, piece("Label"), on)
    assert years(limits(undated, on.id))[0] == 1580


def test_a_placing_is_not_before_its_piece_was_made() -> None:
    strip = piece("Pastedown", dateMade="1650")
    put = placing("pasted", "Pastedown", "Book", 1)
    found = dated(book("1600"), strip, put, about=strip.id)
    assert years(limits(found, put.id))[0] == 1650


def test_a_piece_is_as_old_as_what_it_was_cut_from() -> None:
    psalter = made(Carrier, "Psalter", dateMade="1190/1215")
    place = [{"id": "#carrier-place-1", "carrier": psalter.id}]
    strip = piece("Strip", carrierPlaces=place)
    assert years(limits(dated(psalter, strip, about=strip.id), f"made {strip.id}")) == (1190, 1215)


def test_a_cut_that_says_another_date_than_its_carrier_is_a_contradiction() -> None:
    psalter = made(Carrier, "Psalter", dateMade="1190/1215")
    strip = piece("Strip", dateMade="1300", carrierPlaces=[{"id": "#carrier-place-1", "carrier": psalter.id}])
    (clash,) = dated(psalter, strip, about=strip.id).contradictions
    assert {one.rule for one in clash.statements} == {"date", "carrier-not-earlier"}
    assert len(clash.mends) == 3


def test_what_is_only_stated_is_told_apart_from_what_is_proved() -> None:
    found = limits(dated(book("1600", "1650~", "2020"), *pastedown("1610")))
    assert [(one.date, one.proved) for one in found.not_before] == [("1610", True), ("1630", False)]
    assert "only the record's own date says so" in found.not_before[-1].words()


def test_a_date_that_only_repeats_the_conclusion_does_not_prove_it() -> None:
    record, put = pastedown("1590/1610", when="1650")
    found = limits(dated(book("1600", "1650", "2020", bindingDate="1650"), record, put))
    assert [one.date for one in found.not_before if one.proved] == ["1600"]


def test_the_placing_of_an_original_piece_is_proved_by_the_piece_and_not_by_the_date_of_the_binding() -> None:
    record, put = pastedown("1711", when="1712")
    found = dated(book("1600", "1712", "2020", bindingDate="1712"), record, put, about=record.id)
    proved = [one for one in limits(found, put.id).not_before if one.proved]
    assert [(one.date, one.because[0].record) for one in proved] == [("1711", record.id)]


def test_a_separation_dated_before_its_placing_is_explained_by_both_dates_and_a_law() -> None:
    strip = piece("Strip", dateMade="1500")
    put = placing("put", "Strip", "Book", 1, when="1893")
    off = separation("off", "Strip", "Book", 2, when="1871")
    found = dated(book("1600", None, None), strip, put, off)
    (clash,) = found.contradictions
    assert [one.rule for one in clash.statements] == ["date", "date"]
    assert [law.rule for law in clash.laws] == ["placed-before-separated"]
    assert "Taking back (1) or (2) alone would mend it" in clash.words()


def test_a_piece_cannot_have_come_into_a_second_book_before_it_left_the_first() -> None:
    comb = piece("Comb", dateMade="1402")
    records = (
        book("1541", "1543", "2021"),
        volume("Other", "1530", "1988"),
        comb,
        placing("first", "Comb", "Book", 1, when="1543"),
        separation("left", "Comb", "Book", 2, when="2021-10-08"),
        placing("second", "Comb", "Other", 2, when="1988"),
    )
    (clash,) = dated(*records).contradictions
    assert {one.rule for one in clash.statements} == {"date"}
    assert "“Comb” was not in two books at once" in clash.law_words()


def test_a_piece_whose_leaving_of_an_earlier_book_is_not_recorded_contradicts_nothing() -> None:
    records = (
        book("1541", "1543", "2021"),
        volume("Other", "1400"),
        piece("Comb"),
        placing("first", "Comb", "Other", 1, when="1400"),
        placing("second", "Comb", "Book", 1, when="1543"),
        separation("left", "Comb", "Book", 2, when="2021"),
    )
    assert dated(*records).contradictions == ()


def test_a_ring_of_before_is_a_contradiction_without_any_date() -> None:
    off = separation("off", "Strip", "Book", None, undoes=iri("placing", "back"))
    back = placing("back", "Strip", "Book", None, undoes=iri("separation", "off"))
    (clash,) = dated(book("1600"), piece("Strip"), off, back).contradictions
    assert {one.rule for one in clash.statements} == {"put-back-after-lifting"}
    assert {one.rule for one in clash.laws} == {"placed-before-separated"}


def test_what_holds_as_a_rule_only_is_given_up_before_any_record() -> None:
    blank = dated(book("1600", "1550", "2020"))
    assert blank.contradictions == ()
    assert years(limits(blank)) == (1550, 1550)
    assert "A book of blank paper may be bound before it is written" in " ".join(blank.notes)


def test_a_rule_that_is_given_up_for_one_volume_still_holds_for_another() -> None:
    found = dated(
        book("1600", "1550", "2020"), volume("Other", None, textDate="1700"), about=iri("host", "Other")
    )
    assert years(limits(found, stage("Other", 1)))[0] == 1700
    assert found.notes == ()


def test_what_a_rule_bounds_is_told_as_a_rule() -> None:
    earliest = limits(dated(book("1600"))).earliest
    assert earliest is not None
    assert "as a rule a text block is there before it is bound" in earliest.words()


def test_a_volume_said_to_be_bound_before_it_was_written_is_not_later_than_its_text() -> None:
    found = dated(book("1512/1519", boundBlank=True))
    assert years(limits(found)) == (None, 1519)
    assert "it was bound before it was written" in found.words()


def test_no_piece_was_put_into_a_volume_before_the_volume_was_there() -> None:
    found = dated(book("1650"), *pastedown("1300", original="uncertain"))
    assert years(limits(found, iri("placing", "pasted")))[0] == 1650


def test_a_piece_that_may_be_original_was_not_put_in_before_the_binding() -> None:
    found = dated(book("1600", "1700", "2020"), *pastedown("1300", original="uncertain"))
    assert years(limits(found, iri("placing", "pasted")))[0] == 1700


def test_the_date_of_a_piece_that_may_be_original_does_not_prove_the_binding() -> None:
    record, put = pastedown("15XX", original="uncertain", when="1566/1567")
    found = limits(dated(book("1500", "1566/1567", "2020"), record, put))
    assert [one.date for one in found.not_after if one.proved] == ["2020"]


def test_a_dated_note_on_the_finished_binding_gives_the_latest_date() -> None:
    note = made(
        Alteration, "noted", target=BOOK, stage=stage("Book", 1), alterationKind="inscribed", when="1543"
    )
    found = limits(dated(book("1541"), note))
    assert years(found) == (1541, 1543)
    assert found.latest is not None
    assert "is writing on the finished binding of stage 1" in found.latest.words()


def test_other_alterations_of_a_volume_give_its_binding_no_latest_date() -> None:
    cleaned = made(
        Alteration, "cleaned", target=BOOK, stage=stage("Book", 1), alterationKind="cleaned", when="1543"
    )
    assert years(limits(dated(book("1541"), cleaned)))[1] == 2020


def test_nobody_is_asked_to_take_back_that_a_piece_was_made_before_it_was_cut() -> None:
    _, pasted = pastedown("15XX")
    leaf, put = piece("Leaf", dateMade="1712"), placing("leaf", "Leaf", "Book", 1, originalToAssembly="yes")
    (clash,) = dated(book("1574"), inscribed(), pasted, leaf, put).contradictions
    assert {one.rule for one in clash.laws} == {"made-before-cut", "cut-before-placed"}
    assert {one.rule for one in clash.mends}.isdisjoint({one.rule for one in clash.laws})
    told = [one.words for one in clash.statements if "is original to" in one.words]
    assert [words.partition(" is ")[0] for words in told] == ["“Leaf”", "“Pastedown”"]


def test_dates_without_one_end_leave_that_side_open() -> None:
    found = limits(dated(book(None, "1572/..", None)))
    assert (found.earliest is not None, found.latest) == (True, None)
    unknown = limits(dated(book(None, "/1600", None)))
    assert (unknown.earliest, unknown.latest is not None) == (None, True)


@pytest.mark.parametrize("date", ["1600/1500", "c. 1500", "1500-13"])
def test_a_date_that_cannot_be_one_is_refused_before_it_can_prove_anything(date: str) -> None:
    with pytest.raises(InvalidRecord, match=r"date|interval|month"):
        pastedown(date)


def test_planned_events_and_stages_prove_nothing() -> None:
    off = separation("off", "Pastedown", "Book", 2, when="1500", status="planned")
    found = dated(book("1600", None, "1500"), *pastedown("1610"), off)
    assert found.contradictions == ()
    assert found.time(stage("Book", 2)) is None


def test_alterations_and_moves_come_after_the_making() -> None:
    strip = piece("Strip", dateMade="1700")
    records = (strip, alteration("trimmed", "Strip"), move("sold", "Strip"))
    found = dated(*records, about=strip.id)
    assert [years(one.limits)[0] for one in found.times] == [1700, 1700, 1700]


def test_every_statement_about_time_names_the_record_to_check_it_in() -> None:
    said = said_in(dossier(book("1600"), *pastedown("1712")))
    told = [one.statement.words for one in dates_told(said.gathered)]
    assert told
    assert all("[" in words for words in told)


def test_only_volumes_and_pieces_have_dates_of_their_own() -> None:
    with pytest.raises(NotFound, match="volume or piece"):
        dated(book("1600"), about=iri("carrier", "None"))


@pytest.mark.parametrize(
    ("date", "first", "last"),
    [
        ("15XX", 1500, 1599),
        ("156X", 1560, 1569),
        ("[1667,1668,1670..1672]", 1667, 1672),
        ("../1600", None, 1600),
        ("1572/..", 1572, None),
        ("1510~/1520~", 1490, 1540),
    ],
)
def test_a_date_bounds_what_edtf_says_and_about_reaches_twenty_years_further(
    date: str, first: int | None, last: int | None
) -> None:
    assert years(limits(dated(book(None, date)))) == (first, last)


def test_what_is_hidden_from_a_viewer_is_counted_and_nothing_is_concluded_from_its_absence() -> None:
    records = (
        book("1541", "1543", "2021"),
        volume("Other", "1530", "1988"),
        piece("Comb", dateMade="1402"),
        placing("first", "Comb", "Book", 1, when="1543"),
        separation("left", "Comb", "Book", 2, when="2021-10-08"),
        placing("second", "Comb", "Other", 2, when="1988"),
    )
    found = dating_of(Dossier.of(records, withheld=1), BOOK)
    assert found.contradictions == ()
    assert any("not shown" in note for note in found.notes)
