"""What the TEI of a piece, a volume and a carrier says, and that it says all of it."""

from __future__ import annotations

import io
from collections.abc import Iterator
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lxml.etree import _Element as Element
from lxml.etree import fromstring

from guardbook.actions.export_records import export_records
from guardbook.catalogue.access import Viewer
from guardbook.catalogue.catalogue import Catalogue
from guardbook.errors import WrongUse
from guardbook.exports.surroundings import Surroundings
from guardbook.exports.tei import descriptions
from guardbook.exports.tei.document import write_tei
from guardbook.exports.tei.elements import XML_ID, datable
from guardbook.records.base import Model, Part, Record
from guardbook.records.fields import fields_of
from guardbook.records.values import Datatype
from tests.catalogue.shelf import made, placing, save, strip, volume
from tests.records.strategies import records

TEI = {"t": "http://www.tei-c.org/ns/1.0"}


def tei(*told: Record, language: str = "en") -> Element:
    output = io.BytesIO()
    write_tei(told, output, Surroundings(language=language))
    return fromstring(output.getvalue())


def exported(catalogue: Catalogue, viewer: Viewer = Viewer.WORKSHOP, *names: str) -> Element:
    output = io.BytesIO()
    export_records(catalogue.access(viewer), names or None, "tei", output)
    return fromstring(output.getvalue())


def texts(root: Element, path: str) -> list[str]:
    return ["".join(found.itertext()) for found in root.iterfind(path, TEI)]


def told_values(model: Model) -> Iterator[str]:
    """Give every literal of the public fields of a record and its parts, as it is written."""
    for field in fields_of(type(model)):
        value = getattr(model, field.name)
        for item in value if field.many else () if value is None else (value,):
            if isinstance(item, Part):
                yield from told_values(item)
            elif (
                field.visible == "public"
                and isinstance(field.marker, Datatype)
                and not isinstance(item, bool)
            ):
                yield format(item, "f") if isinstance(item, Decimal) else str(item)


def _written(value: object) -> str:
    return format(value, "f") if isinstance(value, Decimal) else str(value)


@given(record=st.one_of(*(records(kind) for kind in sorted(descriptions.KINDS))))
@settings(max_examples=40)
def test_nothing_public_that_a_record_says_is_lost(record: Record) -> None:
    root = tei(record)
    said = "".join(root.itertext()) + " ".join(value for one in root.iter() for value in one.attrib.values())
    assert [value for value in told_values(record) if value.replace("\r", "\n") not in said] == []


def test_a_piece_has_its_size_its_material_and_its_lines() -> None:
    root = tei(
        strip(height="45.50", width="310", lines=12, script="gothic-textualis", firstWords="Arma virumque")
    )
    height = root.find(".//t:dimensions[@type='piece']/t:height", TEI)
    assert height is not None
    assert (height.get("quantity"), texts(root, ".//t:material")) == ("45.50", ["parchment"])
    assert texts(root, ".//t:incipit") == ["Arma virumque"]
    assert root.find(".//t:layout[@writtenLines='12']", TEI) is not None


def test_labels_are_in_the_chosen_language() -> None:
    root = tei(strip(), language="ca")
    assert texts(root, ".//t:material") == ["pergam\u00ed"]
    assert root.get("{http://www.w3.org/XML/1998/namespace}lang") == "ca"


@pytest.mark.parametrize(
    ("edtf", "bounds"),
    [
        ("1712-03-05", {"when": "1712-03-05"}),
        ("156X", {"notBefore": "1560-01-01", "notAfter": "1569-12-31"}),
        ("../1600", {"notAfter": "1600-12-31"}),
        ("1543~", {"notBefore": "1543-01-01", "notAfter": "1543-12-31", "precision": "low"}),
        ("1712-03-05?", {"when": "1712-03-05", "cert": "low"}),
        ("12XX%", {"notBefore": "1200-01-01", "notAfter": "1299-12-31", "precision": "low", "cert": "low"}),
        ("1830~/1870", {"notBefore": "1830-01-01", "notAfter": "1870-12-31", "precision": "low"}),
        ("-0044~", {}),
        ("-0044", {}),
        (None, {}),
    ],
)
def test_a_date_is_bounded_as_far_as_it_is_known(edtf: str | None, bounds: dict[str, str]) -> None:
    assert datable(edtf) == bounds


