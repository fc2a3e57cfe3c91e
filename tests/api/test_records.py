"""Records over HTTP: getting, adding, replacing, changing, taking out."""

import json
from concurrent.futures import ThreadPoolExecutor
from typing import Any

import httpx
import pytest

from tests.api.client import Client
from tests.api.shelf import BOOK, PUT, SHELF, STRIP
from tests.binding.bench import iri

AT = f"/api/records/{STRIP.short}"
PATCH = {"Content-Type": "application/merge-patch+json"}


def check_problem(reply: httpx.Response, status: int) -> dict[str, Any]:
    """Check that this is a problem of a status, in the one form that problems have, and give it."""
    assert reply.status_code == status, reply.text
    assert reply.headers["content-type"] == "application/problem+json"
    body: dict[str, Any] = reply.json()
    assert body["status"] == status
    assert {"type", "title", "detail", "faults"} <= body.keys()
    return body


def test_a_record_is_given_with_its_revision(here: Client) -> None:
    reply = here.get(AT)
    assert reply.json()["title"] == "Strip of a gradual"
    assert (reply.headers["ETag"], reply.headers["Content-Type"]) == ('"1"', "application/json")


@pytest.mark.parametrize("spelling", [STRIP.identifier.lower(), STRIP.identifier.replace("-", "")])
def test_a_record_is_found_by_any_spelling(here: Client, spelling: str) -> None:
    assert here.get(f"/api/records/fragment/{spelling}").json()["id"] == STRIP.id


@pytest.mark.parametrize("known", ['"1"', 'W/"1"', '"0", "1"', "*"])
def test_a_record_that_has_not_changed_is_not_sent_again(here: Client, known: str) -> None:
    reply = here.get(AT, headers={"If-None-Match": known})
    assert (reply.status_code, reply.content) == (304, b"")


def test_what_the_public_sees_has_another_tag_after_every_change_it_may_know_of(
    here: Client, away: Client
) -> None:
    before = away.get(AT).headers["ETag"]
    here.request("POST", "/api/records", json={"type": "Fragment", "visibility": "workshop"})
    assert away.get(AT).headers["ETag"] == before, "it counts nothing that is hidden"
    here.request("POST", "/api/records", json={"type": "Fragment"})
    assert away.get(AT).headers["ETag"] != before
    assert before != here.get(AT).headers["ETag"]


def test_an_address_of_nothing_is_explained(here: Client) -> None:
    check_problem(here.get(f"/api/records/{iri('fragment', 'nothing').rpartition('example/')[2]}"), 404)
    check_problem(here.get("/api/records/book/ABC"), 404)
    check_problem(here.get("/api/nothing"), 404)


def test_a_mistyped_identifier_is_answered_with_the_likely_one(here: Client) -> None:
    slip = STRIP.identifier[1] + STRIP.identifier[0] + STRIP.identifier[2:]
    body = check_problem(here.get(f"/api/records/fragment/{slip}"), 404)
    assert STRIP.identifier in body["faults"][0]["mend"]


def test_records_are_listed_page_by_page(here: Client) -> None:
    reply = here.get("/api/records?limit=2&offset=2&kind=")
    check_problem(reply, 400)
    pages = [here.get("/api/records?limit=3")]
    while following := pages[-1].links.get("next"):
        pages.append(here.get(following["url"]))
    seen = [hit["iri"] for reply in pages for hit in reply.json()["hits"]]
    assert sorted(seen) == sorted(record.id for record in SHELF)
    reply = pages[-1]
    assert reply.json()["total"] == len(SHELF)
    assert reply.links["prev"]["url"] == "/api/records?limit=3&offset=3"
    assert reply.links["first"]["url"] == "/api/records?limit=3&offset=0"
    assert reply.links["last"]["url"] == "/api/records?limit=3&offset=6"


def test_records_are_found_by_words_kind_and_facet(here: Client) -> None:
    path = "/api/records?q=gradual&kind=fragment&facet=material:parchment&facet=function:sewing-guard"
    assert [hit["iri"] for hit in here.get(path).json()["hits"]] == [STRIP.id]
    assert here.get("/api/records?facet=material:paper").json()["total"] == 0
    found = here.get("/api/records?facet=whereNow:unknown&facet=kind:fragment&facet=hasImage:no").json()
    assert (found["total"], found["waiting"]) == (2, 0)


