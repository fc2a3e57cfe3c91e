"""Drawing a stage, two laid over each other and a rejoined leaf, as the workshop and as the public."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from guardbook.actions.draw_laid_over import draw_laid_over
from guardbook.actions.draw_rejoined import draw_rejoined
from guardbook.actions.draw_stage import draw_stage
from guardbook.catalogue.access import Access, Change, Viewer
from guardbook.catalogue.catalogue import Catalogue, open_catalogue
from guardbook.errors import NotFound, WrongUse
from tests.actions.test_scenes import PSALTER, RECORDS
from tests.binding.drawing.easel import Read, elements


@pytest.fixture
def catalogue() -> Iterator[Catalogue]:
    with open_catalogue(None) as opened:
        changes = [Change(record, None) for record in RECORDS]
        opened.access().save(changes, who="Mira", what_for="to draw it at its stages")
        yield opened


@pytest.fixture
def workshop(catalogue: Catalogue) -> Access:
    return catalogue.access(Viewer.WORKSHOP)


def test_a_volume_is_drawn_at_a_stage_by_the_name_of_a_drawing(workshop: Access) -> None:
    drawn = draw_stage(workshop, "W 1", 1, "cover-outside")
    read = Read(drawn.svg)
    assert drawn.scene.stage == 1
    assert read.piece("Cover") is not None
    assert "Stage 1 of 2" in read.words()
    assert {"cover-outside", "cover-inside", "textblock-spine", "closed"} <= {one.key for one in drawn.others}


def test_every_drawing_that_is_offered_can_be_had(workshop: Access) -> None:
    for stage in (1, 2):
        for other in draw_stage(workshop, "W 1", stage).others:
            assert draw_stage(workshop, "W 1", stage, other.key, narrow=True).svg.startswith("<svg")


def test_the_last_stage_is_drawn_where_none_is_said(workshop: Access) -> None:
    assert draw_stage(workshop, "W 1").scene.stage == 2


def test_a_piece_has_the_same_letter_at_every_stage(workshop: Access) -> None:
    first, last = (Read(draw_stage(workshop, "W 1", stage, "cover-outside").svg) for stage in (1, 2))
    assert first.letter("Cover") == last.letter("Cover")


def test_the_public_does_not_see_a_piece_that_only_the_workshop_may_know_of(catalogue: Catalogue) -> None:
    shown = draw_stage(catalogue.access(Viewer.WORKSHOP), "W 1", 1, "textblock-spine")
    assert "Strip" in shown.svg
    public = catalogue.access(Viewer.PUBLIC)
    first = next(record.id for record in RECORDS if record.title == "First")
    drawn = draw_stage(public, first, 1)
    for other in drawn.others:
        assert "Strip" not in draw_stage(public, first, 1, other.key).svg


def test_pieces_are_linked_where_the_caller_says_to(workshop: Access) -> None:
    drawn = draw_stage(
        workshop, "W 1", 1, "cover-outside", link=lambda iri: f"/see/{iri[-8:]}", id_prefix="here"
    )
    read = Read(drawn.svg)
    inked, told = elements(read.root, "a")
    assert (inked.attrib["href"][:5], told.attrib["href"]) == ("/see/", inked.attrib["href"])
    assert told.attrib["tabindex"] == "-1"
    assert read.root.attrib["aria-labelledby"].startswith("here-")


def test_a_picture_without_an_address_is_not_shown(workshop: Access) -> None:
    drawn = draw_stage(workshop, "W 1", 1, "cover-outside", with_pictures=True)
    assert not elements(Read(drawn.svg).root, "image")


def test_a_cut_goes_through_the_height_that_is_asked_for(workshop: Access) -> None:
    drawn = draw_stage(workshop, "W 1", 1, "section-cover-outside", cut_at=54)
    assert "cut across 54 mm from the tail" in Read(drawn.svg).words()


def test_drawings_are_given_as_png_too(workshop: Access) -> None:
    assert draw_stage(workshop, "W 1", 1).png(200)[1:4] == b"PNG"


def test_two_volumes_are_laid_over_each_other_and_drawn(workshop: Access) -> None:
    first, second = (next(r.id for r in RECORDS if r.title == name) for name in ("First", "Second"))
    drawn = draw_laid_over(workshop, first, second)
    assert drawn.overlay.shared
    assert drawn.overlay.shared.name in Read(drawn.svg).words()
    assert drawn.png(200)[1:4] == b"PNG"


def test_the_leaves_of_a_carrier_are_drawn_in_order(workshop: Access) -> None:
    drawn = draw_rejoined(workshop, PSALTER.id, id_prefix="leaf")
    assert len(drawn.svgs) == len(drawn.rejoined.leaves) == 1
    assert "Strip" in drawn.svgs[0]
    assert 'id="leaf-1-' in drawn.svgs[0]


def test_what_cannot_be_drawn_is_refused_with_the_reason(workshop: Access) -> None:
    with pytest.raises(WrongUse, match="has no stage 9"):
        draw_stage(workshop, "W 1", 9)
    with pytest.raises(WrongUse, match="no drawing called 'roof'"):
        draw_stage(workshop, "W 1", 1, "roof")
    with pytest.raises(WrongUse, match="is no volume"):
        draw_stage(workshop, PSALTER.id)
    with pytest.raises(NotFound):
        draw_stage(workshop, "W 99")
