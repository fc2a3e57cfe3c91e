"""A report tells what was found, proposed and done; what is not for its reader never gets into it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime

import pytest

from guardbook.actions.gather_report import gather_report
from guardbook.actions.make_report import make_report
from guardbook.catalogue.access import Access
from guardbook.errors import NotFound, WrongUse
from guardbook.exports.paper import afterwards, done, owner_report, proposal, signing
from guardbook.exports.paper.blocks import Block, Facts, Heading, Pictures, Plate, Table
from guardbook.exports.paper.treatment import planned_in, received_stage, treatment_of
from guardbook.records.image import Image
from guardbook.wording import LANGUAGES
from tests.binding.bench import at, made, piece, placing, separation, volume
from tests.catalogue.shelf import save

DECRETALS, TOLL_BOOK, SURVEY = "host/N6Y9VM-C", "host/5JZSY8-3", "host/0N5X64-V"


def words(blocks: tuple[Block, ...]) -> str:
    return "\n".join(_words(blocks))


def _words(blocks: tuple[Block, ...]) -> Iterator[str]:
    for block in blocks:
        match block:
            case Heading():
                yield block.text
            case Facts() | Table():
                yield from (" | ".join(row) for row in block.rows)
            case _:
                yield repr(block)


def test_the_treatment_is_what_came_after_the_volume_was_received(demo: Access) -> None:
    matter = gather_report(demo, DECRETALS, weighed=False)
    events = treatment_of(matter)
    assert received_stage(matter.host) == 3
    assert {(event.when or "")[:4] for event in events} == {"2021", "2022"}
    assert [event.when for event in events] == sorted(str(event.when) for event in events)


def test_without_a_stage_as_received_removals_in_treatment_are_the_treatment(workshop: Access) -> None:
    put = placing("put", "Strip", "Book", 1, at("0", "10"), when="1510")
    torn = separation("torn", "Strip", "Book", 2, when="1800", separationKind="separated-long-ago")
    again = placing("again", "Strip", "Book", 2, at("0", "10"), when="1801")
    off = separation("off", "Strip", "Book", 3, when="2020", separationKind="lifted-in-treatment")
    save(workshop, volume("Book", "1510", "1800", "2020"), piece("Strip"), put, torn, again, off)
    (host,) = workshop.iris("host")
    assert [event.when for event in treatment_of(gather_report(workshop, host, weighed=False))] == ["2020"]


def test_what_is_only_planned_is_told_apart(demo: Access) -> None:
    matter = gather_report(demo, SURVEY, weighed=False)
    assert treatment_of(matter) == ()
    assert planned_in(matter)
    told = words(done.treatment_done(matter))
    assert "No treatment is recorded." in told
    planned = told.partition("Planned, not done yet")[2]
    # consent was given to one of three
    assert planned.count("Consent | not given yet") == 2
    assert planned.count("Consent | Town Archive of Quelmarre, 10 February 2025") == 1
    assert planned.count("Method | not said yet") == 2


def test_a_signature_says_that_the_report_was_received_and_no_more(demo: Access) -> None:
    told = words(signing.signatures(gather_report(demo, SURVEY, weighed=False)))
    assert "It is no consent to anything." in told
    assert "Consent to what is planned is given apart from this report" in told
    assert "For the workshop, Guardbook" in told
    assert "Received, for the owner, Town Archive of Quelmarre" in told
    treated = words(signing.signatures(gather_report(demo, DECRETALS, weighed=False)))
    assert "For the workshop, Guardbook: Mirela Taskovent" in treated
    assert "planned" not in treated
    public = replace(gather_report(demo, SURVEY, weighed=False), is_public=True)
    assert signing.signatures(public) == ()


def test_the_proposal_lays_out_every_option_the_choice_and_the_consent(demo: Access) -> None:
    told = words(proposal.proposal(gather_report(demo, SURVEY, weighed=False)))
    for said in (
        "Mend the joint from outside only.",
        "hand to the music section.",
        "The joint must be mended under it.",
        "Town Archive of Quelmarre, 10 February 2025",
        "7 February 2025",
    ):
        assert said in told


def test_of_pieces_treated_alike_only_what_differs_is_told_of_each(demo: Access) -> None:
    told = words(done.treatment_done(gather_report(demo, DECRETALS, weighed=False)))
    assert "11 October 2021 – 5 pieces: lifted in treatment, lifted and returned" in told
    assert told.count("Methyl cellulose, 4 per cent") == 1
    kept = [line for line in told.splitlines() if "kept as a sample" in line]
    assert len(kept) == 1
    assert "B89RYC-6" in kept[0]


def test_what_all_removals_share_is_told_once(demo: Access) -> None:
    told = words(done.treatment_done(gather_report(demo, DECRETALS, weighed=False)))
    assert told.count("Treatment agreement of 1 July 2021.") == 1
    assert told.count("Library of the College of Saint Ovrin, 1 July 2021") == 1
    assert "not recorded" not in told


def test_nothing_stands_in_for_what_was_put_back(demo: Access) -> None:
    blocks = done.treatment_done(gather_report(demo, DECRETALS, weighed=False))
    told = words(blocks)
    (label,) = {line.split(" | ")[0] for line in told.splitlines() if line.endswith("| new lining")} - {""}
    nothing = [line for line in told.splitlines() if line == f"{label} | nothing"]
    # the patch alone was lifted for good with nothing in its place
    assert len(nothing) == 1
    lost = told.partition("What was altered or lost")[2].partition("Materials")[0]
    assert lost.count("| Nothing. |") == 1


def test_what_was_lost_and_what_was_put_in_is_told(demo: Access) -> None:
    told = words(done.treatment_done(gather_report(demo, DECRETALS, weighed=False)))
    lost = told.partition("What was altered or lost")[2]
    assert "A corner of 2 mm" in lost
    materials = lost.partition("Materials added and removed")[2]
    assert "Japanese paper" in materials
    assert "Laid over the new spine leather." in materials


def test_each_piece_is_said_to_be_somewhere_and_what_is_out_of_reach(demo: Access) -> None:
    matter = gather_report(demo, DECRETALS, weighed=False)
    told = words(afterwards.afterwards(matter))
    for one in matter.pieces:
        assert one.piece.rpartition("/")[2] in told
    assert "Sal. II 40, folder 1, no. 6" in told
    assert "transmitted light" in told.partition("What is out of reach now")[2]


def test_the_drawings_show_the_volume_before_and_after(demo: Access) -> None:
    matter = gather_report(demo, TOLL_BOOK, weighed=False)
    plates = [block for block in afterwards.afterwards(matter) if isinstance(block, Plate)]
    drawn = [drawing for plate in plates for drawing in plate.drawings]
    assert len(drawn) == len(matter.drawings.before) + len(matter.drawings.after) >= 2
    assert {one.caption.partition(".")[0] for one in drawn} == {"Before treatment", "After treatment"}
    assert all(one.alternative for one in drawn)
    assert all("scale 1 : " in one.caption for one in drawn)


def test_drawings_that_can_be_read_side_by_side_share_a_page(demo: Access) -> None:
    matter = gather_report(demo, DECRETALS, weighed=False)
    (plate,) = [block for block in afterwards.afterwards(matter) if isinstance(block, Plate)]
    assert [one.caption.partition(".")[0] for one in plate.drawings] == [
        "Before treatment",
        "After treatment",
    ]


def test_drawn_is_what_is_measured_and_decided_about_and_the_rest_is_named(demo: Access) -> None:
    drawings = gather_report(demo, SURVEY, weighed=False).drawings
    assert [sheet.plane for sheet in drawings.after] == ["The inside of the lower board"]
    assert "66WKRM-5" not in " ".join(drawings.not_drawn)
    assert {iri.rpartition("/")[2] for iri in drawings.not_drawn} == {"ZFV834-1", "EYC69X-F"}


def test_what_cannot_all_be_true_is_told(demo: Access) -> None:
    told = words(afterwards.afterwards(gather_report(demo, DECRETALS, weighed=False)))
    clashes = told.partition("Where the records contradict each other")[2]
    assert "was placed in Chronicle of the towns on the Ombrisse, 1530" in clashes
    assert "9 March 1988" in clashes
    quiet = words(afterwards.afterwards(gather_report(demo, SURVEY, weighed=False)))
    assert "contradict" not in quiet


def test_a_picture_whose_file_is_gone_is_told_of_in_its_place(workshop: Access) -> None:
    save(workshop, volume("Book", "1510"), piece("Strip"), placing("put", "Strip", "Book", 1, at("0", "10")))
    (strip,) = workshop.iris("fragment")
    save(workshop, made(Image, "Lost", depicts=[strip], file="images/gone.jpg", moment="in-place"))
    matter = gather_report(workshop, strip, weighed=False)
    (pictures,) = [one for one in owner_report.owner_blocks(matter) if isinstance(one, Pictures)]
    assert "cannot be printed" in pictures.pictures[0].instead
    assert make_report(workshop, strip).startswith(b"%PDF-")


def test_ten_thousand_holes_do_not_break_a_report(workshop: Access) -> None:
    holes = [
        {"id": f"#feature-{n}", "featureKind": "sewing-hole", "x": str(n % 100), "y": str(n // 100)}
        for n in range(10_000)
    ]
    save(
        workshop,
        volume("Book", "1510"),
        piece("Sieve", "100", "100", features=holes),
        placing("put", "Sieve", "Book", 1, at("0", "10"), function="sewing-guard"),
    )
    (sieve,) = workshop.iris("fragment")
    assert make_report(workshop, sieve).startswith(b"%PDF-")


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("reader", ["owner", "scholar"])
def test_both_reports_are_made_in_every_language(demo: Access, reader: str, language: str) -> None:
    assert make_report(demo, TOLL_BOOK, reader, in_language=language).startswith(b"%PDF-")


def test_every_volume_and_piece_of_the_demo_has_its_reports(demo: Access) -> None:
    for iri in [*demo.iris("host"), *list(demo.iris("fragment"))[::6]]:
        for reader in ("owner", "scholar"):
            assert make_report(demo, iri, reader).startswith(b"%PDF-")


def test_the_same_records_give_the_same_bytes(demo: Access) -> None:
    assert make_report(demo, TOLL_BOOK, "scholar") == make_report(demo, TOLL_BOOK, "scholar")
    assert make_report(demo, TOLL_BOOK) == make_report(demo, TOLL_BOOK)


def test_the_head_says_who_made_the_report_and_as_of_when(demo: Access) -> None:
    matter = replace(gather_report(demo, SURVEY, weighed=False), when=datetime(2025, 2, 11, tzinfo=UTC))
    head = dict(owner_report.head(matter))
    assert head["Made by"] == "Guardbook"
    assert head["As the records stood on"] == "11 February 2025"
    assert "Treated by" not in head


def test_what_there_is_no_report_of_is_refused(demo: Access) -> None:
    with pytest.raises(WrongUse, match="neither a volume nor a piece"):
        make_report(demo, next(demo.iris("image")))
    with pytest.raises(WrongUse, match="owner, scholar"):
        make_report(demo, TOLL_BOOK, "king")
    with pytest.raises(WrongUse, match="en, ca"):
        make_report(demo, TOLL_BOOK, in_language="xx")
    with pytest.raises(NotFound):
        make_report(demo, "fragment/000000-0")
