"""The pages of records for search engines.

Source: sitemaps.org protocol 0.9, from memory: at most 50,000 addresses and 50 MB in one file.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime
from xml.sax.saxutils import escape

ON_ONE_MAP = 50_000
_SPACE = "http://www.sitemaps.org/schemas/sitemap/0.9"


def site_map(pages: Iterable[tuple[str, datetime | None]]) -> Iterator[str]:
    """Write one map of pages, each with the moment it last changed."""
    return _written("urlset", "url", pages)


def index(maps: Iterable[tuple[str, datetime | None]]) -> Iterator[str]:
    """Write the list of the maps, where there are more than one."""
    return _written("sitemapindex", "sitemap", maps)


def _written(whole: str, part: str, addresses: Iterable[tuple[str, datetime | None]]) -> Iterator[str]:
    yield f'<?xml version="1.0" encoding="UTF-8"?>\n<{whole} xmlns="{_SPACE}">\n'
    for address, when in addresses:
        changed = f"<lastmod>{when.isoformat(timespec='seconds')}</lastmod>" if when else ""
        yield f"<{part}><loc>{escape(address)}</loc>{changed}</{part}>\n"
    yield f"</{whole}>\n"
