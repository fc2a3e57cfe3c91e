"""What a description is of: `msIdentifier` and `head`."""

from __future__ import annotations

from xml.etree.ElementTree import Element

from guardbook.exports.tei.elements import Child, datable, element, joined, some
from guardbook.exports.tei.telling import Teller
from guardbook.records.agent import Institution


def identified(teller: Teller) -> Element:
    """Give where it is kept and under which shelfmark, its name, and its address here.

    Source: the rule of TEI that an identifier begins with a place, a keeper or a name.
    """
    record = teller.record
    keeper = teller.around.record(getattr(record, "keeper", None))
    shelfmark = getattr(record, "shelfmark", None)
    place = keeper.place if isinstance(keeper, Institution) else None
    return element(
        "msIdentifier",
        some("settlement", place),
        some("repository", keeper.display_title if keeper else None),
        some("idno", shelfmark if keeper else None, type="shelfmark"),
        element("msName", record.display_title),
        None if keeper else _other("shelfmark", shelfmark),
        _other("address", record.id),
        _other("workshop-number", record.workshop_number),
    )


def _other(kind: str, text: str | None) -> Element | None:
    return element("altIdentifier", element("idno", text), type=kind) if text else None


def head(teller: Teller, place: str | None, date: str | None) -> Element:
    """Give the name, the place and the date in one line."""
    told: list[Child] = [
        element("title", teller.record.display_title),
        some("origPlace", place),
        some("origDate", date, **datable(date)),
    ]
    return element("head", *joined(told))
