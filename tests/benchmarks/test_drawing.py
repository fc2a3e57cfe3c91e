"""Seeing and drawing a volume with 200 pieces and 30 stages, against parsing the same triples."""

from __future__ import annotations

from collections.abc import Sequence

import pyoxigraph as ox

from guardbook.binding.drawing.png import png_of
from guardbook.binding.drawing.which import draw
from guardbook.binding.scene import Scene, scene_of
from guardbook.records.base import Record
from guardbook.records.mapping import to_quads
from tests.benchmarks.large_volume import large_volume
from tests.benchmarks.measuring import in_turn, seconds, tell
from tests.binding.bench import dossier, iri, volume
from tests.binding.drawing.test_drawing_laws import crowd

PIECES, STAGES, RUNS = 200, 30, 9


def compare(what: str, records: Sequence[Record], plane: str) -> Scene:
    """Time seeing and drawing a plane of a volume against parsing its triples."""
    triples = [quad.triple for record in records for quad in to_quads(record)]
    turtle = ox.serialize(triples, format=ox.RdfFormat.TURTLE) or b""
    known, host = dossier(*records), iri("host", "Book")

    def parse() -> list[ox.Quad]:
        return list(ox.parse(turtle, format=ox.RdfFormat.TURTLE))

    def see() -> Scene:
        return scene_of(known, host, STAGES // 2)

    said = f"{what}: {PIECES} pieces, {STAGES} stages, {len(triples)} triples"
    scene = see()
    in_turn(f"the scene ({said}) against parsing them", see, parse, RUNS)
    in_turn("the scene and one plane of it as SVG, against the same", lambda: draw(see(), plane), parse, RUNS)
    svg = draw(scene, plane)
    tell(
        "that SVG",
        f"{len(svg.encode()) / 1000:.0f} kB; as PNG 1200 px wide in {seconds(lambda: png_of(svg)):.2f} s",
    )
    return scene


def test_a_large_volume_recorded_in_full_is_seen_and_drawn() -> None:
    scene = compare("as full as the demonstration", large_volume(PIECES, STAGES), "cover-inside")
    assert len(scene.planes[0].items) == PIECES
    assert not scene.contradictions


def test_a_crowd_of_pieces_across_each_other_with_little_else_recorded_is_seen_and_drawn() -> None:
    dates = [str(1500 + year) for year in range(STAGES)]
    host = volume("Book", *dates, height="300", width="200", spineWidth="50")
    scene = compare("a bare crowd", [host, *crowd(PIECES)[1:]], "cover-outside")
    assert len(scene.planes[0].items) == PIECES
