"""Reading another catalogue's feed of changes and its description of itself.

Sources: IIIF Change Discovery API 1.0, the algorithm for those that follow a feed (from memory); VoID.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any
from urllib.parse import urljoin

import pyoxigraph as ox

from guardbook.errors import SourceFailed
from guardbook.intake.remote import Remote, site_of

MOST_PAGES = 20_000
MOST_BYTES = 8 * 1024 * 1024
_JSON = "application/ld+json, application/json;q=0.9"
_VOID = "http://rdfs.org/ns/void#"
_DCT = "http://purl.org/dc/terms/"
# best first: the exact digits are kept by all of them
_DOCUMENTS = ("application/n-quads", "application/trig", "application/n-triples", "text/turtle")
# at least a whole host, so that nobody claims the addresses of all
_SPACE = re.compile(r"https?://[^\s/<>\"]+/(?:[^\s<>\"]*[/#])?")
_KINDS = ("Create", "Update", "Delete", "Add", "Remove")


@dataclass(frozen=True, kw_only=True)
class Change:
    """One activity of a feed: what happened to which thing, and where what is said of it now is found."""

    mark: str
    activity: str
    iri: str
    document: str
    when: str

    @property
    def is_gone(self) -> bool:
        """Say whether the thing is no longer there."""
        return self.activity in {"Delete", "Remove"}


@dataclass(frozen=True, kw_only=True)
class Feed:
    """A feed and what the catalogue says of itself: `space` begins the addresses of all its records.

    `sites` are those at which it may be read further: where it was asked for, and where that led to.
    """

    address: str
    sites: frozenset[str]
    last_page: str | None
    title: str
    space: str
    licence: str | None


def feed_address(address: str) -> str:
    """Give the address of a feed: of one that ends in a slash, that of the catalogue that is there.

    >>> feed_address("https://books.example/")
    'https://books.example/activity/all-changes'
    """
    return f"{address}activity/all-changes" if address.endswith("/") else address


def read_feed(remote: Remote, address: str) -> Feed:
    """Read the feed at an address (see `feed_address`). Raises SourceFailed where there is none."""
    asked = feed_address(address)
    found, at = _fetch_json(remote, asked, None)
    if found.get("type") not in {"OrderedCollection", "OrderedCollectionPage"}:
        raise SourceFailed(
            message=f"{asked} is no feed of changes (an OrderedCollection), but {found.get('type')!r}."
        )
    last = asked if found["type"] == "OrderedCollectionPage" else _link(found.get("last"), at)
    sites = frozenset((site_of(asked), site_of(at)))
    title, space, licence = _description(remote, found, at, sites)
    return Feed(address=asked, sites=sites, last_page=last, title=title, space=space, licence=licence)


def _fetch_json(remote: Remote, address: str, sites: frozenset[str] | None) -> tuple[dict[str, Any], str]:
    """Fetch a JSON object; give it and where it was found in the end. Raises SourceFailed."""
    fetched = remote.get(address, accept=_JSON, most_bytes=MOST_BYTES, sites=sites)
    if fetched.status != 200:
        wait = f", and asks to come back after {fetched.retry_after}" if fetched.retry_after else ""
        raise SourceFailed(message=f"{address} answers {fetched.status}{wait}.")
    try:
        found = json.loads(fetched.body)
    except ValueError as error:
        raise SourceFailed(message=f"{address} is not JSON: {error}.") from error
    except RecursionError as error:
        raise SourceFailed(message=f"{address} is nested too deeply.") from error
    if not isinstance(found, dict):
        raise SourceFailed(message=f"{address} is no JSON object.")
    return found, fetched.address


def _description(
    remote: Remote, feed: dict[str, Any], at: str, sites: frozenset[str]
) -> tuple[str, str, str | None]:
    """Give title, address space and licence, from the description that the feed leads to, if it does."""
    links = [_link(one, at) for one in _many(feed.get("seeAlso"))]
    rights = feed.get("rights") if isinstance(feed.get("rights"), str) else None
    if not links or links[0] is None:
        return site_of(at), f"{site_of(at)}/", rights
    accept = "application/ld+json, text/turtle;q=0.9"
    fetched = remote.get(links[0], accept=accept, most_bytes=MOST_BYTES, sites=sites)
    form = ox.RdfFormat.from_media_type(fetched.media_type)
    try:
        quads = list(ox.parse(input=fetched.body, format=form)) if form and fetched.status == 200 else []
    except (SyntaxError, ValueError) as error:
        raise SourceFailed(message=f"{links[0]}, the description, cannot be read: {error}.") from error
    dataset = next((quad.subject for quad in quads if quad.object == ox.NamedNode(f"{_VOID}Dataset")), None)
    said = {
        quad.predicate.value: quad.object.value
        for quad in quads
        if quad.subject == dataset and isinstance(quad.object, (ox.NamedNode, ox.Literal))
    }
    space = said.get(f"{_VOID}uriSpace", f"{site_of(at)}/")
    if not _SPACE.fullmatch(space):
        raise SourceFailed(
            message=f"{links[0]} says that addresses begin with {space!r}: that is no beginning."
        )
    return said.get(f"{_DCT}title", site_of(at)), space, said.get(f"{_DCT}license", rights)


def later_pages(remote: Remote, feed: Feed, mark_id: str, mark_time: str) -> Iterator[list[Change]]:
    """Give the changes after a mark, page by page, the oldest first.

    Pages are read from the newest back to the mark, then handed on in order. Raises SourceFailed.
    """
    pages: list[list[Change]] = []
    address, seen = feed.last_page, set[str]()
    while address and address not in seen:
        if len(seen) >= MOST_PAGES:
            raise SourceFailed(message=f"{feed.address} has more than {MOST_PAGES} pages.")
        seen.add(address)
        page, at = _fetch_json(remote, address, feed.sites)
        changes = [change for item in _many(page.get("orderedItems")) if (change := _change(item, at))]
        later, is_reached = _after(changes, mark_id, mark_time)
        pages.append(later)
        address = None if is_reached else _link(page.get("prev"), at)
    yield from (page for page in reversed(pages) if page)


def _after(changes: list[Change], mark_id: str, mark_time: str) -> tuple[list[Change], bool]:
    """Give what comes after the mark, and whether the mark is on this page or before it."""
    if not mark_id:
        return changes, False
    for at, change in enumerate(changes):
        if change.mark == mark_id:
            return changes[at + 1 :], True
    # a feed that was begun anew has lost the mark; what is older than it is known all the same
    later = [change for change in changes if change.when >= mark_time]
    return later, len(later) < len(changes)


def _change(item: Any, at: str) -> Change | None:
    """Read an activity; one of another kind, or without its thing, is passed over."""
    if not isinstance(item, dict) or item.get("type") not in _KINDS:
        return None
    thing = item.get("object")
    iri = thing.get("id") if isinstance(thing, dict) else thing
    if not isinstance(iri, str) or not isinstance(item.get("endTime"), str):
        return None
    mark = item["id"] if isinstance(item.get("id"), str) else f"{item['endTime']} {item['type']} {iri}"
    document = _document(thing if isinstance(thing, dict) else {}, at) or iri
    return Change(mark=mark, activity=item["type"], iri=iri, document=document, when=item["endTime"])


def _document(thing: dict[str, Any], at: str) -> str | None:
    links = {
        one.get("format"): _link(one, at) for one in _many(thing.get("seeAlso")) if isinstance(one, dict)
    }
    return next((links[form] for form in _DOCUMENTS if links.get(form)), None)


def _many(value: Any) -> list[Any]:
    return value if isinstance(value, list) else [] if value is None else [value]


def _link(value: Any, at: str) -> str | None:
    address = value.get("id") if isinstance(value, dict) else value
    try:
        return urljoin(at, address) if isinstance(address, str) and address else None
    except ValueError:
        return None
