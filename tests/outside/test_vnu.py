"""Every drawing is valid SVG, by itself and in a page among others.

Source: the Nu Html Checker (npm `vnu-jar`), which holds SVG 1.1 and SVG 2, HTML and WAI-ARIA schemas.
"""

from __future__ import annotations

import json
import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from guardbook.binding.drawing.leaf import draw_leaf
from guardbook.binding.drawing.look import Look, Picture
from guardbook.binding.drawing.overlay import draw_overlay
from guardbook.binding.drawing.which import draw, drawings_of
from guardbook.binding.leaf import rejoined
from guardbook.binding.overlay import overlay_of
from guardbook.binding.scene import Scene, scene_of
from guardbook.binding.shared_stages import shared_stages
from tests.binding.test_demo import demo, of_kind
from tests.binding.test_scene_demo import called

JAR = "vnu-jar/build/dist/vnu.jar"
PLAIN = Look()
LINKED = Look(narrow=True, link=lambda iri: iri.replace("https://guardbook.example", ""))


def scenes() -> Iterator[Scene]:
    for iri in of_kind("host"):
        host = demo().host(iri)
        assert host
        for stage in host.stages:
            yield scene_of(demo(), iri, stage.number)


def drawings(look: Look) -> dict[str, str]:
    """Give every drawing of the demonstration, by a name for its file."""
    found = {}
    for scene in scenes():
        for name in drawings_of(scene):
            found[f"{scene.host[-8:]}-{scene.stage}-{name.key}"] = draw(scene, name.key, look)
    first, second = called("Accounts of the tanners"), called("Toll book")
    stages = shared_stages(demo(), first, second)
    overlay = overlay_of(demo(), (first.id, stages[0]), (second.id, stages[1]))
    found["overlay"] = draw_overlay(overlay, look)
    for iri in of_kind("carrier"):
        carrier = rejoined(demo(), iri)
        found |= {f"{iri[-8:]}-{leaf.leaf}": draw_leaf(carrier, leaf, look) for leaf in carrier.leaves}
    return found


@pytest.fixture
def check(needs: Callable[[str], Path]) -> Callable[..., list[str]]:
    """Give what checks files, and lists what is wrong with them."""
    java, jar = needs("java"), needs("node readers") / JAR

    def messages(*words: str) -> list[str]:
        command = [
            str(java),
            "-Xss4m",
            "-jar",
            str(jar),
            "--exit-zero-always",
            "--stdout",
            "--format",
            "json",
        ]
        run = subprocess.run([*command, *words], capture_output=True, text=True, check=True)
        found = json.loads(run.stdout)["messages"]
        # it guesses the language of a page from its words, which here are mostly names and figures
        return [
            f"{one.get('url')}: {one['message']}"
            for one in found
            if "appears to be written in" not in one["message"]
        ]

    return messages


@pytest.mark.parametrize("look", [PLAIN, LINKED], ids=["plain", "narrow and linked"])
def test_every_drawing_of_the_demo_is_valid_svg(
    look: Look, check: Callable[..., list[str]], tmp_path: Path
) -> None:
    made = drawings(look)
    for name, svg in made.items():
        (tmp_path / f"{name}.svg").write_text(svg, encoding="utf-8")
    assert len(made) > 500
    assert check("--svg", *map(str, sorted(tmp_path.glob("*.svg")))) == []


@pytest.mark.parametrize("look", [PLAIN, LINKED], ids=["plain", "narrow and linked"])
def test_drawings_of_a_volume_are_valid_together_in_one_page(
    look: Look, check: Callable[..., list[str]], tmp_path: Path
) -> None:
    scene = scene_of(demo(), called("Decretals").id, 3)
    figures = "".join(f"<figure>{draw(scene, name.key, look)}</figure>" for name in drawings_of(scene))
    page = tmp_path / "page.html"
    head = '<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Decretals</title></head>'
    page.write_text(f"{head}<body><h1>Decretals</h1>{figures}</body></html>", encoding="utf-8")
    assert check(str(page)) == []


def test_a_drawing_with_pictures_is_valid(check: Callable[..., list[str]], tmp_path: Path) -> None:
    scene = scene_of(demo(), called("Toll book").id, 2)
    shown = {item.image for plane in scene.planes for item in plane.items if item.image and item.image_way}
    assert shown
    look = Look(pictures={iri: Picture("https://images.example/a.jpg", 1000, 700) for iri in shown})
    svg = draw(scene, "cover-outside", look)
    file = tmp_path / "cover.svg"
    file.write_text(svg, encoding="utf-8")
    assert check("--svg", str(file)) == []


def test_the_checker_sees_what_is_wrong(check: Callable[..., list[str]], tmp_path: Path) -> None:
    scene = scene_of(demo(), called("Toll book").id, 2)
    svg = draw(scene, "cover-outside")
    file = tmp_path / "bent.svg"
    file.write_text(svg.replace("<desc ", "<desk ").replace("</desc>", "</desk>"), encoding="utf-8")
    assert any("desk" in message for message in check("--svg", str(file)))
