"""Elements of TEI in few words: what is None is left out, and so is an element with nothing in it."""

from __future__ import annotations

from collections.abc import Iterable
from xml.etree.ElementTree import Element, tostring

from guardbook.records.dates import Day, bounds

XML_ID = "{http://www.w3.org/XML/1998/namespace}id"
Child = Element | str | None


def element(name: str, *children: Child, **attributes: object) -> Element:
    """Make an element; an attribute that is a word of Python is written with `_` behind it."""
    made = Element(name)
    for key, value in attributes.items():
        if value is not None:
            made.set(key.rstrip("_"), str(value))
    for child in children:
        _append(made, child)
    return made


def some(name: str, *children: Child, **attributes: object) -> Element | None:
    """Make an element, or None where there is nothing to put into it."""
    if all(child is None for child in children):
        return None
    return element(name, *children, **attributes)


def joined(children: Iterable[Child], between: str = ", ") -> list[Child]:
    """Put a sign between the children that there are."""
    found: list[Child] = [child for child in children if child is not None]
    return [part for child in found for part in (between, child)][1:]


def _append(parent: Element, child: Child) -> None:
    if isinstance(child, Element):
        parent.append(child)
    elif child is not None and len(parent):
        parent[-1].tail = (parent[-1].tail or "") + child
    elif child is not None:
        parent.text = (parent.text or "") + child


def datable(text: str | None) -> dict[str, str]:
    """Give the attributes that bound an EDTF date, and say of them where they are only about or perhaps so.

    Years before the year 1 get none: the versions of XML Schema do not agree on what the year 0 is. Source:
    TEI P5, `att.dimensions/@precision` and `att.global.responsibility/@cert`; EDTF, level 1, qualification.
    """
    limits = _limits(text)
    if not text or not limits:
        return {}
    signs = {"precision": "~%", "cert": "?%"}
    return limits | {name: "low" for name, of in signs.items() if any(sign in text for sign in of)}


def surely_datable(text: str | None) -> dict[str, str]:
    """Give the attributes that bound a date that is neither only about nor perhaps so, else none.

    For what is not a date but has one within: such an element has no `@precision`, and its `@cert` would be
    about all that it says.
    """
    return {} if text and any(sign in text for sign in "~?%") else _limits(text)


def _limits(text: str | None) -> dict[str, str]:
    if not text:
        return {}
    found = bounds(text)
    if found.earliest and found.earliest == found.latest:
        return _day("when", found.earliest)
    return _day("notBefore", found.earliest) | _day("notAfter", found.latest)


def _day(name: str, day: Day | None) -> dict[str, str]:
    if day is None or day[0] < 1:
        return {}
    return {name: f"{day[0]:04}-{day[1]:02}-{day[2]:02}"}


def as_bytes(made: Element) -> bytes:
    """Write an element."""
    return tostring(made, encoding="unicode").encode()
