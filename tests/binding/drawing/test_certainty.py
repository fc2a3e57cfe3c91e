"""How surely something is known is seen without colour, by a photocopier too; so are pieces and uses."""

from __future__ import annotations

import re
from itertools import combinations
from typing import Any

import pytest

from guardbook.binding.drawing.plane import draw_plane
from guardbook.binding.drawing.signs import hole_sign
from guardbook.binding.drawing.strokes import HATCH_COUNT, OUTLINES, hatch
from guardbook.binding.drawing.which import draw, drawings_of
from guardbook.binding.plane_keys import plane_called
from guardbook.records import terms
from tests.binding.drawing.easel import Read, elements, shelf
from tests.binding.stage_set import hole
from tests.binding.test_scene_demo import seen as seen_at

SPINE = plane_called("textblock-spine")
COLOUR = re.compile(r"#[0-9a-f]{3,6}\b")


def outline_of(certainty: str) -> dict[str, str]:
    scene = shelf(("Strip", "-20", "10", {"certainty": certainty}))
    return Read(draw_plane(scene, SPINE)).piece("Strip").attrib


def test_what_is_measured_has_a_whole_outline_and_nothing_else_has() -> None:
    assert "stroke-dasharray" not in outline_of("measured")
    others = [slug for slug in terms.of_scheme("certainty") if slug != "measured"]
    assert others
    assert all("stroke-dasharray" in outline_of(slug) for slug in others)


def test_a_photograph_gives_longer_dashes_than_an_inference_and_the_unknown_is_dotted() -> None:
    first = {
        slug: float(outline_of(slug)["stroke-dasharray"].split()[0])
        for slug in OUTLINES
        if slug != "measured"
    }
    assert first["from-photograph"] == first["from-traces"] > 2 * first["inferred"] > 4 * first["unknown"]
    assert outline_of("unknown")["stroke-linecap"] == "round"


def test_the_words_not_measured_stand_where_only_the_area_is_known() -> None:
    scene = shelf(("Tie", None, None, {"edge": "head", "certainty": "unknown"}))
    read = Read(draw_plane(scene, SPINE))
    assert "not measured" in read.texts()
    assert read.piece("Tie").attrib["fill"] == "none"
    assert "place not measured: only the area is known" in read.words()


@pytest.mark.parametrize(("title", "stage"), [("Toll book", 2), ("Decretals", 5), ("Antiphoner", 2)])
def test_no_drawing_has_any_colour_but_greys(title: str, stage: int) -> None:
    scene = seen_at(title, stage)
    for name in drawings_of(scene):
        colours = set(COLOUR.findall(" ".join(_paints(draw(scene, name.key)))))
        assert colours
        assert all(len(set(colour[1:])) == 1 for colour in colours), colours


def _paints(svg: str) -> list[str]:
    return re.findall(r'(?:fill|stroke)="(#[^"]*)"', svg)


def test_every_two_hatches_differ_in_shape() -> None:
    drawn = [hatch(at, 1.0, "same") for at in range(HATCH_COUNT)]
    assert len(set(drawn)) == HATCH_COUNT >= 12
    assert hatch(0, 1.0, "same") == hatch(HATCH_COUNT, 1.0, "same")


def test_pieces_side_by_side_have_hatches_of_their_own() -> None:
    scene = shelf(*((f"Strip {at}", "-20", str(at * 20), {"height": "20"}) for at in range(8)))
    read = Read(draw_plane(scene, SPINE))
    fills = [read.piece(f"Strip {at}").attrib["fill"] for at in range(8)]
    assert all(fill.startswith("url(#") for fill in fills)
    assert len(set(fills)) == 8


def test_holes_of_two_kinds_or_of_two_uses_have_different_signs() -> None:
    kinds = ("hole", "sewing-hole", "lacing-hole", "tacket-hole", "fastening-hole", "nail-hole")
    uses = (*(use for use in terms.of_scheme("use") if use != "unknown"), None)
    signs = {(kind, use): hole_sign(kind, use) for kind in kinds for use in uses}
    for one, other in combinations(signs, 2):
        assert signs[one] != signs[other], (one, other)
    assert hole_sign("wormhole", None) not in signs.values()


def test_a_hole_under_another_piece_is_drawn_smaller() -> None:
    placed = {"features": [hole(1, "5", "5", goesThrough=True)], "layer": 1}
    free = Read(draw_plane(shelf(("Strip", "-20", "10", placed)), SPINE))
    over = ("Patch", "-25", "5", {"height": "60", "width": "50", "layer": 2})
    hidden = Read(draw_plane(shelf(("Strip", "-20", "10", placed), over), SPINE))
    assert _scale(hidden) == pytest.approx(0.55 * _scale(free), rel=0.2)
    assert "the same, smaller: in a part that is hidden" in hidden.texts()
    assert "the same, smaller: in a part that is hidden" not in free.texts()


def _scale(read: Read) -> float:
    """Give how large the one hole is drawn."""
    uses = elements(read.drawing, "use")
    defined = {f"#{one.attrib['id']}": one for one in elements(read.root, "g") if "id" in one.attrib}
    return float(defined[uses[0].attrib["href"]].attrib["transform"][6:-1])


def test_faces_towards_and_away_are_marked_and_an_unknown_one_is_not() -> None:
    def said(**fields: Any) -> set[str]:
        return set(Read(draw_plane(shelf(("Strip", "-20", "10", fields)), SPINE)).texts())

    towards, away = "front face towards you", "front face turned away: you see its back"
    assert towards in said(frontFace="recto", outwardFace="recto")
    assert away in said(frontFace="recto", outwardFace="verso", mirrored=True)
    assert not {towards, away} & said()
