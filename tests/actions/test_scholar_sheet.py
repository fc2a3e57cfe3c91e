"""What a sheet tells a scholar: places as `where` tells them, the text of a piece, evidence but once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import pytest

from guardbook.actions.gather_report import gather_report
from guardbook.actions.where_it_sat import where_it_sat
from guardbook.catalogue.access import Access
from guardbook.exports.paper import before_treatment, photographs, proved, sat, scholar_sheet
from guardbook.exports.paper.blocks import Block, Facts, KeyedDrawing, Paragraph, Pictures, Table
from guardbook.exports.paper.matter import Matter
from guardbook.wording import LANGUAGES, speaking

STRIP, COMB = "fragment/KQ7RZ6-C", "fragment/JJ8F1Z-P"


def column(blocks: Iterable[Block], name: str) -> Iterator[tuple[str, str]]:
    """Give each line of a column, with what stands first in its row."""
    for block in blocks:
        if isinstance(block, Table) and name in block.head:
            at = block.head.index(name)
            yield from ((row[0], line) for row in block.rows for line in row[at].split("\n"))


def is_told(line: str, told: str) -> bool:
    return f"{line[:1].lower()}{line[1:]}" in told or line in told


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_place_a_sheet_tells_of_is_that_which_where_tells(demo: Access, language: str) -> None:
    count = 0
    with speaking(language):
        for iri in demo.iris("fragment"):
            told = where_it_sat(demo, iri).words()
            matter = gather_report(demo, iri, weighed=False)
            for table in sat.where_it_sat(matter):
                if not isinstance(table, Table):
                    continue
                places = [line for row in table.rows for line in row[3].split("\n")]
                assert all(is_told(line, told) for line in places), (iri, places)
                count += len(places)
    assert count > 50


def test_every_place_a_report_tells_of_is_that_which_where_tells(demo: Access) -> None:
    told = [where_it_sat(demo, iri).words() for iri in demo.iris("fragment")]
    count = 0
    for iri in demo.iris("host"):
        matter = gather_report(demo, iri, weighed=False)
        for piece, line in column(before_treatment.before_treatment(matter), "Where"):
            title = piece.rpartition(" [")[0]
            assert any(words.startswith(title) and is_told(line, words) for words in told) or (
                line == "not recorded"
            ), (piece, line)
            count += 1
    assert count > 30


def test_heights_are_those_of_the_piece_as_it_lay(demo: Access) -> None:
    """A strip turned half round reaches from 87 to 124 mm, and is said to lie where its lower edge lay."""
    places = [line for _row, line in column(sat.where_it_sat(_matter(demo, STRIP)), "Where")]
    assert len(places) == 2
    assert all("87.0 mm from the tail" in place for place in places)


def _matter(demo: Access, name: str) -> Matter:
    return gather_report(demo, name, weighed=True)


def test_the_text_of_a_piece_is_on_its_sheet(demo: Access) -> None:
    blocks = list(scholar_sheet.scholar_blocks(_matter(demo, STRIP)))
    known = {label: value for block in blocks if isinstance(block, Facts) for label, value in block.rows}
    assert known["Language of the text"] == "Latin"
    assert known["Ruling"] == "Hard point, 8.5 mm"
    assert known["Hidden face"].startswith("Verso, read while it was free")
    assert any(isinstance(block, Paragraph) and "omnia quaecumque" in block.text for block in blocks)


def test_a_piece_is_drawn_where_it_last_sat_and_marked_among_the_letters(demo: Access) -> None:
    (drawn,) = [
        block
        for block in scholar_sheet.scholar_blocks(_matter(demo, STRIP))
        if isinstance(block, KeyedDrawing)
    ]
    assert "Rebacked again" in drawn.drawing.caption
    (marked,) = [words for _letter, words, is_marked in drawn.key if is_marked]
    assert "spine panel 3" in marked
    assert "outlined boldly" in drawn.note


def test_a_sheet_writes_days_in_one_way(demo: Access) -> None:
    (dates,) = proved.dates(_matter(demo, STRIP))
    assert isinstance(dates, Table)
    told = [cell for row in dates.rows for cell in row]
    assert "11 October 2021" in told
    assert not any("2021-10-11" in cell for cell in told)
    assert "Put in as panel spine lining, “Decretals with commentary, printed 1541”" in told


def test_a_claim_about_many_pieces_is_one_row(demo: Access) -> None:
    (table, *_more) = proved.evidence(_matter(demo, STRIP))
    assert isinstance(table, Table)
    both = [row for row in table.rows if row[0].startswith("both come from the same book")]
    assert len({row[1] for row in both}) == len(both)
    named = [row[0] for row in both if "“Strip of a psalter, spine panel 2”" in row[0]]
    assert len(named) == 1
    assert "“Strip of a psalter, spine panel 4”" in named[0]


def test_what_cannot_be_true_of_a_piece_is_on_its_sheet(demo: Access) -> None:
    told = [block.text for block in sat.where_it_sat(_matter(demo, COMB)) if isinstance(block, Paragraph)]
    assert any("Contradiction" in text and "9 March 1988" in text for text in told)


def test_each_part_of_a_caption_is_a_sentence(demo: Access) -> None:
    (pictures,) = photographs.photographs(_matter(demo, STRIP), photographs.MOMENTS)
    assert isinstance(pictures, Pictures)
    parts = [part for one in pictures.pictures for part in one.caption.rstrip(".").split(". ")]
    assert parts
    assert all(part[0] == part[0].upper() for part in parts)


def test_an_event_without_a_title_is_called_by_words(demo: Access) -> None:
    matter = _matter(demo, STRIP)
    assert matter.name("https://guardbook.example/placing/EG20MP-U") == "panel spine lining, about 1543"
    with speaking("de"):
        assert matter.name("https://guardbook.example/placing/EG20MP-U").endswith("um 1543")
