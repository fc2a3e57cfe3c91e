"""The catalogue as a dataset over HTTP: described, dumped, followed, mapped, and not sent again unchanged."""

from __future__ import annotations

import gzip
import json

import pyoxigraph as ox
import pytest
from lxml import etree
from rdflib import DCAT, DCTERMS, RDF, VOID, Graph, Literal, URIRef

from guardbook.catalogue.access import Access
from guardbook.catalogue.catalogue import Catalogue
from guardbook.catalogue.sparql.desk import Desk
from guardbook.errors import QueryStopped
from guardbook.exports.dataset import change_feed, site_map
from guardbook.settings import DEFAULT_BASE, NAMESPACE
from tests.api.client import HERE, Client
from tests.api.shelf import ANNA, BOOK, OFF, PUT, SHELF, SLIP, STRIP
from tests.catalogue.shelf import WHO, changed, save

DATASET = URIRef(f"{DEFAULT_BASE}dataset")
TURTLE = {"Accept": "text/turtle"}
# one is for the workshop, the other has not been asked whether she may be named
HIDDEN = {SLIP.id, ANNA.id}


def described(client: Client) -> Graph:
    return Graph().parse(data=client.get("/dataset.ttl").text, format="turtle")


def test_the_description_is_found_where_it_is_looked_for(here: Client) -> None:
    for path in ("/.well-known/void", "/dataset"):
        reply = here.get(path, headers=TURTLE)
        assert (reply.status_code, reply.headers["location"]) == (303, "/dataset.ttl")
        assert here.get(path, headers={"Accept": "text/html"}).headers["location"] == "/dataset.html"
    assert here.get("/dataset", headers={"Accept": "image/png"}).status_code == 406


@pytest.mark.parametrize("accept", [{"Accept": "*/*"}, {"Accept": ""}])
def test_a_program_that_takes_anything_gets_the_well_known_description_as_data(
    here: Client, accept: dict[str, str]
) -> None:
    assert here.get("/.well-known/void", headers=accept).headers["location"] == "/dataset.ttl"
    assert here.get("/dataset", headers=accept).headers["location"] == "/dataset.html"


@pytest.mark.parametrize("path", ["/activity/page-{}", "/sitemap-{}.xml"])
@pytest.mark.parametrize("number", [0, -1, 99])
def test_a_page_or_map_that_there_is_not_is_not_found(here: Client, path: str, number: int) -> None:
    assert here.get(path.format(number)).status_code == 404


@pytest.mark.parametrize(
    ("ending", "form"), [("ttl", "turtle"), ("rdf", "xml"), ("nt", "nt"), ("jsonld", "json-ld")]
)
@pytest.mark.filterwarnings("ignore:ConjunctiveGraph is deprecated:DeprecationWarning")  # rdflib's own reader
def test_every_form_of_the_description_says_the_same(here: Client, ending: str, form: str) -> None:
    read = Graph().parse(data=here.get(f"/dataset.{ending}").text, format=form)
    assert set(read) == set(described(here))


def test_the_numbers_are_those_of_the_records_each_viewer_sees(
    here: Client, away: Client, catalogue: Catalogue
) -> None:
    for client, viewer, records in ((here, "workshop", 7), (away, "public", 5)):
        access = catalogue.access(type(catalogue.access().viewer)(viewer))
        quads = [quad for iri in access.iris() for quad in access.quads(iri)]
        found = described(client)
        assert found.value(DATASET, VOID.triples) == Literal(len(quads))
        assert found.value(DATASET, VOID.entities) == Literal(records)
        assert found.value(DATASET, VOID.distinctSubjects) == Literal(len({quad.subject for quad in quads}))
        assert found.value(DATASET, VOID.distinctObjects) == Literal(len({quad.object for quad in quads}))
        pieces = found.value(predicate=VOID["class"], object=URIRef(f"{NAMESPACE}Fragment"))
        assert found.value(pieces, VOID.entities) == Literal(
            sum(iri.startswith(f"{DEFAULT_BASE}fragment/") for iri in access.iris())
        )
        parts = found.objects(DATASET, VOID.propertyPartition)
        by_property = [int(str(number)) for part in parts for number in found.objects(part, VOID.triples)]
        assert sum(by_property) == len(quads)


