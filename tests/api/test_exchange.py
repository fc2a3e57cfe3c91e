"""Files handed in and out over HTTP."""

import io

import pyoxigraph as ox
import pytest
from openpyxl import load_workbook

from guardbook.exports.formats import FORMATS
from tests.api.client import Client
from tests.api.shelf import SHELF, STRIP
from tests.api.test_records import check_problem

ROWS = b"Title,Workshop number,Height (mm)\nA tacket,W 20,12.5\nA strap,W 21,40\n"


def upload(*files: tuple[str, bytes]) -> list[tuple[str, tuple[str, bytes]]]:
    return [("file", file) for file in files]


def told(content: bytes) -> str:
    """Give what a file says; a workbook is unpacked first."""
    if not content.startswith(b"PK"):
        return content.decode()
    rows = load_workbook(io.BytesIO(content)).worksheets[0].iter_rows(values_only=True)
    return "\n".join(str(row) for row in rows)


def test_labels_of_all_records_are_handed_on_as_pdf(here: Client) -> None:
    reply = here.get("/api/export?format=labels")
    assert (reply.status_code, reply.headers["Content-Type"]) == (200, "application/pdf")
    assert reply.content.startswith(b"%PDF-")


@pytest.mark.parametrize("name", [name for name in FORMATS if name != "labels"])
def test_all_records_are_handed_on_in_every_format(here: Client, name: str) -> None:
    reply = here.get(f"/api/export?format={name}")
    assert reply.status_code == 200
    wanted = FORMATS[name].media_type
    assert reply.headers["Content-Type"].partition(";")[0] == wanted.partition(";")[0]
    assert STRIP.identifier in told(reply.content)
    assert f"guardbook{FORMATS[name].ending}" in reply.headers["Content-Disposition"]


def test_only_the_records_asked_for_are_handed_on(here: Client) -> None:
    text = here.get(f"/api/export?format=nquads&id={STRIP.identifier.lower()}").content
    assert {quad.graph_name for quad in ox.parse(text, format=ox.RdfFormat.N_QUADS)} == {
        ox.NamedNode(STRIP.id)
    }
    check_problem(here.get("/api/export?format=nquads&id=nothing"), 404)


def test_a_file_of_one_record_is_named_after_it(here: Client) -> None:
    for path, name in (
        (f"/api/export?format=tei&id={STRIP.identifier.lower()}", f"fragment-{STRIP.identifier}.tei.xml"),
        (f"/api/packet?id={STRIP.identifier}", f"fragment-{STRIP.identifier}-packet.zip"),
        ("/api/packet", "guardbook-packet.zip"),
    ):
        assert here.get(path).headers["Content-Disposition"] == f'attachment; filename="{name}"'


def test_labels_are_in_the_language_asked_for(here: Client) -> None:
    assert "Numero di laboratorio" in told(here.get("/api/export?format=xlsx&language=it").content)
    assert "'xx'" in check_problem(here.get("/api/export?format=xlsx&language=xx"), 400)["detail"]


def test_an_unknown_format_is_refused_and_the_others_named(here: Client) -> None:
    assert "turtle" in check_problem(here.get("/api/export?format=papyrus"), 400)["detail"]
    assert check_problem(here.get("/api/export"), 400)["faults"][0]["where"] == "query.format"


def test_a_sheet_is_tried_first_and_saved_then(here: Client) -> None:
    tried = here.request("POST", "/api/import?dryRun=true", files=upload(("pieces.csv", ROWS)))
    assert (tried.status_code, len(tried.json()["new"]), tried.json()["revisions"]) == (200, 2, [])
    assert here.get("/api/records").json()["total"] == len(SHELF)
    saved = here.request("POST", "/api/import?who=Mira", files=upload(("pieces.csv", ROWS))).json()
    assert [revision["who"] for revision in saved["revisions"]] == ["Mira", "Mira"]
    assert here.get("/api/records?q=W+20").json()["hits"][0]["title"] == "A tacket"


def test_several_files_are_saved_together_or_not_at_all(here: Client) -> None:
    files = upload(("pieces.csv", ROWS), ("more.csv", b"Title,Height (mm)\nA tie,tall\n"))
    body = check_problem(here.request("POST", "/api/import", files=files), 422)
    assert "more.csv" in body["faults"][0]["where"]
    assert here.get("/api/records").json()["total"] == len(SHELF)


def test_a_file_that_cannot_be_read_is_explained(here: Client) -> None:
    check_problem(here.request("POST", "/api/import", files=upload(("a.ttl", b"<x> <y> ."))), 400)
    check_problem(here.request("POST", "/api/import", files=upload(("a.docx", b"x"))), 400)


@pytest.mark.parametrize(
    "words",
    [
        {},
        {"content": b"x", "headers": {"Content-Type": "text/csv"}},
        {"data": {"file": "not a file"}},
        {"files": {"other": ("a.csv", ROWS)}},
        {"content": b"x", "headers": {"Content-Type": "multipart/form-data"}},
        {"content": b"x", "headers": {"Content-Type": "multipart/form-data; boundary=y"}},
    ],
)
def test_an_upload_without_a_file_is_explained(here: Client, words: dict[str, object]) -> None:
    check_problem(here.request("POST", "/api/import", **words), 400)


def test_what_is_too_large_is_refused_while_it_comes(here: Client, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("guardbook.api.bodies.LONGEST_BYTES", 1000)
    check_problem(here.request("POST", "/api/import", files=upload(("pieces.csv", ROWS * 20))), 413)
    json_headers = {"Content-Type": "application/json"}
    check_problem(here.request("POST", "/api/records", content=b" " * 1001, headers=json_headers), 413)


def test_the_sheet_to_fill_in_has_its_headings_in_ones_language(here: Client) -> None:
    reply = here.get("/api/template?format=xlsx&language=ca")
    sheet = load_workbook(io.BytesIO(reply.content)).worksheets[0]
    assert "Alçada (mm)" in {cell.value for cell in sheet[1]}
    assert "Hauteur (mm)" in here.get("/api/template?format=csv&language=fr").text


@pytest.mark.parametrize("query", ["format=pdf", "language=tlh", "kind=hats"])
def test_a_sheet_there_is_not_is_refused(here: Client, query: str) -> None:
    check_problem(here.get(f"/api/template?{query}"), 400)


def test_the_catalogue_is_held_against_its_ledger(here: Client) -> None:
    assert here.get("/api/verify").json() == {"faults": []}