@pytest.mark.parametrize(
    "query", ["facet=material", "limit=0", "limit=x", "offset=-1", "kind=book", "facet=colour:red"]
)
def test_a_search_that_makes_no_sense_is_explained(here: Client, query: str) -> None:
    assert check_problem(here.get(f"/api/records?{query}"), 400)["faults"]


def test_a_new_record_is_given_an_address(here: Client) -> None:
    reply = here.request(
        "POST", "/api/records?who=Mira&whatFor=found", json={"type": "Fragment", "title": "New"}
    )
    assert reply.status_code == 201
    at = reply.headers["Location"]
    assert here.get(at).json()["title"] == "New"
    (revision,) = here.get(f"{at}/history").json()
    assert (revision["who"], revision["whatFor"], revision["number"]) == ("Mira", "found", 1)


def test_a_record_with_faults_is_explained_and_not_saved(here: Client) -> None:
    body = {"type": "Fragment", "height": "tall", "material": "cheese", "dateMade": "c. 1500"}
    faults = check_problem(here.request("POST", "/api/records", json=body), 422)["faults"]
    assert {fault["where"] for fault in faults} == {
        "the body, height",
        "the body, material",
        "the body, dateMade",
    }
    assert here.get("/api/records").json()["total"] == len(SHELF)


def test_a_doubtful_value_is_saved_by_whoever_is_sure(here: Client) -> None:
    body = {"type": "Fragment", "height": "30000"}
    assert check_problem(here.request("POST", "/api/records", json=body), 422)["faults"][0]["doubt"]
    assert here.request("POST", "/api/records?sure=true", json=body).status_code == 201


def test_a_change_names_the_revision_it_started_from(here: Client) -> None:
    check_problem(here.request("PATCH", AT, json={"note": "x"}, headers=PATCH), 428)
    check_problem(here.request("PATCH", AT, json={"note": "x"}, headers={**PATCH, "If-Match": "*"}), 428)
    check_problem(here.request("PUT", AT, json={"type": "Fragment"}), 428)
    check_problem(here.request("DELETE", f"{AT}?why=x"), 428)
    assert here.get(AT).headers["ETag"] == '"1"'


@pytest.mark.parametrize("tag", ["1", '"one"', 'W/"1"', '"0"', '"1", "2"', '"99999999999999"'])
def test_what_is_no_revision_is_refused(here: Client, tag: str) -> None:
    check_problem(here.request("PATCH", AT, json={"note": "x"}, headers={**PATCH, "If-Match": tag}), 400)


def test_some_fields_are_changed_and_the_rest_stays(here: Client) -> None:
    body = {"note": "torn", "material": None}
    reply = here.request("PATCH", AT, json=body, headers={**PATCH, "If-Match": '"1"'})
    assert (reply.status_code, reply.headers["ETag"]) == (200, '"2"')
    now = here.get(AT).json()
    assert (now["note"], now["height"], "material" in now) == ("torn", "40.0", False)


def test_a_stale_change_is_refused_with_both_versions(here: Client) -> None:
    first, second = (
        here.request("PATCH", AT, json={"note": note}, headers={**PATCH, "If-Match": '"1"'})
        for note in ("one", "two")
    )
    assert first.status_code == 200
    body = check_problem(second, 412)
    assert (body["yours"]["note"], body["theirs"]["note"]) == ("two", "one")


def test_a_record_is_replaced_as_a_whole(here: Client) -> None:
    document = {**here.get(AT).json(), "title": "Renamed"}
    reply = here.request("PUT", AT, json=document, headers={"If-Match": '"1"'})
    assert (reply.status_code, reply.json()["number"]) == (200, 2)
    assert here.get(AT).json() == document


def test_a_record_is_added_under_an_identifier_of_ones_own(here: Client) -> None:
    path = f"/api/records/{iri('fragment', 'own').rpartition('example/')[2]}"
    reply = here.request("PUT", path, json={"title": "Own"})
    assert (reply.status_code, reply.headers["Location"]) == (201, path)


def test_an_identifier_of_ones_own_must_be_one(here: Client) -> None:
    check_problem(here.request("PUT", "/api/records/fragment/my-strip", json={"title": "Own"}), 404)


