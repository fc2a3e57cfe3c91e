"""The feed of changes, oldest first, in pages that are never written anew.

Source: IIIF Change Discovery API 1.0 (https://iiif.io/api/discovery/1.0/), over ActivityStreams 2.0; from
memory. The objects are our records, which are no manifests; `seeAlso` leads to what is said of each.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from guardbook import settings
from guardbook.catalogue.activities import Activity

ON_A_PAGE = 100
CONTEXT = "http://iiif.io/api/discovery/1/context.json"
MEDIA_TYPE = f'application/ld+json;profile="{CONTEXT}"'


def pages_of(count: int) -> int:
    """Give how many pages so many activities fill; an empty feed has one, that is empty."""
    return max(1, -(-count // ON_A_PAGE))


def collection(count: int, at: str) -> dict[str, Any]:
    """Give the feed as a whole: how many activities there are, the oldest page and the newest."""
    licence = settings.current().licence
    return {
        "@context": CONTEXT,
        "id": f"{at}activity/all-changes",
        "type": "OrderedCollection",
        "totalItems": count,
        **({"rights": licence} if licence else {}),
        "seeAlso": [{"id": f"{at}dataset.jsonld", "type": "Dataset", "format": "application/ld+json"}],
        "first": _page_link(1, at),
        "last": _page_link(pages_of(count), at),
    }


def page(number: int, count: int, activities: Sequence[Activity], at: str) -> dict[str, Any]:
    """Give one page, by its number from 1, of a feed with so many activities in all."""
    return {
        "@context": CONTEXT,
        "id": _page_address(number, at),
        "type": "OrderedCollectionPage",
        "startIndex": (number - 1) * ON_A_PAGE,
        "partOf": {"id": f"{at}activity/all-changes", "type": "OrderedCollection"},
        **({"prev": _page_link(number - 1, at)} if number > 1 else {}),
        **({"next": _page_link(number + 1, at)} if number < pages_of(count) else {}),
        "orderedItems": [_item(activity, number, at) for activity in activities],
    }


def _item(activity: Activity, page_number: int, at: str) -> dict[str, Any]:
    thing: dict[str, Any] = {"id": activity.iri, "type": "Dataset"}
    if activity.activity != "Delete":
        address = f"{at}{activity.iri.removeprefix(settings.current().base)}.nq"
        thing["seeAlso"] = [{"id": address, "type": "Dataset", "format": "application/n-quads"}]
    return {
        "id": f"{_page_address(page_number, at)}#{activity.number}",
        "type": activity.activity,
        "object": thing,
        "endTime": activity.when.strftime("%Y-%m-%dT%H:%M:%SZ"),
    }


def _page_link(number: int, at: str) -> dict[str, str]:
    return {"id": _page_address(number, at), "type": "OrderedCollectionPage"}


def _page_address(number: int, at: str) -> str:
    return f"{at}activity/page-{number}"
