"""Scenes to try: short ways to set pieces up in a volume and to see them at a stage."""

from __future__ import annotations

from typing import Any

from guardbook.binding.plane_keys import plane_called
from guardbook.binding.scene import Scene, scene_of
from guardbook.binding.scene_parts import SceneItem
from guardbook.binding.scene_planes import ScenePlane
from guardbook.records.base import Record
from guardbook.records.image import Image
from tests.binding.bench import dossier, iri, made


def book(*records: Record, stage: int = 1, name: str = "Book") -> Scene:
    """See the volume of a name at a stage."""
    return scene_of(dossier(*records), iri("host", name), stage)


def on(scene: Scene, key: str) -> ScenePlane:
    """Give a plane by its key; it must be there."""
    found = scene.plane(plane_called(key))
    assert found is not None
    return found


def item(scene: Scene, name: str, key: str) -> SceneItem:
    """Give the one item of a piece on a plane."""
    (found,) = [one for one in on(scene, key).items if one.name == name]
    return found


def bounds(one: Any) -> tuple[float, ...]:
    """Give the bounds of an outline to the hundredth of a millimetre."""
    return tuple(round(float(value), 2) for value in one.outline.bounds)


def hole(number: int, x: str, y: str, kind: str = "sewing-hole", **fields: Any) -> dict[str, Any]:
    """Describe a hole of a piece, as it stands in a document."""
    return {"id": f"#feature-{number}", "featureKind": kind, "x": x, "y": y, **fields}


def line(
    number: int, start: tuple[str, str], end: tuple[str, str], kind: str = "fold", **fields: Any
) -> dict[str, Any]:
    """Describe a fold or an edge of a piece."""
    return {
        "id": f"#feature-{number}",
        "featureKind": kind,
        "x": start[0],
        "y": start[1],
        "toX": end[0],
        "toY": end[1],
        **fields,
    }


def station(number: int, y: str, kind: str = "sewing-support", **fields: Any) -> dict[str, Any]:
    """Describe a sewing station of a volume."""
    return {"id": f"#station-{number}", "y": y, "stationKind": kind, **fields}


def picture(name: str, *of: str, **fields: Any) -> Image:
    """Make a picture of pieces."""
    found: Image = made(Image, name, depicts=[iri("fragment", one) for one in of], **fields)
    return found
