"""Every answer on drawings and evidence is as the description of the API says, over the whole demo."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from jsonschema_rs import Draft202012Validator

from guardbook.__main__ import application
from guardbook.actions.load_demo import load_demo
from guardbook.catalogue.access import Viewer
from guardbook.catalogue.catalogue import open_catalogue
from tests.api.client import Client

# what is asked of every record of a kind, and what the answer is described as
ASKED = {
    "host": {
        "/api/records/{0}/stages": "StageTold",
        "/api/records/{0}/scene": "Scene",
        "/api/records/{0}/scene?stage=1": "Scene",
        "/api/records/{0}/overlay?with={0}": "Overlay",
        "/api/records/{0}/dates": "Dating",
        "/api/records/{0}/evidence": "Evidence",
        "/iiif/{0}/manifest.json": "Manifest",
    },
    "fragment": {"/api/records/{0}/dates": "Dating", "/api/records/{0}/evidence": "Evidence"},
    "carrier": {"/api/records/{0}/rejoined": "Rejoined", "/iiif/{0}/manifest.json": "Manifest"},
    "separation": {
        "/api/records/{0}/examinations": "Examinations",
        "/api/records/{0}/before-lifting": "Gate",
    },
    "decision": {"/api/records/{0}/decision": "DecisionSheet"},
}
# what is asked of the catalogue as a whole, or of two records
MORE = {
    "/api/records/host/F90AA2-P/overlay?with=host/5JZSY8-3": "Overlay",
    "/api/bench": "Bench",
    "/iiif/collection.json": "Collection",
    "/iiif/collection/volumes.json": "Collection",
    "/iiif/collection/institution/6TWC6H-P.json": "Collection",
    "/iiif/fragment/B89RYC-6/manifest.json": "Manifest",
}
JSON = {"application/json", "application/ld+json"}
Described = dict[str, Any]


@pytest.fixture(scope="module")
def browser() -> Iterator[Client]:
    with open_catalogue(None) as catalogue:
        views = {viewer: catalogue.access(viewer) for viewer in Viewer}
        load_demo(views[Viewer.WORKSHOP], if_empty=True)
        yield Client(application(views.__getitem__))


@pytest.fixture(scope="module")
def described(browser: Client) -> Described:
    found: Described = browser.get("/api/openapi.json").json()
    return found


def closed(schema: Any) -> Any:
    """Let nothing stand in an object but what is described, so that what is forgotten there is found."""
    if isinstance(schema, list):
        return [closed(one) for one in schema]
    if not isinstance(schema, dict):
        return schema
    inner = {key: closed(value) for key, value in schema.items()}
    return {"additionalProperties": False, **inner} if isinstance(schema.get("properties"), dict) else inner


def addresses(browser: Client, kind: str) -> list[str]:
    hits = browser.get(f"/api/records?kind={kind}&limit=1000").json()["hits"]
    return ["/".join(hit["iri"].rsplit("/", 2)[-2:]) for hit in hits]


def faults(browser: Client, validator: Draft202012Validator, path: str) -> list[str]:
    reply = browser.get(path)
    assert reply.status_code == 200, path
    body = reply.json()
    found = [
        error for one in (body if isinstance(body, list) else [body]) for error in validator.iter_errors(one)
    ]
    return [f"{path} {list(error.instance_path)} {error.message[:200]}" for error in found]


def validator(described: Described, name: str) -> Draft202012Validator:
    components = closed(described["components"])
    return Draft202012Validator({"$ref": f"#/components/schemas/{name}", "components": components})


@pytest.mark.parametrize(
    ("kind", "asked", "name"), [(kind, *pair) for kind, asked in ASKED.items() for pair in asked.items()]
)
def test_every_answer_over_the_demo_is_what_is_described(
    browser: Client, described: Described, kind: str, asked: str, name: str
) -> None:
    records = addresses(browser, kind)
    judge = validator(described, name)
    assert records
    assert [fault for one in records for fault in faults(browser, judge, asked.format(one))] == []


@pytest.mark.parametrize(("path", "name"), MORE.items())
def test_what_is_asked_of_more_than_one_record_is_answered_as_described(
    browser: Client, described: Described, path: str, name: str
) -> None:
    assert faults(browser, validator(described, name), path) == []


def test_a_description_that_forgets_a_field_is_found_out(browser: Client, described: Described) -> None:
    schema = described["components"]["schemas"]["Dating"]
    kept = {key: value for key, value in schema["properties"].items() if key != "notes"}
    schemas = {**described["components"]["schemas"], "Dating": {**schema, "properties": kept}}
    judge = validator({"components": {"schemas": schemas}}, "Dating")
    assert "notes" in "".join(faults(browser, judge, "/api/records/host/N6Y9VM-C/dates"))


@pytest.mark.parametrize("tag", ["Evidence", "Drawings", "IIIF"])
def test_no_answer_in_json_is_described_by_its_media_type_alone(described: Described, tag: str) -> None:
    bare = [
        f"{method} {path} {media_type}"
        for path, operations in described["paths"].items()
        for method, operation in operations.items()
        for answer in operation["responses"].values()
        for media_type, content in answer.get("content", {}).items()
        if tag in operation["tags"] and media_type in JSON and not content.get("schema")
    ]
    assert bare == []
