"""Seeing and drawing a volume with 200 pieces and 30 stages, against parsing the same triples."""

from __future__ import annotations

import pyoxigraph as ox

from guardbook.binding.drawing.png import png_of
from guardbook.binding.drawing.which import draw
from guardbook.binding.scene import Scene, scene_of
from guardbook.records.mapping import to_quads
from tests.benchmarks.measuring import in_turn, seconds, tell
from tests.binding.bench import dossier, iri, volume
from tests.binding.drawing.test_drawing_laws import crowd

PIECES, STAGES, RUNS = 200, 30, 9


def test_a_large_volume_is_seen_and_drawn() -> None:
    dates = [str(1500 + year) for year in range(STAGES)]
    pieces = crowd(PIECES)[1:]
    host = volume("Book", *dates, height="300", width="200", spineWidth="50")
    triples = [quad.triple for record in (host, *pieces) for quad in to_quads(record)]
    turtle = ox.serialize(triples, format=ox.RdfFormat.TURTLE) or b""
    records = dossier(host, *pieces)

    def parse() -> list[ox.Quad]:
        return list(ox.parse(turtle, format=ox.RdfFormat.TURTLE))

    def see() -> Scene:
        return scene_of(records, iri("host", "Book"), STAGES // 2)

    what = f"{PIECES} pieces, {STAGES} stages, {len(triples)} triples"
    in_turn(f"the scene ({what}) against parsing them", see, parse, RUNS)
    scene = see()
    in_turn("its cover as SVG, against the same", lambda: draw(scene, "cover-outside"), parse, RUNS)
    svg = draw(scene, "cover-outside")
    tell(
        "that SVG",
        f"{len(svg.encode()) / 1000:.0f} kB; as PNG 1200 px wide in {seconds(lambda: png_of(svg)):.2f} s",
    )
    assert len(scene.planes[0].items) == PIECES
