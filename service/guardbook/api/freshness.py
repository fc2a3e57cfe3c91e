"""Which version an answer is of, and whether the asker has it already (RFC 9110, sections 8.8 and 13.1)."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from email.utils import format_datetime, parsedate_to_datetime

from starlette.requests import Request
from starlette.responses import Response

from guardbook.catalogue.access import Access, Kept, Viewer


@dataclass(frozen=True)
class Version:
    """The entity tag of an answer, and when what it tells of last changed, where that is known."""

    tag: str
    when: datetime | None

    @property
    def headers(self) -> dict[str, str]:
        """Give the headers that tell it."""
        changed = {"Last-Modified": _in_http(self.when)} if self.when else {}
        return {"ETag": self.tag, **changed}

    def is_known_to(self, request: Request) -> bool:
        """Tell whether the asker has it; the tag decides where both are sent."""
        if "if-none-match" in request.headers:
            return unchanged(request, self.tag)
        since = _moment(request.headers.get("if-modified-since"))
        return since is not None and self.when is not None and self.when.replace(microsecond=0) <= since

    def not_modified(self) -> Response:
        """Say that it has not changed."""
        return Response(status_code=304, headers=self.headers)


def of_record(access: Access, iri: str) -> Version:
    """Give the version of a record as this viewer sees it. Raises NotFound and Gone."""
    kept = access.record(iri)
    last = access.last_activity(iri)
    return Version(entity_tag(access, kept), last.when if last else kept.when)


def of_catalogue(access: Access) -> Version:
    """Give the version of all that this viewer may see."""
    newest = access.newest_activity()
    last = access.activities(newest - 1, newest)
    return Version(f'"{access.viewer.value}-{newest}"', last[-1].when if last else None)


def _in_http(when: datetime) -> str:
    return format_datetime(when.astimezone(UTC).replace(microsecond=0), usegmt=True)


def _moment(text: str | None) -> datetime | None:
    try:
        found = parsedate_to_datetime(text) if text else None
    except ValueError:
        return None
    # a date without a zone is no date of HTTP
    return found if found and found.tzinfo else None


def entity_tag(access: Access, kept: Kept) -> str:
    """Give the strong entity tag of a record: its revision.

    What the public sees of a record also hangs on others (a person who no longer wants to be named), so its
    tag changes with everything that changed for the public; it counts nothing that the public may not know.
    """
    if access.viewer is Viewer.WORKSHOP:
        return f'"{kept.revision}"'
    return f'"{kept.revision}-public-{access.newest_activity()}"'


def unchanged(request: Request, tag: str) -> bool:
    """Tell whether the asker already has this version (RFC 9110, section 13.1.2: weak comparison)."""
    known = [part.strip().removeprefix("W/") for part in request.headers.get("if-none-match", "").split(",")]
    return tag in known or "*" in known
