"""About the description itself, the rights, and the pictures: `additional`."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any
from xml.etree.ElementTree import Element

from guardbook import settings
from guardbook.exports.tei.elements import Child, element, some
from guardbook.exports.tei.telling import Teller
from guardbook.records.base import Record
from guardbook.records.image import Image


def additional(teller: Teller, custody: Element | None, *, told: Collection[str]) -> Element:
    """Give where the record is and its revision, the rights, what was not `told` yet, and the pictures."""
    rest = teller.glossed(teller.record, without=[*told, *RIGHTS, *NAMES])
    return element(
        "additional",
        element(
            "adminInfo",
            _record_history(teller),
            _availability(teller.record),
            custody,
            element("note", rest) if rest is not None else None,
        ),
        _surrogates(teller),
    )


# what other parts of a description tell of every record
RIGHTS = ("rightsHolder", "licence")
NAMES = ("title", "workshopNumber", "keeper", "shelfmark")


def _record_history(teller: Teller) -> Element:
    address = element("ref", teller.record.id, target=teller.record.id)
    source = element("source", element("p", f"{settings.current().name}: ", address))
    kept = teller.around.kept(teller.record.id)
    if kept is None:
        return element("recordHist", source)
    change = element(
        "change", f"Revision {kept.revision}", when=kept.when.date().isoformat(), n=kept.revision
    )
    return element("recordHist", source, change)


def _availability(record: Any) -> Element | None:
    holder = getattr(record, "rights_holder", None)
    licence = getattr(record, "licence", None)
    told: list[Child] = [
        element("licence", licence, target=licence) if licence else None,
        None if licence else some("p", holder),
    ]
    if licence and holder:
        told = [element("licence", f"{holder}: {licence}", target=licence)]
    return some("availability", *told)


def _surrogates(teller: Teller) -> Element | None:
    images = [teller.around.record(iri) for iri in teller.around.linked(teller.record.id, "depicts")]
    return some("surrogates", *(_picture(teller, image) for image in images if isinstance(image, Image)))


def _picture(teller: Teller, image: Record) -> Element:
    about = Teller(image, teller.around).glossed(image, without=("title", "depicts", "tiePoints"))
    note = element("note", about) if about is not None else None
    return element("bibl", element("ref", image.display_title, target=image.id), note)
