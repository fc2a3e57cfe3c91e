"""List the volumes and carriers that can be laid out, all or those of a keeper, as IIIF collections."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from guardbook import settings
from guardbook.actions.manifest_of import can_be_laid_out
from guardbook.catalogue.access import Access
from guardbook.errors import NotFound
from guardbook.exports.iiif.addresses import COLLECTED, MANIFEST, Addresses
from guardbook.records.agent import Agent, Institution

# as many as are looked through in about a second
PAGE = 25
ALL, VOLUMES, CARRIERS = "", "volumes", "carriers"
_NAMES = {VOLUMES: "Volumes", CARRIERS: "Books that were cut up, their leaves rejoined"}
_SUMMARIES = {
    VOLUMES: "Bindings, each face to scale with the pieces that sat there",
    CARRIERS: "Leaves that were cut up for bindings, with the known pieces where each was cut",
}


def collection_of(
    access: Access, name: str = ALL, page: int | None = None, *, at: str | None = None
) -> dict[str, Any]:
    """Give a collection: all, `volumes`, `carriers`, or that of a keeper by kind and identifier.

    A long one is broken into pages, which are collections too. `at` is where this instance is reached, ending
    in a slash (None: the base of its IRIs). What this viewer may not see is left out. Raises NotFound for a
    keeper that keeps no such thing, or a page that there is not.
    """
    return _Collections(access, Addresses(at or settings.current().base)).collection(name, page)


class _Collections:
    def __init__(self, access: Access, addresses: Addresses) -> None:
        # prezi3 takes up to a second to load: only those who ask for IIIF wait for it
        from guardbook.exports.iiif import collection  # noqa: PLC0415

        self._access, self._addresses, self._write = access, addresses, collection

    def collection(self, name: str, page: int | None) -> dict[str, Any]:
        """Give a collection, or a page of it."""
        if name == ALL and page is None:
            return self._top()
        iris = self._members(name)
        title, address = self._title(name), self._addresses.collection(name)
        summary = _SUMMARIES.get(name, f"Bindings and leaves that {title} keeps")
        pages = -(-len(iris) // PAGE)
        if page is None:
            items = self._pages(name, title, pages) if pages > 1 else self._manifests(iris)
            return self._write.collection(address, title, summary, items, self._listed(ALL))
        if not 1 <= page <= pages or pages == 1:
            raise NotFound(message=f"{title} has no page {page}.")
        part = iris[PAGE * (page - 1) : PAGE * page]
        own = self._addresses.collection(name, page)
        words = _page_words(title, page)
        return self._write.collection(own, words, summary, self._manifests(part), self._listed(name))

    def _top(self) -> dict[str, Any]:
        names = [name for name in (VOLUMES, CARRIERS) if self._members(name)]
        items = [self._listed(name) for name in (*names, *self._keepers())]
        name = settings.current().name
        summary = (
            "Bindings with the pieces that sat in them, and leaves with the pieces that were cut from them"
        )
        return self._write.collection(self._addresses.collection(), name, summary, items)

    def _members(self, name: str) -> list[str]:
        """Give the IRIs of what a collection is made of, whether it can be laid out or not."""
        kinds = {collected: kind for kind, collected in COLLECTED.items()}
        if name in kinds:
            return list(self._access.iris(kinds[name]))
        iri = settings.current().base + name
        if not isinstance(self._access.record(iri).record, Agent | Institution):
            raise NotFound(message=f"{name} keeps nothing.")
        kept = self._access.linked(iri, "keeper")
        found = [one for one in kept if one.rsplit("/", 2)[-2] in COLLECTED]
        if not found:
            raise NotFound(message=f"{self._title(name)} keeps no volume or carrier that can be shown.")
        return found

    def _keepers(self) -> list[str]:
        counts = [self._access.find(kind=kind, limit=0).facets.get("keeper", {}) for kind in COLLECTED]
        found = sorted({iri for counted in counts for iri in counted})
        return [iri.removeprefix(settings.current().base) for iri in found if self._access.has(iri)]

    def _title(self, name: str) -> str:
        if name in _NAMES:
            return _NAMES[name]
        if name == ALL:
            return settings.current().name
        return self._access.record(settings.current().base + name).record.display_title

    def _listed(self, name: str) -> Any:
        return self._write.Listed(
            kind="Collection", address=self._addresses.collection(name), name=self._title(name)
        )

    def _pages(self, name: str, title: str, pages: int) -> list[Any]:
        return [
            self._write.Listed(
                kind="Collection",
                address=self._addresses.collection(name, page),
                name=_page_words(title, page),
            )
            for page in range(1, pages + 1)
        ]

    def _manifests(self, iris: Sequence[str]) -> list[Any]:
        records = (self._access.record(iri).record for iri in iris if can_be_laid_out(self._access, iri))
        return [
            self._write.Listed(
                kind="Manifest",
                address=self._addresses.view(record, MANIFEST),
                name=record.display_title,
            )
            for record in records
        ]


def _page_words(title: str, page: int) -> str:
    return f"{title}, {PAGE * (page - 1) + 1} to {PAGE * page}"
