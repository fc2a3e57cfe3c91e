"""Two laid over each other: each trace has a sign for what explains it, and the number of its row."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest
import shapely

from guardbook.binding.drawing.look import Look
from guardbook.binding.drawing.overlay import draw_overlay
from guardbook.binding.overlay import overlay_of
from guardbook.binding.overlay_parts import Overlay
from tests.binding.bench import at, dossier, iri, piece, placing, volume
from tests.binding.drawing.easel import Read, bounds, elements, points
from tests.binding.stage_set import hole
from tests.binding.test_demo import demo
from tests.binding.test_scene_demo import called


def laid(a: tuple[str, int], b: tuple[str, int]) -> Overlay:
    first, second = ((called(title).id, stage) for title, stage in (a, b))
    return overlay_of(demo(), first, second)


TANNERS, TOLL = ("Accounts of the tanners", 1), ("Toll book", 2)


@pytest.fixture(scope="module")
def overlay() -> Overlay:
    return laid(TANNERS, TOLL)


def numbers_on(read: Read) -> dict[int, ET.Element]:
    """Give the numbers of rows where they stand on the drawing."""
    texts = (text for text in elements(read.drawing, "text") if text.attrib.get("paint-order"))
    return {int(text.text or ""): text for text in texts if (text.text or "").isdigit()}


@pytest.fixture(scope="module")
def read(overlay: Overlay) -> Read:
    return Read(draw_overlay(overlay))


def test_both_volumes_and_the_piece_they_share_are_named(overlay: Overlay, read: Read) -> None:
    for side in (overlay.a, overlay.b):
        assert f"{side.key.upper()}: {side.name}, stage {side.stage}: {side.stage_words}" in read.words()
    assert overlay.shared
    assert overlay.shared.name in read.words()


def test_every_row_of_the_table_has_its_number_on_the_drawing(overlay: Overlay, read: Read) -> None:
    assert sorted(numbers_on(read)) == list(range(1, len(overlay.rows) + 1))


def test_a_number_stands_near_the_trace_it_counts(overlay: Overlay, read: Read) -> None:
    traces = {found.feature.id: found.feature for found in overlay.features}
    assert overlay.shared
    assert overlay.shared.outline is not None
    left, top, *_ = bounds(read.piece(overlay.shared.name))
    x0, _, _, y1 = overlay.shared.outline.bounds
    rows = [(number, traces[row.feature]) for number, row in enumerate(overlay.rows, start=1)]
    assert {len(trace.points) for _, trace in rows} >= {1, 2}
    for number, trace in rows:
        on_paper = shapely.MultiPoint([(left + x - x0, top + y1 - y) for x, y in trace.points])
        said = numbers_on(read)[number].attrib
        spot = shapely.Point(float(said["x"]), float(said["y"]))
        lies = on_paper.envelope if len(trace.points) > 1 else on_paper
        assert spot.distance(lies) < 2 * float(said["font-size"])


def test_numbers_are_as_large_as_the_other_texts_of_the_sheet(overlay: Overlay) -> None:
    for narrow in (False, True):
        read = Read(draw_overlay(overlay, Look(narrow=narrow)))
        sizes = {float(text.attrib["font-size"]) for text in numbers_on(read).values()}
        smallest = min(float(text.attrib["font-size"]) for text in elements(read.legend, "text"))
        assert min(sizes) >= smallest


def test_what_is_explained_by_one_the_other_both_or_neither_has_signs_of_its_own(read: Read) -> None:
    said = set(read.texts())
    assert {"lacing hole, explained by A", "lacing hole, explained by B", "fold, explained by both"} <= said
    assert read.used(read.drawing) == read.used(read.legend)


def test_a_trace_that_neither_explains_has_a_ring_round_it() -> None:
    on_cover = at("-140", "0", "cover-outside")
    records = dossier(
        volume("First", "1500", height="200", width="120", spineWidth="30"),
        volume("Second", "1560", height="190", width="118", spineWidth="44"),
        piece("Cover", "208", "280", features=[hole(1, "200", "100", "nail-hole", goesThrough=True)]),
        placing("one", "Cover", "First", 1, on_cover, function="cover"),
        placing("two", "Cover", "Second", 1, on_cover, function="cover"),
    )
    overlay = overlay_of(records, (iri("host", "First"), 1), (iri("host", "Second"), 1))
    assert [found.feature.kind for found in overlay.neither] == ["nail-hole"]
    read = Read(draw_overlay(overlay))
    assert "nail hole, explained by neither" in read.texts()
    rings = [ring for ring in elements(read.drawing, "circle") if ring.attrib.get("fill") == "none"]
    assert len(rings) == 1


def test_how_far_rows_are_apart_is_measured_over_the_drawing(overlay: Overlay, read: Read) -> None:
    assert {"34 mm: as wide as the spine of A", "46 mm: as wide as the spine of B"} <= set(read.texts())
    arrows = [
        points(path.attrib["d"])
        for path in elements(read.drawing, "path")
        if path.attrib.get("fill") == "#111" and path.attrib["d"].count("M") == 2
    ]
    spans = {round(max(x for x, _ in arrow) - min(x for x, _ in arrow)) for arrow in arrows}
    assert spans == {round(pair.apart_mm) for pair in overlay.row_pairs}


def test_what_each_text_block_would_have_covered_is_hatched_two_ways(read: Read) -> None:
    fills = {path.attrib.get("fill") for path in elements(read.drawing, "path")}
    patterns = [one.attrib for one in elements(read.root, "pattern")]
    turns = {one["patternTransform"] for one in patterns if f"url(#{one['id']})" in fills}
    assert turns == {"rotate(45)", "rotate(-45)"}
    words = read.words()
    assert "what the text block of A would have covered" in words
    assert "what the text block of B would have covered" in words


def test_the_table_is_told_in_the_text_alternative(overlay: Overlay, read: Read) -> None:
    told = read.alternative
    assert told.startswith(overlay.words[:40])
    for number, row in enumerate(overlay.rows, start=1):
        assert f"{number}. {row.what}, {row.where}. Explained by: {row.accounted}." in told


def test_no_piece_has_the_letter_of_one_of_the_two_volumes(read: Read) -> None:
    titles = [title.text or "" for title in elements(read.drawing, "title")]
    letters = {title.partition(":")[0] for title in titles}
    assert letters
    assert not letters & {"A", "B"}


@pytest.mark.parametrize("narrow", [False, True])
def test_two_volumes_without_a_piece_in_common_are_drawn_by_their_origins(*, narrow: bool) -> None:
    read = Read(draw_overlay(laid(("Almanac", 1), ("Herbal", 1)), Look(narrow=narrow)))
    assert "by the origins of the planes: they share no measured piece" in read.words()
