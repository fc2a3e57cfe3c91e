"""What a piece still had before it was cut down is told at the stages before, and never after."""

from __future__ import annotations

import pytest

from guardbook.binding.scene import scene_of
from guardbook.binding.scene_parts import SceneGap
from guardbook.binding.scene_planes import ScenePlane
from tests.binding.bench import alteration, at, dossier, iri, piece, placing, volume
from tests.binding.test_demo import demo
from tests.binding.test_scene_demo import called


def outside(title: str, stage: int) -> ScenePlane:
    scene = scene_of(demo(), called(title).id, stage)
    return next(plane for plane in scene.planes if plane.plane.plane == "cover-outside")


def test_the_flap_that_was_cut_off_is_there_as_first_bound_though_its_outline_is_not_known() -> None:
    (flap,) = outside("Accounts of the tanners", 1).cut_later
    assert flap.outline is not None
    assert list(flap.outline.bounds) == [-328, -16, 254, 340]
    assert (flap.event or "").endswith("alteration/5Q04F5-1")
    assert "Flap (92 mm) cut off" in flap.words


@pytest.mark.parametrize("stage", [1, 2, 4])
def test_the_book_it_was_cut_down_for_never_had_the_flap(stage: int) -> None:
    assert outside("Toll book", stage).cut_later == ()


def test_the_title_of_a_later_use_is_not_on_an_earlier_stage() -> None:
    titles = {
        title: {trace.note for trace in outside(title, stage).features if trace.kind == "inscription"}
        for title, stage in (("Accounts of the tanners", 1), ("Toll book", 1))
    }
    of_tanners, of_tolls = titles.values()
    assert not any("toll book" in (note or "") for note in of_tanners)
    assert any("toll book" in (note or "") for note in of_tolls)


def cut_at(stage: int) -> tuple[SceneGap, ...]:
    records = (
        volume("Book", "1500", "1600"),
        piece("Label", "40", "60"),
        placing("in", "Label", "Book", 1, at("10", "20", "board-outside", side="upper")),
        alteration("cut", "Label", "Book", 2, alterationKind="trimmed", height="40", width="60"),
    )
    planes = scene_of(dossier(*records), iri("host", "Book"), stage).planes
    return tuple(part for plane in planes for part in plane.cut_later)


def test_a_piece_trimmed_where_it_is_was_larger_until_then() -> None:
    (part,) = cut_at(1)
    assert part.outline is None
    assert part.words.startswith("Label: larger than drawn; cut down later by the alteration")
    assert cut_at(2) == ()
