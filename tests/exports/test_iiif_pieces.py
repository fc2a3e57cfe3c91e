"""A piece by itself as a manifest: its faces to scale, and its further pictures as they were taken."""

from __future__ import annotations

import pytest

from guardbook.actions.manifest_of import manifest_of_piece, outline_of_piece
from guardbook.errors import NotFound, WrongUse
from guardbook.records.image import Image
from tests.binding.bench import iri, made, piece, volume
from tests.catalogue.shelf import strip
from tests.exports.laid_out import Json, box_of, canvases, catalogue_of, paintings, piece_manifests

STRIP = piece("Strip", height="100", width="40")


def photograph(name: str, **fields: str) -> Image:
    """Make a picture of the strip on the net, 200 by 500 pixels."""
    size = {"pixelWidth": "200", "pixelHeight": "500", "address": f"https://far.example/{name}.jpg"}
    found: Image = made(Image, name, depicts=[STRIP.id], **{**size, **fields})
    return found


def laid_out(*images: Image) -> list[Json]:
    with catalogue_of(STRIP, *images) as access:
        return list(canvases(manifest_of_piece(access, STRIP.id)))


def test_a_piece_is_as_large_as_it_was_measured() -> None:
    (front,) = laid_out()
    assert (front["width"], front["height"]) == (400, 1000)
    assert paintings(front)[0]["body"]["id"].endswith(f"/faces/front/outlines/{STRIP.identifier}.svg")


def test_a_picture_with_its_scale_is_painted_on_its_face() -> None:
    front, back = laid_out(
        photograph("recto", pixelsPerMm="5", face="front"), photograph("verso", pixelsPerMm="5", face="back")
    )
    for canvas, name in ((front, "recto"), (back, "verso")):
        (painting,) = paintings(canvas)
        assert painting["body"]["id"] == f"https://far.example/{name}.jpg"
        assert box_of(painting) == (0, 0, 400, 1000)


def test_a_picture_without_a_scale_is_shown_as_it_was_taken() -> None:
    _, plain = laid_out(photograph("detail"))
    assert (plain["width"], plain["height"], "service" in plain) == (200, 500, False)
    assert paintings(plain)[0]["target"] == plain["id"]


def test_a_picture_that_shows_other_pieces_too_is_among_the_further_ones() -> None:
    both = photograph("both", pixelsPerMm="5").model_copy(
        update={"depicts": (STRIP.id, iri("fragment", "B"))}
    )
    with catalogue_of(STRIP, piece("B"), both) as access:
        assert len(manifest_of_piece(access, STRIP.id)["items"]) == 2
        further = manifest_of_piece(access, iri("fragment", "B"))["items"][-1]
    assert further["label"] == {"none": [both.display_title]}


def test_a_piece_without_size_or_picture_cannot_be_laid_out() -> None:
    with catalogue_of(strip(), volume("Book", "1500")) as access:
        with pytest.raises(NotFound, match="Nothing of A strip"):
            manifest_of_piece(access, strip().id)
        with pytest.raises(WrongUse, match="is no piece"):
            manifest_of_piece(access, iri("host", "Book"))


def test_the_outline_that_a_manifest_names_is_drawn() -> None:
    with catalogue_of(STRIP) as access:
        assert "<svg" in outline_of_piece(access, STRIP.id, "front", f"{STRIP.identifier}.svg")
        with pytest.raises(NotFound):
            outline_of_piece(access, STRIP.id, "front", "other.svg")


def test_nearly_every_piece_of_the_scenario_can_be_seen_by_itself() -> None:
    assert len(piece_manifests()) > 60
    for manifest in piece_manifests():
        assert manifest["type"] == "Manifest"
        assert len({canvas["id"] for canvas in canvases(manifest)}) == len(manifest["items"])