def test_a_body_of_another_kind_is_refused(here: Client) -> None:
    xml = {"Content-Type": "application/xml", "If-Match": '"1"'}
    check_problem(here.request("PUT", AT, content=b"<x/>", headers=xml), 415)
    check_problem(
        here.request("PATCH", AT, content=b"x=1", headers={**xml, "Content-Type": "text/plain"}), 415
    )


def test_a_record_that_is_named_by_others_stays(here: Client) -> None:
    body = check_problem(here.request("DELETE", f"{AT}?why=x", headers={"If-Match": '"1"'}), 422)
    assert any(PUT.id in json.dumps(fault) for fault in body["faults"])


def test_a_record_taken_out_says_so(here: Client, away: Client) -> None:
    path = here.request("POST", "/api/records", json={"type": "Fragment"}).headers["Location"]
    reply = here.request("DELETE", f"{path}?why=entered+twice&who=Mira", headers={"If-Match": '"1"'})
    assert (reply.status_code, reply.json()["tombstone"]) == (200, True)
    for client in (here, away):
        body = check_problem(client.get(path), 410)
        assert "entered twice" in json.dumps(body)
    check_problem(here.request("DELETE", f"{path}?why=again", headers={"If-Match": '"2"'}), 410)
    check_problem(here.request("PUT", path, json={"type": "Fragment"}), 410)
    assert len(here.get(f"{path}/history").json()) == 2


def test_a_record_taken_out_by_mistake_is_put_back(here: Client) -> None:
    path = here.request("POST", "/api/records", json={"type": "Fragment"}).headers["Location"]
    here.request("DELETE", f"{path}?why=a+slip", headers={"If-Match": '"1"'})
    reply = here.request("PUT", path, json={"title": "Back"}, headers={"If-Match": '"2"'})
    assert (reply.status_code, here.get(path).json()["title"]) == (200, "Back")


def test_a_reason_is_asked_for(here: Client) -> None:
    body = check_problem(here.request("DELETE", AT, headers={"If-Match": '"1"'}), 400)
    assert body["faults"][0]["where"] == "query.why"


@pytest.mark.parametrize("method", ["TRACE", "POST", "LINK"])
def test_other_methods_are_refused_and_the_right_ones_named(here: Client, method: str) -> None:
    reply = here.request(method, AT)
    check_problem(reply, 405)
    assert reply.headers["Allow"] == "GET, HEAD, PUT, PATCH, DELETE"


def test_the_head_is_that_of_the_whole(here: Client) -> None:
    whole, head = here.get(AT), here.request("HEAD", AT)
    assert (head.status_code, head.content) == (200, b"")
    assert head.headers == whole.headers


def test_the_volume_tells_its_pieces_and_the_piece_where_it_sat(here: Client) -> None:
    assert here.get(f"{AT}/where").json()["stays"][0]["host"] == BOOK.id
    pieces = here.get(f"/api/records/{BOOK.short}/pieces").json()["pieces"]
    assert [piece["piece"] for piece in pieces] == [STRIP.id]
    check_problem(here.get(f"/api/records/{BOOK.short}/where"), 400)


def test_what_is_missing_is_told_for_a_stage(here: Client) -> None:
    report = here.get(f"{AT}/check?for=before-lifting").json()
    assert not report["complete"]
    assert all(item["why"] and item["how"] for item in report["missing"])
    check_problem(here.get(f"{AT}/check?for=lunch"), 400)


def test_what_changed_between_two_revisions_is_told_in_words(here: Client) -> None:
    here.request("PATCH", AT, json={"height": "41.5"}, headers={**PATCH, "If-Match": '"1"'})
    assert here.get(f"{AT}/history/1").json()["height"] == "40.0"
    changes = here.get(f"{AT}/difference?from=1&to=2").json()["changes"]
    assert changes == ["Height (mm): 41.5 (was 40.0)"]
    check_problem(here.get(f"{AT}/difference?from=1&to=9"), 404)
    check_problem(here.get(f"{AT}/history/9"), 404)


def test_of_many_who_change_a_record_at_once_one_is_heard(here: Client) -> None:
    def change(number: int) -> int:
        headers = {**PATCH, "If-Match": '"1"'}
        return here.request("PATCH", AT, json={"note": f"by {number}"}, headers=headers).status_code

    with ThreadPoolExecutor(max_workers=8) as many:
        statuses = sorted(many.map(change, range(8)))
    assert statuses == [200, *[412] * 7]
    assert len(here.get(f"{AT}/history").json()) == 2
