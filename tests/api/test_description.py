"""The description of the API is enough for a stranger, and says what is so."""

import re
from typing import Any

import pytest
from jsonschema_rs import Draft202012Validator

from guardbook.api import examples
from guardbook.records.documents import from_document
from guardbook.records.fields import all_models, fields_of
from tests.api.client import Client
from tests.api.shelf import BOOK, STRIP

Described = dict[str, Any]


@pytest.fixture
def described(here: Client) -> Described:
    found: Described = here.get("/api/openapi.json").json()
    return found


def operations(described: Described) -> dict[str, Described]:
    found = [one for methods in described["paths"].values() for one in methods.values()]
    return {operation["operationId"]: operation for operation in found}


def test_every_operation_has_a_name_a_sentence_and_a_place(described: Described) -> None:
    tags = {tag["name"] for tag in described["tags"]}
    for name, operation in operations(described).items():
        assert re.fullmatch("[a-z]+([A-Z][a-z]*)+", name)
        assert operation["description"].strip().endswith(".")
        assert set(operation["tags"]) <= tags


def test_every_parameter_is_explained(described: Described) -> None:
    unexplained = [
        (name, parameter["name"])
        for name, operation in operations(described).items()
        for parameter in operation.get("parameters", ())
        if not parameter.get("description")
    ]
    assert unexplained == []


def test_every_answer_has_a_schema_and_errors_have_one_form(described: Described) -> None:
    for operation in operations(described).values():
        for status, answer in operation["responses"].items():
            if int(status) >= 400:
                schema = answer["content"]["application/problem+json"]["schema"]
                assert schema == {"$ref": "#/components/schemas/Problem"}
            elif int(status) < 300:
                assert answer["content"]


def test_every_reference_leads_to_a_schema(described: Described) -> None:
    named = set(re.findall(r"#/components/schemas/(\w+)", str(described)))
    assert named == described["components"]["schemas"].keys() & named
    assert len(named) > 30


def test_every_field_of_every_record_is_described(described: Described) -> None:
    for model in all_models():
        properties = described["components"]["schemas"][model.__name__]["properties"]
        for field in fields_of(model):
            assert properties[field.json_name]["title"]
            assert properties[field.json_name]["description"]


def test_the_examples_can_be_saved_as_they_stand(here: Client, described: Described) -> None:
    shown = operations(described)["addRecords"]["requestBody"]["content"]["application/json"]["examples"]
    reply = here.request("POST", "/api/records", json=shown["a piece and a volume"]["value"])
    assert reply.status_code == 201
    assert from_document(examples.STRIP).id == reply.json()[0]["iri"]


@pytest.mark.parametrize(
    ("name", "path"),
    [
        ("Found", "/api/records?q=strip"),
        ("Record", f"/api/records/{STRIP.short}"),
        ("Record", f"/api/records/{BOOK.short}"),
        ("Whereabouts", f"/api/records/{STRIP.short}/where"),
        ("HostPieces", f"/api/records/{BOOK.short}/pieces"),
        ("Report", f"/api/records/{STRIP.short}/check?for=ready-to-share"),
        ("Difference", f"/api/records/{STRIP.short}/difference?from=1&to=1"),
        ("Verified", "/api/verify"),
        ("Problem", "/api/records?limit=0"),
    ],
)
def test_what_is_answered_is_what_is_described(
    here: Client, described: Described, name: str, path: str
) -> None:
    schema = {"$ref": f"#/components/schemas/{name}", "components": described["components"]}
    body = here.get(path).json()
    assert [error.message for error in Draft202012Validator(schema).iter_errors(body)] == []
    written = described["components"]["schemas"][name].get("properties")
    if written and name != "Problem":
        assert body.keys() == written.keys()


@pytest.mark.parametrize(
    ("name", "path"),
    [
        ("Revision", f"/api/records/{STRIP.short}/history"),
        ("Term", "/api/terms/function"),
        ("TermList", "/api/terms"),
    ],
)
def test_lists_are_answered_as_described(here: Client, described: Described, name: str, path: str) -> None:
    schema = {"$ref": f"#/components/schemas/{name}", "components": described["components"]}
    body = here.get(path).json()
    assert body
    for item in body:
        Draft202012Validator(schema).validate(item)
        assert item.keys() == described["components"]["schemas"][name]["properties"].keys()
