"""Links from one page of a list to the others (RFC 8288)."""

from __future__ import annotations

from starlette.datastructures import URL


def page_links(address: URL, *, limit: int, offset: int, total: int) -> str:
    """Give the `Link` header of a page: first, prev, next and last, those there are.

    Addresses are relative to the host, so that they hold whatever name it is reached by.
    """
    last = max(total - 1, 0) // limit * limit
    offsets = {"first": 0, "prev": max(offset - limit, 0), "next": offset + limit, "last": last}
    if offset == 0:
        del offsets["prev"]
    if offset + limit >= total:
        del offsets["next"]
    return ", ".join(f'<{_at(address, limit, start)}>; rel="{name}"' for name, start in offsets.items())


def _at(address: URL, limit: int, offset: int) -> str:
    there = address.include_query_params(limit=limit, offset=offset)
    return f"{there.path}?{there.query}"
