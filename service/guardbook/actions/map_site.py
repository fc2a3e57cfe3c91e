"""List the pages of records for search engines."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice

from guardbook import settings
from guardbook.catalogue.access import Access
from guardbook.errors import NotFound
from guardbook.exports.dataset.facts import reached_at
from guardbook.exports.dataset.site_map import ON_ONE_MAP, index, site_map
from guardbook.wording import ngettext


def map_site(access: Access, asked_at: str, number: int | None = None) -> Iterator[str]:
    """Write the map of all pages, or the list of the maps where they are many; with a number, one of these.

    `asked_at` is the address it is asked at, ending in a slash. Raises NotFound for a map that there is not.
    """
    pages = sorted(access.last_changes())
    at = reached_at(asked_at)
    maps = max(1, -(-len(pages) // ON_ONE_MAP))
    if number is None and maps > 1:
        return index((f"{at}sitemap-{one}.xml", None) for one in range(1, maps + 1))
    chosen = 1 if number is None else number
    if not 1 <= chosen <= maps:
        message = ngettext(
            "There is {count} map of the pages, and no map {number}.",
            "There are {count} maps of the pages, and no map {number}.",
            maps,
        )
        raise NotFound(message=message.format(count=maps, number=number))
    first = (chosen - 1) * ON_ONE_MAP
    base = settings.current().base
    some = islice(pages, first, first + ON_ONE_MAP)
    return site_map((f"{at}{iri.removeprefix(base)}.html", when) for iri, when in some)