def test_what_cannot_be_counted_within_the_limits_is_left_out(
    here: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    def stopped(_desk: object, _question: object, _folder: object) -> None:
        raise QueryStopped(message="The query was stopped at the limit of 20 seconds.")

    monkeypatch.setattr(Desk, "answer", stopped)
    found = described(here)
    assert found.value(DATASET, VOID.triples) is None
    assert found.value(DATASET, VOID.entities) == Literal(len(SHELF))
    assert here.get("/dataset.html").status_code == 200


def test_every_address_in_the_description_answers(here: Client) -> None:
    found = described(here)
    addresses = {
        *found.objects(DATASET, VOID.dataDump),
        *found.objects(DATASET, VOID.sparqlEndpoint),
        *found.objects(predicate=DCAT.endpointURL),
        *found.objects(predicate=DCAT.downloadURL),
    }
    assert len(addresses) == 4
    for address in addresses:
        assert str(address).startswith(f"{HERE}/")
        assert here.get(str(address).removeprefix(HERE)).status_code == 200
    examples = [str(iri) for iri in found.objects(DATASET, VOID.exampleResource)]
    assert STRIP.id in examples
    assert found.value(DATASET, RDF.type) is not None
    assert found.value(DATASET, DCTERMS.license) is None


@pytest.mark.parametrize(("ending", "form"), [("nq", ox.RdfFormat.N_QUADS), ("trig", ox.RdfFormat.TRIG)])
def test_a_dump_holds_every_record_in_sight_and_no_other(
    here: Client, away: Client, catalogue: Catalogue, ending: str, form: ox.RdfFormat
) -> None:
    access = catalogue.access()
    for client, hidden in ((here, set()), (away, HIDDEN)):
        reply = client.get(f"/dump.{ending}.gz")
        assert reply.headers["content-type"] == "application/gzip"
        dumped = set(ox.parse(gzip.decompress(reply.content), format=form))
        assert {quad.graph_name.value for quad in dumped} == {record.id for record in SHELF} - hidden
        if not hidden:
            assert dumped == {quad for iri in access.iris() for quad in access.quads(iri)}
    assert here.get("/dump.zip.gz").status_code == 404


UNCHANGED = ["/dump.nq.gz", "/dataset.ttl", "/activity/all-changes", "/activity/page-1",
             f"/{STRIP.short}.ttl", f"/api/records/{STRIP.short}"]  # fmt: skip


@pytest.mark.parametrize("path", UNCHANGED)
def test_what_has_not_changed_is_not_sent_again(here: Client, catalogue: Catalogue, path: str) -> None:
    first = here.get(path)
    tag, when = first.headers["ETag"], first.headers["Last-Modified"]
    assert first.status_code == 200
    for known in ({"If-None-Match": tag}, {"If-Modified-Since": when}):
        again = here.get(path, headers=known)
        assert (again.status_code, again.content, again.headers["ETag"]) == (304, b"", tag)
    for known in (
        {"If-None-Match": '"other"', "If-Modified-Since": when},
        {"If-Modified-Since": "Sat, 01 Jan 2000 00:00:00 GMT"},
        {"If-Modified-Since": "some day"},
    ):
        assert here.get(path, headers=known).status_code == 200
    save(catalogue.access(), changed(STRIP, note="wormed"), from_revision=1)
    assert here.get(path, headers={"If-None-Match": tag}).status_code == 200


def told(client: Client, path: str) -> dict[str, object]:
    reply = client.get(path)
    assert reply.headers["content-type"].startswith("application/ld+json")
    found: dict[str, object] = reply.json()
    return found


def items(client: Client) -> list[tuple[str, str]]:
    page = json.loads(client.get("/activity/page-1").text)
    return [(item["type"], item["object"]["id"]) for item in page["orderedItems"]]


def test_the_feed_tells_each_viewer_what_it_saw(here: Client, away: Client, catalogue: Catalogue) -> None:
    access = catalogue.access()
    save(access, changed(STRIP, visibility="workshop"), from_revision=1)
    access.delete(ANNA.id, started_from=1, who=WHO, why="a mistake")
    hers, theirs = items(here), items(away)
    assert hers[: len(SHELF)] == [("Create", record.id) for record in SHELF]
    assert hers[len(SHELF) :] == [("Update", STRIP.id), ("Delete", ANNA.id)]
    assert not HIDDEN & {iri for _, iri in theirs}
    # what says where the piece sat cannot stand without the piece
    assert {iri for activity, iri in theirs if activity == "Delete"} >= {STRIP.id, PUT.id, OFF.id}
    assert {iri for activity, iri in theirs if activity == "Create"} >= {STRIP.id, BOOK.id}


def test_the_pages_of_the_feed_hold_together_and_are_never_written_anew(
    here: Client, catalogue: Catalogue, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(change_feed, "ON_A_PAGE", 3)
    whole = here.get("/activity/all-changes").json()
    assert (whole["type"], whole["totalItems"]) == ("OrderedCollection", 7)
    pages = [here.get(whole["first"]["id"].removeprefix(HERE)).json()]
    while "next" in pages[-1]:
        pages.append(here.get(pages[-1]["next"]["id"].removeprefix(HERE)).json())
    assert [len(page["orderedItems"]) for page in pages] == [3, 3, 1]
    assert [page["startIndex"] for page in pages] == [0, 3, 6]
    assert pages[-1]["id"] == whole["last"]["id"]
    assert [page["prev"]["id"] for page in pages[1:]] == [page["id"] for page in pages[:-1]]
    assert {page["partOf"]["id"] for page in pages} == {whole["id"]}
    save(catalogue.access(), changed(STRIP, note="wormed"), from_revision=1)
    assert here.get("/activity/page-2").json() == pages[1]
    assert here.get("/activity/page-4").status_code == 404
    ends = [item["endTime"] for page in pages for item in page["orderedItems"]]
    assert ends == sorted(ends)
    document = pages[0]["orderedItems"][0]["object"]["seeAlso"][0]
    assert here.get(document["id"].removeprefix(HERE)).headers["content-type"] == document["format"]


def test_an_empty_feed_has_one_empty_page(away: Client, catalogue: Catalogue) -> None:
    access: Access = catalogue.access()
    empty = change_feed.page(1, 0, (), "https://books.example/")
    assert (empty["orderedItems"], "next" in empty, "prev" in empty) == ([], False, False)
    assert change_feed.collection(0, "https://books.example/")["last"]["id"] == empty["id"]
    assert access.activities(0, 0) == ()


SPACE = "{http://www.sitemaps.org/schemas/sitemap/0.9}"


def test_search_engines_are_shown_the_pages_that_are_public(away: Client) -> None:
    robots = away.get("/robots.txt").text
    (address,) = [line.partition(": ")[2] for line in robots.splitlines() if line.startswith("Sitemap")]
    whole = etree.fromstring(away.get(address.removeprefix(away.base_url)).content)
    found = [str(url.findtext(f"{SPACE}loc")) for url in whole]
    assert whole.tag == f"{SPACE}urlset"
    assert len(found) == len(SHELF) - len(HIDDEN)
    assert all(away.get(page.removeprefix(away.base_url)).status_code == 200 for page in found)
    assert all(url.findtext(f"{SPACE}lastmod") for url in whole)
    assert not any(record.rpartition("/")[2] in page for record in HIDDEN for page in found)


def test_many_pages_are_mapped_in_parts(away: Client, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("guardbook.actions.map_site.ON_ONE_MAP", 4)
    index = etree.fromstring(away.get("/sitemap.xml").content)
    assert index.tag == f"{SPACE}sitemapindex"
    parts = [
        etree.fromstring(away.get(part.findtext(f"{SPACE}loc").removeprefix(away.base_url)).content)
        for part in index
    ]
    assert [len(part) for part in parts] == [4, 1]
    assert away.get("/sitemap-3.xml").status_code == 404
    assert site_map.ON_ONE_MAP == 50_000
