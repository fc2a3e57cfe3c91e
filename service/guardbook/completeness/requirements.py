"""What a stage asks for, beside the constraint itself: why, how, whether later, which answers count."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path

import pyoxigraph as ox

from guardbook import settings
from guardbook.completeness.forms import asked_field, by_language, local, text
from guardbook.completeness.shape_files import SHACL, SHAPES, STAGES, Node, own_statements, statements
from guardbook.completeness.workshop import workshop_shapes

_OWN = settings.NAMESPACE
_ANSWERS = settings.TERMS + "answer/"
_KINDS = settings.TERMS + "separation-kind/"


@dataclass(frozen=True, kw_only=True)
class Requirement:
    """One item a stage asks for.

    `asks` is the JSON name of the field whose answer counts for it, `later` whether it can still be got
    after the stage, `accepts` the answers that count instead of a value, `accepts_afterwards` those that
    count only once the piece has been lifted. It is not asked of a piece that left its volume in one of the
    ways of `not_asked_after`. `models` are the records or parts it is asked of.
    """

    stage: str
    models: frozenset[str] = frozenset()
    asks: str = ""
    labels: Mapping[str, str] = field(default_factory=dict)
    message: str = ""
    why: str = ""
    how: str = ""
    later: bool = True
    accepts: tuple[str, ...] = ()
    accepts_afterwards: tuple[str, ...] = ()
    not_asked_after: frozenset[str] = frozenset()
    group: str = ""
    order: int = 0


def requirements(stage: str) -> Mapping[str, Requirement]:
    """Give the requirements of one stage by the name of their shape, ours and the workshop's."""
    here = settings.current()
    return _requirements(stage, here.shapes, here.workshop_shapes)


@lru_cache(maxsize=16)
def _requirements(stage: str, _ours: Path, workshop: Path | None) -> Mapping[str, Requirement]:
    added = statements(workshop_shapes(workshop).added.get(stage, ()))
    rows_of = {**own_statements(stage), **added}
    spared: dict[Node, set[str]] = defaultdict(set)
    models: dict[Node, set[str]] = defaultdict(set)
    for listing, rows in rows_of.items():
        for node in (listing, *rows.get(SHACL + "property", ())):
            spared[node] |= _slugs(rows, "notAskedAfter", _KINDS)
            models[node] |= {local(target, _OWN) for target in rows.get(SHACL + "targetClass", ())}
    return {
        node.value: _requirement(stage, rows, frozenset(spared[node]), frozenset(models[node]))
        for node, rows in rows_of.items()
        if isinstance(node, (ox.NamedNode, ox.BlankNode))
    }


def _requirement(
    stage: str, rows: Mapping[str, tuple[Node, ...]], spared: frozenset[str], models: frozenset[str]
) -> Requirement:
    group = local(next(iter(rows.get(SHACL + "group", ())), ox.Literal("")), SHAPES + "group/")
    return Requirement(
        stage=stage,
        models=models,
        labels=by_language(rows, SHACL + "name"),
        asks=asked_field(rows),
        message=text(rows, SHACL + "message"),
        why=text(rows, _OWN + "why"),
        how=text(rows, _OWN + "how"),
        later=text(rows, _OWN + "laterPossible") != "false",
        accepts=tuple(sorted(_slugs(rows, "accepts", _ANSWERS))),
        accepts_afterwards=tuple(sorted(_slugs(rows, "acceptsAfterwards", _ANSWERS))),
        not_asked_after=spared,
        group=group,
        order=int(text(rows, SHACL + "order") or 0),
    )


def _slugs(rows: Mapping[str, tuple[Node, ...]], name: str, start: str) -> set[str]:
    return {local(node, start) for node in rows.get(_OWN + name, ())} - {""}


def up_to(stage: str) -> tuple[str, ...]:
    """Give a stage and all before it. Raises ValueError where there is no such stage."""
    return STAGES[: STAGES.index(stage) + 1]
