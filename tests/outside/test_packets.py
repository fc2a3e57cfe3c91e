"""Packets read by software that others wrote.

Sources: `bagit` 1.9.0 (the Library of Congress's reader of BagIt, RFC 8493), PyPI `rocrate` (RO-Crate), and
rdflib, which reads the records as TriG and JSON-LD.
"""

from __future__ import annotations

import importlib.metadata
import importlib.util
import json
import zipfile
from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
from rdflib import Dataset
from rocrate.rocrate import ROCrate

from guardbook.actions.load_demo import load_demo
from guardbook.catalogue.access import Viewer
from guardbook.catalogue.catalogue import open_catalogue
from tests.actions.packing import packed


@pytest.fixture(scope="module", params=Viewer)
def unpacked(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Unpack the packet of the whole scenario, as the workshop and as the public has it."""
    folder = tmp_path_factory.mktemp("packet")
    with open_catalogue(None) as catalogue:
        load_demo(catalogue.access(), if_empty=True)
        with zipfile.ZipFile(BytesIO(packed(catalogue.access(request.param)))) as archive:
            archive.extractall(folder)  # an archive of our own
    return folder / "guardbook-packet"


@pytest.fixture
def bagit(needs: Callable[[str], Path], monkeypatch: pytest.MonkeyPatch) -> Any:
    # it asks for its own version when it is loaded, and is read from its archive without being installed
    monkeypatch.setattr(importlib.metadata, "version", lambda _name: "1.9.0")
    return _module(needs("bagit"))


def _module(path: Path) -> ModuleType:
    told = importlib.util.spec_from_file_location(path.stem, path)
    assert told
    assert told.loader
    module = importlib.util.module_from_spec(told)
    told.loader.exec_module(module)
    return module


def test_a_reader_of_bagit_finds_the_packet_valid(unpacked: Path, bagit: Any) -> None:
    bag = bagit.Bag(str(unpacked))
    bag.validate()
    assert bag.version_info == (1, 0)
    assert bag.info["Source-Organization"] == "Guardbook"
    assert {path.relative_to(unpacked).as_posix() for path in (unpacked / "data").rglob("*.*")} == set(
        bag.payload_entries()
    )


def test_a_reader_of_bagit_finds_that_a_file_was_tampered_with(unpacked: Path, bagit: Any) -> None:
    file = unpacked / "data" / "citations.txt"
    whole = file.read_bytes()
    file.write_bytes(whole.replace(b"revision 1", b"revision 2", 1))
    try:
        with pytest.raises(bagit.BagValidationError, match=r"citations\.txt"):
            bagit.Bag(str(unpacked)).validate()
    finally:
        file.write_bytes(whole)


def test_a_reader_of_ro_crate_finds_every_file(unpacked: Path) -> None:
    crate = ROCrate(unpacked / "data")
    metadata = json.loads((unpacked / "data" / "ro-crate-metadata.json").read_text(encoding="utf-8"))
    assert metadata["@graph"][0]["conformsTo"] == {"@id": "https://w3id.org/ro/crate/1.2"}
    listed = {entity.id for entity in crate.data_entities}
    there = {path.relative_to(unpacked / "data").as_posix() for path in (unpacked / "data").rglob("*.*")}
    assert listed == there - {"ro-crate-metadata.json"}
    assert crate.root_dataset["license"].id == "LICENCE.txt"
    assert all(entity["encodingFormat"] and entity["sha256"] for entity in crate.data_entities)


# rdflib's own parsers use what rdflib itself will leave off
@pytest.mark.filterwarnings("ignore:Dataset:DeprecationWarning")
@pytest.mark.filterwarnings("ignore:ConjunctiveGraph:DeprecationWarning")
def test_the_records_are_the_same_as_trig_and_as_json_ld(unpacked: Path) -> None:
    found = []
    for ending, form in (("trig", "trig"), ("jsonld", "json-ld")):
        told = Dataset()
        told.parse(data=(unpacked / "data" / "records" / f"records.{ending}").read_bytes(), format=form)
        found.append({quad[:3] for quad in told.quads()})
    assert found[0] == found[1]
    assert len(found[0]) > 1000
