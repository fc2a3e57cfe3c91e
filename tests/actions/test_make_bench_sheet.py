"""The sheet for the bench asks in the order the hands work, and can be drawn on to scale."""

from __future__ import annotations

import re

import pytest

from guardbook.actions.make_bench_sheet import lay_out_bench_sheet, make_bench_sheet
from guardbook.catalogue.access import Access
from guardbook.errors import NotFound, WrongUse
from guardbook.exports.paper.bench_fields import BenchField, bench_stages
from guardbook.exports.paper.blank_plane import ROOM, ruler
from guardbook.records import terms
from guardbook.wording import LANGUAGES, speaking
from tests.binding.bench import volume
from tests.catalogue.shelf import save

TOLL_BOOK = "host/5JZSY8-3"


def asked(access: Access, name: str | None = None) -> dict[str, BenchField]:
    stages = lay_out_bench_sheet(access, name).stages
    return {one.label: one for stage in stages for group in stage.groups for one in group.fields}


def test_what_is_asked_on_sight_comes_before_what_is_asked_before_lifting(demo: Access) -> None:
    first, second = bench_stages(None)
    assert (first.title, second.title) == ("On sight", "Before lifting")
    early = {one.label for group in first.groups for one in group.fields}
    late = {one.label for group in second.groups for one in group.fields}
    assert {"Extent", "Material", "Function in the host"} <= early
    assert {"Fixing", "Order of layers", "Condition", "Consent given by"} <= late - early


def test_a_term_is_ticked_and_the_vague_ones_come_last(demo: Access) -> None:
    material = asked(demo)["Material"]
    assert material.form == "ticks"
    assert set(material.options) == {one.label() for one in terms.of_scheme("material").values()}
    assert material.options[-1] in {terms.label("material", "unknown"), terms.label("material", "other")}


def test_each_field_says_why_and_has_room_for_what_it_holds(demo: Access) -> None:
    fields = asked(demo)
    assert all(one.why for one in fields.values())
    assert fields["Layer"].form == "measure"
    assert fields["y"].unit == "mm"
    assert fields["Mirrored"].form == "yes-no"
    assert fields["Condition"].rows > 1
    holes = fields["Holes, folds and traces"]
    assert holes.form == "table"
    assert holes.rows >= 10
    assert terms.label("answer", "looked-for-not-found") in holes.answers


def test_what_is_known_of_the_volume_is_not_asked_again(demo: Access) -> None:
    assert "Shelfmark" in asked(demo)
    assert "Shelfmark" not in asked(demo, TOLL_BOOK)


def test_the_planes_are_drawn_empty_at_a_scale_that_is_told(demo: Access) -> None:
    sheet = lay_out_bench_sheet(demo, TOLL_BOOK)
    assert any("scale 1 : " in one.caption for one in sheet.drawings)
    for one in sheet.drawings:
        wide, high = map(float, re.findall(r'(?:width|height)="([0-9.]+)mm"', one.svg))
        assert wide == pytest.approx(one.wide, abs=0.01)
        assert wide <= ROOM[0]
        assert high <= ROOM[1]
        assert "guard" not in one.svg.lower()
    spine = next(one for one in sheet.drawings if one.caption.startswith("Spine of the text block"))
    for height in ("16", "48", "116", "184", "252", "284"):
        assert f">{height}</text>" in spine.svg


def test_a_plane_is_drawn_as_large_as_its_scale_says(demo: Access) -> None:
    sheet = lay_out_bench_sheet(demo, TOLL_BOOK)
    spine = next(one for one in sheet.drawings if one.caption.startswith("Spine of the text block"))
    scale = float(re.findall(r"scale 1 : ([0-9.]+)\.", spine.caption)[0])
    drawn = re.findall(r'<rect x="11" y="11" width="([0-9.]+)" height="([0-9.]+)"', spine.svg)
    assert [float(side) * scale for side in drawn[0]] == pytest.approx([46.0, 300.0], abs=0.05)


def test_the_rule_is_a_hundred_millimetres_long() -> None:
    svg = ruler().svg
    size = re.findall(r'<svg[^>]* width="([0-9.]+)mm"[^>]* viewBox="0 0 ([0-9.]+) ', svg)
    assert size[0][0] == size[0][1]
    assert "M5 7h100" in svg


def test_a_volume_of_which_nothing_is_measured_gets_squared_paper(workshop: Access) -> None:
    save(workshop, volume("Unmeasured", "1510"))
    (host,) = workshop.iris("host")
    assert all("Squares of 5 mm" in one.caption for one in lay_out_bench_sheet(workshop, host).drawings)


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_sheet_is_set_in_every_language_for_any_volume(demo: Access, language: str) -> None:
    assert make_bench_sheet(demo, in_language=language).startswith(b"%PDF-")
    with speaking(language):
        titles = [group.title for stage in bench_stages(None) for group in stage.groups]
    assert len(titles) > 5


def test_a_sheet_for_what_is_no_volume_or_on_no_paper_is_refused(demo: Access) -> None:
    with pytest.raises(WrongUse, match="no volume"):
        make_bench_sheet(demo, "fragment/B89RYC-6")
    with pytest.raises(WrongUse, match="a4, letter"):
        make_bench_sheet(demo, paper="a0")
    with pytest.raises(NotFound):
        make_bench_sheet(demo, "host/000000-0")
