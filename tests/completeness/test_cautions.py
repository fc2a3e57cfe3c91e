"""What to mind at the bench is shown where it applies, and nowhere else."""

from __future__ import annotations

import pyoxigraph as ox
import pytest

from guardbook import settings
from guardbook.completeness.cautions import cautions_for
from guardbook.completeness.shape_files import SHACL, STAGES, STRUCTURE, own_files, read
from guardbook.records import terms
from tests.completeness.situations import quads, separation, strip


def shown(stage: str, **fields: list[str]) -> str:
    return " ".join(cautions_for(quads(separation(**fields)), stage))


@pytest.mark.parametrize(
    ("fields", "told"),
    [
        ({"methods": ["solvent"]}, "Solvents: read the safety data sheet first"),
        ({"methods": ["steam"]}, "Steam scalds"),
        ({"methods": ["thread-cut"]}, "Blades"),
        ({"examinations": ["light-hidden-face"]}, "UV lamps: eye and skin protection"),
        ({"examinations": ["xrf"]}, "licensed"),
    ],
)
def test_a_caution_comes_with_the_work_it_is_for(fields: dict[str, list[str]], told: str) -> None:
    separated = quads(separation(**fields))
    assert told in " ".join(cautions_for(separated, "before-lifting"))
    assert told not in shown("before-lifting", methods=["found-loose"], examinations=["read-outer-face"])


def test_whoever_lifts_is_told_first_that_local_rules_and_training_come_before() -> None:
    first, second, *_ = cautions_for(quads(separation()), "before-lifting")
    assert first.startswith("Local regulations, the safety data sheet and a qualified person come before")
    assert "Mould" in second


@pytest.mark.parametrize("stage", ["on-sight", "ready-to-share"])
def test_nobody_is_warned_of_work_that_is_not_asked_for(stage: str) -> None:
    assert shown(stage) == ""
    assert cautions_for(quads(strip()), "before-lifting") == ()


@pytest.mark.parametrize("part", [STRUCTURE, *STAGES, "cautions"])
def test_every_trade_term_the_shapes_name_is_a_term(part: str) -> None:
    named = {
        triple.object.value.removeprefix(settings.TERMS)
        for path in own_files(part)
        for triple in read(path)
        if isinstance(triple.object, ox.NamedNode) and triple.object.value.startswith(settings.TERMS)
    }
    known = {f"{scheme}/{slug}" for scheme, found in terms.all_concepts().items() for slug in found}
    assert named - known == set()


def test_every_list_of_terms_the_shapes_point_to_is_there() -> None:
    patterns = [
        triple.object.value
        for path in own_files(STRUCTURE)
        for triple in read(path)
        if triple.predicate.value == SHACL + "pattern" and isinstance(triple.object, ox.Literal)
    ]
    lists = {one.removeprefix("^" + settings.TERMS).rstrip("/") for one in patterns if settings.TERMS in one}
    assert lists
    assert lists - set(terms.all_concepts()) == set()
