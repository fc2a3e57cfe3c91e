"""The records hang together, the pictures are there, and nobody is named who must not be."""

import hashlib
import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pyoxigraph as ox
import pytest

from guardbook import settings
from guardbook.actions.load_demo import load_demo
from guardbook.catalogue.access import Viewer
from guardbook.catalogue.catalogue import open_catalogue
from guardbook.catalogue.references import references_of
from guardbook.completeness.structure import structure_faults
from guardbook.records import identifiers
from guardbook.records.agent import Agent
from guardbook.records.base import Model, Part, parts_of
from guardbook.records.fields import fields_of
from guardbook.records.image import Image
from guardbook.records.mapping import to_quads
from tests.demo.scenario import Scenario

DEMO = settings.current().demo
FILES = sorted(DEMO.glob("*.ttl"))
LARGEST_IMAGE_BYTES = 60_000


def test_every_identifier_has_its_check_symbol(scenario: Scenario) -> None:
    assert [record.id for record in scenario.records if not identifiers.is_valid(record.identifier)] == []


def test_every_reference_leads_to_a_record_or_to_a_part_of_one(scenario: Scenario) -> None:
    known = {record.id + part for record in scenario.records for part in _parts(record)}
    named = [(record.id, one) for record in scenario.records for one in references_of(record)]
    assert len(named) > 500
    assert [(iri, one) for iri, one in named if one.target + one.part not in known] == []


def test_no_workshop_number_is_given_twice(scenario: Scenario) -> None:
    numbers = Counter(record.workshop_number for record in scenario.records if record.workshop_number)
    assert [number for number, times in numbers.items() if times > 1] == []


def test_no_record_has_a_fault_or_a_doubt_of_structure(scenario: Scenario) -> None:
    quads = [quad for record in scenario.records for quad in to_quads(record)]
    assert structure_faults(quads) == ()


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_a_file_tells_its_story_before_its_records_and_names_everything(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert text.startswith("# ")
    assert "@base <https://guardbook.example/> ." in text
    terms = [term for quad in ox.parse(path=str(path), format=ox.RdfFormat.TURTLE) for term in quad]
    assert not any(isinstance(term, ox.BlankNode) for term in terms)


def test_each_record_is_told_in_one_file_only() -> None:
    told = [record for path in FILES for record in _records_in(path)]
    assert [record for record, times in Counter(told).items() if times > 1] == []


def test_each_image_is_there_as_its_record_says(scenario: Scenario) -> None:
    images = scenario.of(Image)
    assert len(images) >= 8
    for image in images:
        data = (DEMO / str(image.file)).read_bytes()
        assert hashlib.sha256(data).hexdigest() == image.sha256
        assert _jpeg_size(data) == (image.pixel_width, image.pixel_height)
        assert len(data) < LARGEST_IMAGE_BYTES


def test_no_image_lies_there_without_a_record(scenario: Scenario) -> None:
    recorded = {str(image.file) for image in scenario.of(Image)}
    assert {f"images/{path.name}" for path in (DEMO / "images").iterdir()} == recorded


def test_tie_points_agree_with_the_scale_of_the_image(scenario: Scenario) -> None:
    for image in scenario.of(Image):
        for one, two in zip(image.tie_points, image.tie_points[1:], strict=False):
            pixels = abs(two.pixel_x - one.pixel_x) + abs(two.pixel_y - one.pixel_y)
            millimetres = abs(two.x - one.x) + abs(two.y - one.y)
            assert image.pixels_per_mm
            assert float(pixels) == pytest.approx(float(millimetres * image.pixels_per_mm), abs=0.2)


def test_the_owner_who_must_not_be_named_stands_in_private_fields_only(scenario: Scenario) -> None:
    unnamed = [agent for agent in scenario.of(Agent) if not agent.may_be_named]
    assert [agent.visibility for agent in unnamed] == ["workshop"]
    words = [word.casefold() for word in str(unnamed[0].name).split()]
    others = [record for record in scenario.records if record is not unnamed[0]]
    public = [text.casefold() for record in others for text in _texts(record, private=False)]
    private = [text.casefold() for record in others for text in _texts(record, private=True)]
    assert [text for text in public if any(word in text for word in words)] == []
    assert [text for text in private if any(word in text for word in words)] != []


def test_the_demonstration_is_loaded_once_and_shows_the_public_no_withheld_name() -> None:
    with open_catalogue(None) as catalogue:
        workshop = catalogue.access(Viewer.WORKSHOP)
        assert load_demo(workshop, if_empty=True) == len(list(workshop.iris())) > 200
        assert load_demo(workshop, if_empty=True) == load_demo(workshop, if_empty=False) == 0
        public = catalogue.access(Viewer.PUBLIC)
        shown = "".join(str(quad.object) for iri in public.iris() for quad in public.quads(iri))
        assert len(shown) > 10_000
        assert re.findall("(?i)brunvald|leocadio|.{80}withheld|monsieur mon oncle", shown) == []


def _parts(record: Model) -> list[str]:
    return ["", *(part.id for part in parts_of(record))]


def _records_in(path: Path) -> set[str]:
    quads = ox.parse(path=str(path), format=ox.RdfFormat.TURTLE)
    return {str(quad.subject).strip("<>").partition("#")[0] for quad in quads}


def _texts(model: Model, *, private: bool) -> Iterator[str]:
    """Give all that is written in a record's public fields, or in its private ones."""
    for field in fields_of(type(model)):
        value = getattr(model, field.name)
        for item in value if field.many else () if value is None else (value,):
            if isinstance(item, Part):
                yield from _texts(item, private=private)
            elif (field.visible != "public") is private:
                yield str(item)


def _jpeg_size(data: bytes) -> tuple[int, int]:
    """Read width and height from the frame header of a JPEG (ITU-T T.81, B.2.2)."""
    at = 2
    while data[at + 1] not in {0xC0, 0xC1, 0xC2}:
        at += 2 + int.from_bytes(data[at + 2 : at + 4])
    return int.from_bytes(data[at + 7 : at + 9]), int.from_bytes(data[at + 5 : at + 7])
