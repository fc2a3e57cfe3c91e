"""What is not for the public stands on no paper that the public gets, as poppler reads it.

Rule (common practice, no published source): a workshop's own report names people and says where pieces lie;
private notes, valuations and contacts stand on no paper at all.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from guardbook.actions.make_bench_sheet import make_bench_sheet
from guardbook.actions.make_label import make_labels
from guardbook.actions.make_report import make_report
from guardbook.catalogue.access import Access, Viewer
from guardbook.catalogue.catalogue import Catalogue
from guardbook.catalogue.redaction import private_fields
from guardbook.records.fields import fields_of
from guardbook.records.kinds import KINDS
from tests.catalogue.shelf import iri, made, save
from tests.outside.papers import text_of

Needs = Callable[[str], Path]
MARK = "SENTINEL"
# the workshop's own report may say where a piece lies
NEVER_PRINTED = {"privateNote", "valuation", "contact"}


def record(kind: str, name: str, /, **fields: object) -> object:
    """Make a record with a sentinel in every field of it that is not for the public."""
    private = {
        field.json_name: f"{MARK} {field.json_name} {kind}"
        for field in fields_of(KINDS[kind])
        if field.visible != "public"
    }
    return made(kind, name, **{**private, **fields})


def shelf() -> tuple[object, ...]:
    """Give a treatment in which everything that can be secret is."""
    host, strip, put = iri("host", "book"), iri("fragment", "strip"), iri("placing", "put")
    owner, stages = iri("agent", "owner"), [("bound", 1), ("as-received", 2), ("after-treatment", 3)]
    told = [{"id": f"#stage-{n}", "number": n, "stageKind": kind} for kind, n in stages]
    third = host + "#stage-3"
    return (
        record("agent", "owner", name="Ottilia SENTINELOWNER"),
        record("institution", "library", name="City Library"),
        record(
            "host", "book", title="A book", stages=told, owner=owner, keeper=iri("institution", "library"),
            height="200", width="150", note="Lent by Ottilia SENTINELOWNER.",
        ),
        record("fragment", "strip", title="A strip", owner=owner, keeper=owner, height="40", width="20"),
        record("placing", "put", piece=strip, host=host, stage=host + "#stage-1", function="sewing-guard"),
        record(
            "separation", "off", piece=strip, host=host, stage=third, undoes=put, by=[owner], consentBy=owner,
            separationKind="lifted-in-treatment", wentTo=owner, housing="folder", when="2024-02-03",
            alteredOrLost="Nothing.",
        ),
        record("move", "away", object=strip, wentTo=owner, moveKind="moved", when="2024-02-04"),
        record("alteration", "cleaned", target=strip, host=host, stage=third, description="Dusted."),
        record("image", "seen", depicts=[strip], title="SENTINELPICTURE", visibility="workshop"),
        record(
            "decision", "weighed", about=[strip, host], title="SENTINELDECISION", visibility="partners",
            options=[{"id": "#option-1", "optionKind": "leave-in-place"}],
        ),
        record("carrier", "gradual", title="SENTINELCARRIER", visibility="workshop"),
        record("reading", "claimed", about=[strip], claim="SENTINELCLAIM", visibility="workshop"),
    )  # fmt: skip


@pytest.fixture
def viewed(catalogue: Catalogue) -> Catalogue:
    save(catalogue.access(), *shelf())  # type: ignore[arg-type]  # records, as made
    return catalogue


def papers(access: Access) -> dict[str, bytes]:
    """Give every paper there is of the volume and the piece, in one language."""
    host, strip = iri("host", "book"), iri("fragment", "strip")
    return {
        **{
            f"{reader} {name}": make_report(access, name, reader)
            for name in (host, strip)
            for reader in ("owner", "scholar")
        },
        "labels": make_labels(access, [host, strip], "a4"),
        "bench": make_bench_sheet(access, host),
    }


def test_the_public_gets_no_secret_on_any_paper(viewed: Catalogue, needs: Needs) -> None:
    pdftotext = needs("pdftotext")
    for name, made_paper in papers(viewed.access(Viewer.PUBLIC)).items():
        text = text_of(made_paper, pdftotext)
        assert "A book" in text, name
        assert MARK.lower() not in text.lower(), name
        assert MARK.encode() not in made_paper, name


def test_the_workshops_report_names_people_and_places_but_nothing_of_its_own_books(
    viewed: Catalogue, needs: Needs
) -> None:
    printed = papers(viewed.access())
    texts = {name: text_of(made_paper, needs("pdftotext")) for name, made_paper in printed.items()}
    owner = texts[f"owner {iri('host', 'book')}"]
    assert "Ottilia SENTINELOWNER" in owner
    assert f"{MARK} boxLocation" in owner
    for name, text in texts.items():
        for field in NEVER_PRINTED:
            assert f"{MARK} {field}" not in text, name
        assert name.startswith("owner") or f"{MARK} boxLocation" not in text, name


def test_every_field_that_is_not_for_the_public_was_tried() -> None:
    tried = {
        name
        for one in shelf()
        for name in private_fields()
        if MARK in str(getattr(one, "".join(f"_{c.lower()}" if c.isupper() else c for c in name), ""))
    }
    assert tried == private_fields()
