"""Say what a record is in the words that search engines read."""

from __future__ import annotations

from guardbook import settings
from guardbook.actions.export_records import surroundings
from guardbook.catalogue.access import Access
from guardbook.exports.dataset.facts import reached_at
from guardbook.exports.schema_org import Said, in_schema_org


def tell_search_engines(access: Access, iri: str, asked_at: str, language: str = "en") -> Said | None:
    """Give a record as JSON-LD in schema.org's words, or None where these have no word for it.

    `asked_at` is the address it is asked at, ending in a slash. Raises NotFound and Gone.
    """
    page_address = f"{reached_at(asked_at)}{iri.removeprefix(settings.current().base)}.html"
    return in_schema_org(access.record(iri).record, surroundings(access, language), page_address)