def test_an_event_of_about_a_year_is_given_no_hard_limits_beside_its_date(catalogue: Catalogue) -> None:
    save(catalogue.access(), strip(), volume(), placing(strip(), volume(), when="1543~"))
    (event,) = exported(catalogue, Viewer.WORKSHOP, strip().id).iterfind(".//t:provenance", TEI)
    (date,) = event.iterfind(".//t:date", TEI)
    assert (date.text, date.get("precision"), date.get("notBefore")) == ("1543~", "low", "1543-01-01")
    assert not {"notBefore", "notAfter", "when"} & set(event.attrib)


def test_a_volume_names_the_pieces_in_it_and_a_piece_the_volume(catalogue: Catalogue) -> None:
    event = placing(strip(), volume(), function="spine-lining-panel", when="1571")
    save(catalogue.access(), strip(), volume(), event)
    root = exported(catalogue)
    (piece,) = (one for one in root.iterfind(".//t:msDesc[@type='fragment']", TEI))
    (host,) = (one for one in root.iterfind(".//t:msDesc[@type='host']", TEI))
    assert "A volume" in texts(piece, "t:history/t:provenance[@type='placing']")[0]
    assert "A strip" in texts(host, "t:physDesc/t:accMat")[0]


def test_a_former_whole_holds_the_pieces_that_are_known_of_it(catalogue: Catalogue) -> None:
    whole = made("carrier", "psalter", title="A psalter")
    one, other = (
        strip(name, carrierPlaces=[{"carrier": whole.id, "carrierLeaf": leaf}])
        for name, leaf in (("one", "leaf 3"), ("other", "leaf 4"))
    )
    save(catalogue.access(), whole, one, other, strip("third"))
    root = exported(catalogue, Viewer.WORKSHOP, whole.id)
    frags = texts(root, ".//t:msFrag")
    assert len(frags) == 2
    assert sorted("leaf 3" in text for text in frags) == [False, True]


def test_an_owner_who_wants_no_name_and_private_words_stand_nowhere(catalogue: Catalogue) -> None:
    owner = made("agent", "owner", name="Brun Okell", mayBeNamed=False)
    piece = strip(owner=owner.id, keeper=owner.id, boxLocation="safe 4", valuation="90", privateNote="hush")
    save(catalogue.access(), owner, piece, placing(piece, volume(), visibility="workshop"), volume())
    workshop = "".join(exported(catalogue).itertext())
    public = "".join(exported(catalogue, Viewer.PUBLIC).itertext())
    assert "Okell" in workshop
    assert not any(word in workshop for word in ("safe 4", "hush"))
    assert "A strip" in public
    assert "Okell" not in public
    assert exported(catalogue, Viewer.PUBLIC).find(".//{*}provenance[@type='placing']") is None


def test_a_record_named_twice_is_described_once(catalogue: Catalogue) -> None:
    save(catalogue.access(), strip())
    root = exported(catalogue, Viewer.WORKSHOP, strip().id, strip().identifier)
    assert [one.get(XML_ID) for one in root.iterfind(".//t:msDesc", TEI)] == [strip().short.replace("/", "-")]


def test_an_event_alone_is_no_manuscript(catalogue: Catalogue) -> None:
    event = placing(strip(), volume())
    save(catalogue.access(), strip(), volume(), event)
    with pytest.raises(WrongUse, match="carrier or fragment or host"):
        exported(catalogue, Viewer.WORKSHOP, event.id)


@pytest.mark.parametrize(
    ("kind", "told"),
    [("fragment", descriptions.PIECE), ("host", descriptions.VOLUME), ("carrier", descriptions.CARRIER)],
)
def test_what_is_told_in_its_own_element_is_a_field(kind: str, told: Any) -> None:
    names = {field.json_name for field in fields_of(type(made(kind, "any")))}
    assert set(told) <= names
