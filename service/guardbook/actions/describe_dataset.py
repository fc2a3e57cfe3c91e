"""Describe the catalogue as a dataset, and its query endpoint."""

from __future__ import annotations

import json
from pathlib import Path

import pyoxigraph as ox

from guardbook import settings
from guardbook.catalogue.access import Access
from guardbook.catalogue.sparql.question import Question
from guardbook.errors import QueryStopped
from guardbook.exports.dataset import description, service_description
from guardbook.exports.dataset.facts import Facts, reached_at
from guardbook.exports.dataset.triples import FORMS, written
from guardbook.exports.schema_org import Said, dataset_in_schema_org

DESCRIPTION_FORMS = tuple(FORMS)
_COUNTS = Path(__file__).parent / "counts"
_EXAMPLE_KINDS = ("host", "fragment", "placing", "separation")


def facts_of(access: Access, asked_at: str) -> Facts:
    """Count what there is for this viewer; `asked_at` is the address it asked at, ending in a slash.

    Counting goes through everything, so it is held to the limits of any question; what it does not come to
    within them is not told. Raises Busy where too many are asking.
    """
    iris = {kind: next(access.iris(kind), None) for kind in _EXAMPLE_KINDS}
    newest = access.newest_activity()
    last = access.activities(newest - 1, newest)
    things = _counted(access, "things") or {}
    return Facts(
        at=reached_at(asked_at),
        records=sum(1 for _ in access.iris()),
        classes=_counted(access, "classes"),
        properties=_counted(access, "properties"),
        subjects=things.get("subjects"),
        objects=things.get("objects"),
        changed=last[-1].when if last else None,
        examples=tuple(iri for iri in iris.values() if iri),
    )


def _counted(access: Access, name: str) -> dict[str, int] | None:
    base = str(ox.Literal(settings.current().base))
    question = (_COUNTS / f"{name}.rq").read_text(encoding="utf-8").replace("UNDEF", base)
    try:
        with access.ask(Question(text=question)).file as file:
            rows = json.load(file)["results"]["bindings"]
    except QueryStopped:
        return None
    return {row["name"]["value"]: int(row["number"]["value"]) for row in rows}


def dataset_description(access: Access, asked_at: str, media_type: str) -> bytes:
    """Describe the dataset in VoID and DCAT, in one of `DESCRIPTION_FORMS`."""
    return written(description.described(facts_of(access, asked_at)), media_type)


def endpoint_description(asked_at: str, media_type: str) -> bytes:
    """Describe the query endpoint (SPARQL 1.1 Service Description), in one of `DESCRIPTION_FORMS`."""
    return written(service_description.described(reached_at(asked_at)), media_type)


def dataset_for_search_engines(asked_at: str) -> Said:
    """Describe the dataset in schema.org's words."""
    at = reached_at(asked_at)
    dumps = {f"{at}dump.{ending}.gz": media_type for ending, media_type in description.DUMPS.items()}
    return dataset_in_schema_org(at, description.ABOUT, dumps)
