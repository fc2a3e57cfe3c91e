"""Tell what changed, in pages, for other catalogues and harvesters to follow."""

from __future__ import annotations

from typing import Any

from guardbook.catalogue.access import Access
from guardbook.errors import NotFound
from guardbook.exports.dataset import change_feed
from guardbook.exports.dataset.facts import reached_at
from guardbook.wording import ngettext


def all_changes(access: Access, asked_at: str) -> dict[str, Any]:
    """Give the feed as a whole; `asked_at` is the address it is asked at, ending in a slash."""
    return change_feed.collection(access.newest_activity(), reached_at(asked_at))


def page_of_changes(access: Access, number: int, asked_at: str) -> dict[str, Any]:
    """Give one page of the feed, the oldest being 1. Raises NotFound past the newest."""
    count = access.newest_activity()
    if not 1 <= number <= change_feed.pages_of(count):
        pages = change_feed.pages_of(count)
        message = ngettext(
            "The feed has {count} page, and no page {number}.",
            "The feed has {count} pages, and no page {number}.",
            pages,
        )
        raise NotFound(message=message.format(count=pages, number=number))
    first = (number - 1) * change_feed.ON_A_PAGE
    activities = access.activities(first, first + change_feed.ON_A_PAGE)
    return change_feed.page(number, count, activities, reached_at(asked_at))
