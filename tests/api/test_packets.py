"""Packets made and handed in over HTTP."""

from __future__ import annotations

import zipfile
from io import BytesIO

from tests.actions.packing import files_of
from tests.api.client import Client
from tests.api.shelf import SHELF, STRIP
from tests.api.test_exchange import upload
from tests.api.test_records import check_problem


def test_a_packet_is_made_checked_and_taken_back(here: Client) -> None:
    reply = here.get("/api/packet")
    assert reply.headers["Content-Type"] == "application/zip"
    assert STRIP.id in files_of(reply.content)["data/records/records.trig"].decode()
    tried = here.request("POST", "/api/packet?dryRun=true", files=upload(("p.zip", reply.content)))
    assert (tried.status_code, tried.json()["new"], len(tried.json()["unchanged"])) == (200, [], len(SHELF))


def test_a_packet_of_one_piece_leaves_the_others_out(here: Client) -> None:
    one = files_of(here.get(f"/api/packet?id={STRIP.identifier}").content)["data/records/revisions.csv"]
    assert STRIP.id.encode() in one
    assert len(one.splitlines()) <= len(SHELF) + 1
    check_problem(here.get("/api/packet?id=nothing"), 404)


def test_a_damaged_packet_is_a_problem_with_its_faults(here: Client) -> None:
    whole = here.get("/api/packet").content
    output = BytesIO(whole)
    with zipfile.ZipFile(output, "a") as archive:
        archive.writestr("guardbook-packet/data/extra.txt", b"hello")
    told = check_problem(here.request("POST", "/api/packet", files=upload(("p.zip", output.getvalue()))), 400)
    assert "extra.txt" in told["faults"][0]["where"]
    check_problem(here.request("POST", "/api/packet", files=upload(("a", whole), ("b", whole))), 400)
    check_problem(here.request("POST", "/api/packet"), 400)


def test_only_the_workshop_imports(away: Client) -> None:
    files = upload(("p.zip", away.get("/api/packet").content))
    check_problem(away.request("POST", "/api/packet", files=files), 403)
