"""A label says whose it is, what it is and where it sat, and leads to the record."""

from __future__ import annotations

import io

import pytest

from guardbook.actions.export_records import export_records
from guardbook.actions.make_label import labels_of, make_labels
from guardbook.catalogue.access import Access, Viewer
from guardbook.catalogue.catalogue import Catalogue
from guardbook.errors import WrongUse
from guardbook.wording import speaking
from tests.binding.bench import at, piece, placing, separation, volume
from tests.catalogue.shelf import save

STRIP = "fragment/B89RYC-6"


def test_a_label_names_the_piece_what_it_is_and_where_it_sat(demo: Access) -> None:
    (label,) = labels_of(demo, [STRIP])
    assert label.identifier == "B89RYC-6"
    assert label.number == "Q21-008/1"
    assert label.title == "Strip of a psalter, spine panel 1"
    assert label.where.replace("\u00a0", " ") == (
        "Panel spine lining · spine of the text block, panel 1 · "
        "Decretals with commentary, printed 1541 (Sal. II 40)"
    )
    assert label.what.startswith("Strip\u00a0· parchment")
    assert label.iri.endswith("/fragment/B89RYC-6")


def test_a_label_speaks_the_language_of_the_workshop(demo: Access) -> None:
    with speaking("ca"):
        (label,) = labels_of(demo, [STRIP])
    assert "pergamí" in label.what


def test_the_box_of_a_volume_can_have_a_label_too(demo: Access) -> None:
    (label,) = labels_of(demo, ["Q21-008"])
    assert label.title == "Decretals with commentary, printed 1541"


def test_a_piece_named_twice_gets_one_label(demo: Access) -> None:
    assert len(labels_of(demo, [STRIP, "B89RYC-6", "Q21-008/1"])) == 1


def test_a_piece_of_no_known_place_says_so(workshop: Access) -> None:
    save(workshop, piece("Stray"))
    (iri,) = workshop.iris("fragment")
    (label,) = labels_of(workshop, [iri])
    assert label.where == "Where it sat is not recorded"


def test_a_piece_put_back_is_labelled_with_its_first_place(workshop: Access) -> None:
    put = placing("put", "Strip", "Book", 1, at("0", "10", panel=2), function="sewing-guard")
    off = separation("off", "Strip", "Book", 2, undoes=put.id)
    back = placing("back", "Strip", "Book", 3, undoes=off.id, returnKind="put-back-in-place")
    save(workshop, volume("Book", "1510", None, None), piece("Strip"), put, off, back)
    (label,) = labels_of(workshop, [next(workshop.iris("fragment"))])
    assert label.where.startswith("Sewing guard")
    assert "panel 2" in label.where


def test_a_label_for_the_public_names_no_volume_that_is_not_for_it(catalogue: Catalogue) -> None:
    put = placing("put", "Strip", "Sealed book", 1, at("0", "10"), function="sewing-guard")
    save(catalogue.access(), volume("Sealed book", "1510", visibility="workshop"), piece("Strip"), put)
    public = catalogue.access(Viewer.PUBLIC)
    (label,) = labels_of(public, [next(public.iris("fragment"))])
    assert "Sealed" not in label.where


def test_a_long_title_is_shortened_not_cut_off(workshop: Access) -> None:
    save(workshop, piece("x" * 500))
    (label,) = labels_of(workshop, [next(workshop.iris("fragment"))])
    assert label.title.endswith("…")
    assert make_labels(workshop, [label.iri], width=50.0, height=18.0).startswith(b"%PDF-")


def test_what_cannot_be_labelled_is_told(demo: Access) -> None:
    image = next(demo.iris("image"))
    with pytest.raises(WrongUse, match="neither"):
        make_labels(demo, [STRIP, image])
    with pytest.raises(WrongUse, match="not 0"):
        make_labels(demo, [])
    with pytest.raises(WrongUse, match="en, ca"):
        make_labels(demo, [STRIP], in_language="tlh")


def test_labels_are_one_of_the_formats_of_export(demo: Access) -> None:
    output = io.BytesIO()
    written = export_records(demo, [STRIP, "Q21-008"], "labels", output, language="de")
    assert written.media_type == "application/pdf"
    assert output.getvalue().startswith(b"%PDF-")
