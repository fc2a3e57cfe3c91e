"""The duty lists of conservators' codes, walked one by one to the shapes that ask for each item.

Sources, and what was seen of them, stand in `duties.toml`: AIC Guidelines for Practice, Commentaries 24, 25
and 27; E.C.C.O. Professional Guidelines II, Article 10.
"""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path
from typing import Any

import pyoxigraph as ox
import pytest

from guardbook import settings
from guardbook.completeness.requirements import requirements
from guardbook.completeness.shape_files import SHACL, SHAPES, STAGES, own_statements
from guardbook.completeness.stages import check
from guardbook.records.base import Record
from guardbook.records.kinds import KINDS
from tests.catalogue.shelf import iri
from tests.completeness.situations import STRIP, VOLUME, everything, made, quads

SOURCES: list[dict[str, Any]] = tomllib.loads((Path(__file__).parent / "duties.toml").read_text("utf-8"))[
    "source"
]
DUTIES = [(source["name"], duty) for source in SOURCES for duty in source["duty"]]
ASKED = [duty for _, duty in DUTIES if "shapes" in duty]
SHAPES_NAMED = sorted({shape for duty in ASKED for shape in duty["shapes"]})
ELSEWHERE = {
    "placing": {"piece": STRIP, "host": VOLUME},
    "separation": {"piece": STRIP},
    "alteration": {"target": STRIP},
}


def stage_of(shape: str) -> str:
    return next(stage for stage in STAGES if shape.startswith(stage))


@cache
def lacking(shape: str) -> Record:
    """A record of the kind the shape is for, with nothing in it but what no record can lack."""
    name = shape.removeprefix(stage_of(shape) + "-").partition("-")[0]
    kind = next(kind for kind, model in KINDS.items() if model.__name__ == name)
    return made(kind, iri(kind, "bare"), **ELSEWHERE.get(kind, {}))


@pytest.mark.parametrize("shape", SHAPES_NAMED)
def test_a_record_that_lacks_what_a_duty_asks_for_is_told_so(shape: str) -> None:
    assert SHAPES + shape in requirements(stage_of(shape)), "there is no such shape"
    record = lacking(shape)
    report = check(quads(record), stage_of(shape), [record.id])
    assert SHAPES + shape in {item.finding.shape for item in report.missing}


@pytest.mark.parametrize(
    "duty", [duty for duty in ASKED if not duty.get("waivable", True)], ids=lambda duty: duty["asks"]
)
def test_what_cannot_be_waived_cannot_be_answered_away(duty: dict[str, Any]) -> None:
    accepted = {shape: requirements(stage_of(shape))[SHAPES + shape].accepts for shape in duty["shapes"]}
    assert set(accepted.values()) == {()}


def test_a_piece_described_with_care_meets_every_duty_that_comes_before_lifting() -> None:
    records = everything()
    report = check(quads(*records), "before-lifting", [record.id for record in records])
    assert {item.finding.shape.removeprefix(SHAPES) for item in report.missing} & set(SHAPES_NAMED) == set()


def test_every_duty_of_the_four_texts_is_in_the_table_with_a_shape_or_a_reason() -> None:
    assert [source["name"].split(",")[-1].strip() for source in SOURCES] == [
        "Documentation",
        "Documentation of Examination",
        "Documentation of Treatment",
        "Article 10",
    ]
    for name, duty in DUTIES:
        assert bool(duty.get("shapes")) != bool(duty.get("beyond_shapes")), f"{name}: {duty['asks']}"
        assert isinstance(duty["seen"], bool), f"{name}: {duty['asks']}"


def test_shapes_are_named_after_the_stage_and_the_record_they_are_for() -> None:
    for stage in STAGES:
        found = own_statements(stage)
        for rows in found.values():
            for target in rows.get(SHACL + "targetClass", ()):
                assert isinstance(target, ox.NamedNode)
                start = f"{SHAPES}{stage}-{target.value.removeprefix(settings.NAMESPACE)}-"
                names = [
                    node.value for node in rows.get(SHACL + "property", ()) if isinstance(node, ox.NamedNode)
                ]
                assert all(name.startswith(start) for name in names)
