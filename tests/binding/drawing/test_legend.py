"""The legend explains all that is on the drawing, and nothing else."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest

from guardbook.binding.drawing.legend import Entry, Section, legend
from guardbook.binding.drawing.pen import Pen
from guardbook.binding.drawing.plane import draw_plane
from guardbook.binding.drawing.svg import mark
from guardbook.binding.drawing.which import draw, drawings_of
from guardbook.binding.plane_keys import plane_called
from tests.binding.drawing.easel import Read, elements, shelf
from tests.binding.stage_set import hole, line, station
from tests.binding.test_scene_demo import seen as seen_at

SPINE = plane_called("textblock-spine")
DEMO = (
    ("Toll book", 2),
    ("Toll book", 3),
    ("Decretals", 3),
    ("Decretals", 5),
    ("Herbal", 2),
    ("Ledger of the salt", 2),
    ("Antiphoner", 3),
)


@pytest.mark.parametrize(("title", "stage"), DEMO)
def test_each_sign_on_a_drawing_is_in_its_legend_and_no_other(title: str, stage: int) -> None:
    scene = seen_at(title, stage)
    for name in drawings_of(scene):
        read = Read(draw(scene, name.key))
        assert read.used(read.drawing) == read.used(read.legend), name.key


@pytest.mark.parametrize(("title", "stage"), DEMO)
def test_each_letter_on_a_plane_is_in_its_legend_and_no_other(title: str, stage: int) -> None:
    scene = seen_at(title, stage)
    for plane in scene.planes:
        read = Read(draw_plane(scene, plane.plane))
        on_drawing = {
            letter for text in _bold(read.drawing) for letter in text.split(", ") if text != "not measured"
        }
        assert on_drawing == set(_bold(read.legend)), plane.words


def _bold(part: object) -> list[str]:
    """Give what is written in the manner of letters."""
    groups = [group for group in elements(part, "g") if group.attrib.get("font-weight") == "bold"]  # type: ignore[arg-type]
    return [text.text or "" for group in groups for text in group]


def test_a_bare_plane_has_a_bare_legend() -> None:
    scene = shelf(planes=[{"id": "#plane-1", "plane": "textblock-spine", "left": "-30", "right": "30"}])
    read = Read(draw_plane(scene, SPINE))
    assert [text.text for text in elements(read.legend, "text")] == [
        "Signs",
        "edge of the back of the text block",
    ]


def test_each_kind_of_hole_and_each_use_is_explained_once() -> None:
    series = [
        {"id": "#series-1", "use": "first-use"},
        {"id": "#series-2", "use": "second-use"},
    ]
    holes = [hole(n, "5", str(n), goesThrough=True, inSeries=f"#series-{n % 2 + 1}") for n in range(1, 7)]
    holes.append(hole(7, "9", "9", "wormhole", goesThrough=True))
    placed = {"features": holes, "series": series}
    words = Read(draw_plane(shelf(("Strip", "-10", "20", placed)), SPINE)).texts()
    assert words.count("sewing hole, first use") == 1
    assert words.count("sewing hole, second use") == 1
    assert words.count("wormhole") == 1


def test_folds_edges_and_stations_are_explained() -> None:
    features = [
        line(1, ("0", "20"), ("20", "20")),
        line(2, ("0", "0"), ("20", "0"), "cut-edge"),
        line(3, ("0", "40"), ("20", "40"), "torn-edge"),
        line(4, ("2", "2"), ("18", "38"), "adhesive-residue"),
    ]
    stations = [station(1, "30"), station(2, "170", "kettle-stitch")]
    scene = shelf(("Strip", "-10", "20", {"features": features}), stations=stations)
    words = set(Read(draw_plane(scene, SPINE)).texts())
    assert {"fold, use unknown", "cut edge", "torn edge", "adhesive residue", "ad"} <= words
    assert {"sewing station, at a sewing support", "sewing station, kettle stitch"} <= words
    assert "original edge" not in words


def test_long_names_are_broken_and_never_cut_off() -> None:
    name = "Lining cut from a leaf of a gradual with the office of the dedication " * 4
    read = Read(draw_plane(shelf((name.strip(), "-20", "10", {})), SPINE))
    assert name.strip() in read.words()


def test_columns_of_a_legend_do_not_run_over_each_other_or_the_sheet() -> None:
    pen = Pen(unit=2.0, prefix="d")
    entries = tuple(
        Entry(f"Sign number {at} with some words to it", mark("path", d="M0 0H1")) for at in range(40)
    )
    made = legend(pen, [Section("Signs", entries)], 5.0, 10.0, 180.0)
    drawn = ET.fromstring(f"<g>{''.join(made.marks)}</g>")  # noqa: S314 - drawn a moment ago by ourselves
    written = drawn.findall("text")
    starts = {float(one.attrib["x"]) for one in written}
    assert len(starts) == 4, "three columns, and the heading at the edge"
    assert max(starts) + 25 < 185
    assert max(float(one.attrib["y"]) for one in written) <= 10 + made.height
