"""Describe the catalogue as a dataset, and its query endpoint."""

from __future__ import annotations

from guardbook.catalogue.access import Access
from guardbook.exports.dataset import description, service_description
from guardbook.exports.dataset.facts import Facts, reached_at
from guardbook.exports.dataset.triples import FORMS, written
from guardbook.exports.schema_org import Said, dataset_in_schema_org

DESCRIPTION_FORMS = tuple(FORMS)
_EXAMPLE_KINDS = ("host", "fragment", "placing", "separation")


def facts_of(access: Access, asked_at: str) -> Facts:
    """Count what there is for this viewer; `asked_at` is the address it asked at, ending in a slash."""
    iris = {kind: next(access.iris(kind), None) for kind in _EXAMPLE_KINDS}
    newest = access.newest_activity()
    last = access.activities(newest - 1, newest)
    return Facts(
        at=reached_at(asked_at),
        records=sum(1 for _ in access.iris()),
        classes=dict(access.count("count_classes")),
        properties=dict(access.count("count_properties")),
        subjects=access.count("count_subjects")[0][1],
        objects=access.count("count_objects")[0][1],
        changed=last[-1].when if last else None,
        examples=tuple(iri for iri in iris.values() if iri),
    )


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
