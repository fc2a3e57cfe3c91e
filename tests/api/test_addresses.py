"""Addresses lead to the description one asks for (W3C, *Cool URIs for the Semantic Web*)."""

import json

import pyoxigraph as ox
import pytest
from rdflib import Graph

from guardbook.exports.formats import FORMATS
from guardbook.records.mapping import from_quads
from tests.api.client import Client
from tests.api.shelf import SLIP, STRIP
from tests.api.test_records import check_problem

# rdflib's own parsers of quads and JSON-LD still go by way of what it deprecates
pytestmark = pytest.mark.filterwarnings("ignore:.*is deprecated, use Dataset:DeprecationWarning")

AT = f"/{STRIP.short}"
FORMS = {
    ".ttl": ("text/turtle", "turtle"),
    ".nt": ("application/n-triples", "nt"),
    ".nq": ("application/n-quads", "nquads"),
    ".trig": ("application/trig", "trig"),
    ".rdf": ("application/rdf+xml", "xml"),
    ".jsonld": ("application/ld+json", "json-ld"),
}
A_BROWSER = "text/html,application/xhtml+xml,application/xml;q=0.9,image/avif,*/*;q=0.8"


@pytest.mark.parametrize(
    ("accept", "ending"),
    [
        *((media_type, ending) for ending, (media_type, _) in FORMS.items()),
        (A_BROWSER, ".html"),
        ("*/*", ".html"),
        ("application/json", ".jsonld"),
        ("text/turtle;q=0.5, application/trig", ".trig"),
        ("text/html;q=0.1, text/turtle", ".ttl"),
        ("text/html;q=0, */*", ".jsonld"),
    ],
)
def test_a_piece_leads_to_the_form_one_asks_for(here: Client, accept: str, ending: str) -> None:
    reply = here.get(AT, headers={"Accept": accept})
    assert (reply.status_code, reply.headers["Location"], reply.headers["Vary"]) == (
        303,
        AT + ending,
        "Accept",
    )


def test_a_form_there_is_not_is_refused_and_the_others_named(here: Client) -> None:
    detail = check_problem(here.get(AT, headers={"Accept": "image/png"}), 406)["detail"]
    assert all(media_type in detail for media_type, _ in FORMS.values())
    assert ".ttl" in check_problem(here.get(f"{AT}.png"), 404)["detail"]


@pytest.mark.parametrize("ending", FORMS)
def test_every_form_says_the_same_to_a_reader_we_did_not_write_with(here: Client, ending: str) -> None:
    """Read by rdflib; we write with pyoxigraph and, for JSON-LD, with our own context."""
    media_type, rdflib_name = FORMS[ending]
    reply = here.get(AT + ending)
    assert reply.headers["Content-Type"].partition(";")[0] == media_type
    graph = Graph().parse(data=reply.content, format=rdflib_name)
    if ending in {".nq", ".trig"}:
        graph = Graph().parse(data=here.get(AT + ".ttl").content, format="turtle")
    triples = ox.parse(graph.serialize(format="nt"), format=ox.RdfFormat.N_TRIPLES)
    assert from_quads(triples) == STRIP


def test_a_document_says_what_it_is_about(here: Client) -> None:
    assert here.get(f"{AT}.ttl").links["describes"]["url"] == STRIP.id


@pytest.mark.parametrize("ending", ["", ".ttl", ".html"])
@pytest.mark.parametrize("spelling", [STRIP.identifier.lower(), STRIP.identifier.replace("-", "")])
def test_another_spelling_leads_to_the_right_one(here: Client, spelling: str, ending: str) -> None:
    reply = here.get(f"/fragment/{spelling}{ending}")
    assert (reply.status_code, reply.headers["Location"]) == (301, AT + ending)


@pytest.mark.parametrize("ending", ["", ".ttl", ".html"])
def test_a_mistyped_address_is_answered_with_the_likely_one(here: Client, ending: str) -> None:
    slip = STRIP.identifier[1] + STRIP.identifier[0] + STRIP.identifier[2:]
    body = check_problem(here.get(f"/fragment/{slip}{ending}", headers={"Accept": "application/json"}), 404)
    assert STRIP.identifier in body["faults"][0]["mend"]


@pytest.mark.parametrize("ending", ["", ".ttl", ".html", ".jsonld"])
def test_a_record_taken_out_is_gone_in_every_form(here: Client, away: Client, ending: str) -> None:
    at = f"/api/records/{SLIP.short}"
    here.request("DELETE", f"{at}?why=never+was", headers={"If-Match": '"1"'})
    body = check_problem(here.get(f"/{SLIP.short}{ending}", headers={"Accept": "application/json"}), 410)
    assert "never was" in body["detail"]
    check_problem(away.get(f"/{SLIP.short}{ending}", headers={"Accept": "application/json"}), 404)


def test_looking_as_the_public_goes_on_along_the_way(here: Client) -> None:
    reply = here.get(f"{AT}?as=public", headers={"Accept": "text/turtle"})
    assert reply.headers["Location"] == f"{AT}.ttl?as=public"


@pytest.mark.parametrize("path", ["/ns", "/terms/function", "/terms/function/pastedown"])
def test_a_word_leads_to_its_page_or_its_rdf(here: Client, path: str) -> None:
    for accept, ending in ((A_BROWSER, ".html"), ("text/turtle", ".ttl")):
        reply = here.get(path, headers={"Accept": accept})
        assert (reply.status_code, reply.headers["Location"]) == (303, path + ending)
        assert here.get(reply.headers["Location"]).status_code == 200
    check_problem(here.get(path, headers={"Accept": "audio/ogg"}), 406)


def test_a_term_is_given_as_skos(here: Client) -> None:
    graph = Graph().parse(data=here.get("/terms/function/pastedown.ttl").content, format="turtle")
    labels = {
        str(value) for value in graph.objects(predicate=None) if getattr(value, "language", None) == "fr"
    }
    assert "contregarde collée" in labels or any("garde" in label for label in labels)
    assert len({str(subject) for subject in graph.subjects()}) == 1


@pytest.mark.parametrize(
    "path", ["/terms/colour", "/terms/colour.ttl", "/terms/function/hat", "/terms/function/hat.ttl"]
)
def test_a_word_there_is_not_is_explained(here: Client, path: str) -> None:
    assert "function" in check_problem(here.get(path), 404)["detail"]


def test_the_context_turns_our_json_into_the_same_rdf(here: Client) -> None:
    document = here.get(f"/api/records{AT}").json()
    inlined = {**document, "@context": here.get("/context.jsonld").json()["@context"]}
    graph = Graph().parse(data=json.dumps(inlined), format="json-ld")
    triples = ox.parse(graph.serialize(format="nt"), format=ox.RdfFormat.N_TRIPLES)
    assert from_quads(triples) == STRIP


def test_every_format_of_the_addresses_is_one_of_ours() -> None:
    assert {media_type for media_type, _ in FORMS.values()} <= {
        found.media_type for found in FORMATS.values()
    }
