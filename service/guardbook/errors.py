"""Every error of Guardbook: it holds data, and speaks to the person.

A fault says where it is, what was found, what was expected and what to do. All faults of an input are
collected and raised once. The terminal, the pages and the API (RFC 9457 problem details) render the same
error, so the wording lives here and nowhere else. It is said in the language spoken where it is shown.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any, ClassVar

from guardbook.wording import _, said_later


@dataclass(frozen=True, kw_only=True)
class Fault:
    """One thing wrong in an input.

    `where` is the path to it (`positions[2].x`, `row 7, column Height`, `line 3, column 14`), `doubt` is
    true when the value may be right and the person is asked to confirm it; with `two_readings`, `expected`
    is the one that was taken.
    """

    where: str
    found: str
    expected: str
    mend: str = ""
    doubt: bool = False
    two_readings: bool = False

    def __str__(self) -> str:
        said = (
            _("Please confirm: expected {expected}, found {found} in {where}.")
            if self.doubt
            else _("Expected {expected}, found {found} in {where}.")
        )
        line = said.format(expected=self.expected, found=self.found, where=self.where)
        return f"{line} {self.mend}" if self.mend else line

    def as_json(self) -> dict[str, Any]:
        """Give the fault as plain data for JSON."""
        return {
            "where": self.where,
            "found": self.found,
            "expected": self.expected,
            "mend": self.mend,
            "doubt": self.doubt,
            "message": str(self),
        }


@dataclass(kw_only=True)
class GuardbookError(Exception):
    """The root of all errors that are shown to a person."""

    message: str
    faults: tuple[Fault, ...] = ()
    details: dict[str, Any] = field(default_factory=dict)

    slug: ClassVar[str] = "error"
    title: ClassVar[str] = said_later("Something went wrong")
    status: ClassVar[int] = 500
    exit_code: ClassVar[int] = 2

    def __str__(self) -> str:
        return "\n".join([self.message, *(f"  - {fault}" for fault in self.faults)])

    def problem(self) -> dict[str, Any]:
        """Give the error as RFC 9457 problem details."""
        return {
            "type": f"https://w3id.org/guardbook/problems/{self.slug}",
            "title": _(self.title),
            "status": self.status,
            "detail": self.message,
            "faults": [fault.as_json() for fault in self.faults],
            **self.details,
        }


class InvalidRecord(GuardbookError):
    """A record, or a batch of them, that cannot be kept as it stands."""

    slug = "invalid-record"
    title = said_later("The record cannot be kept as it stands")
    status = 422


class Doubtful(GuardbookError):
    """Nothing is wrong for certain, but the person is asked before it is kept."""

    slug = "doubtful"
    title = said_later("Please confirm before this is kept")
    status = 422
    exit_code = 1


class UnreadableFile(GuardbookError):
    """A file that could not be read as what it claims to be."""

    slug = "unreadable-file"
    title = said_later("The file could not be read")
    status = 400


class WrongUse(GuardbookError):
    """The request itself makes no sense: an unknown format, a missing word."""

    slug = "wrong-use"
    title = said_later("The request could not be understood")
    status = 400


class NothingToDraw(WrongUse):
    """Of this volume no plane is recorded, and no piece has a place."""


class NotFound(GuardbookError):
    """No record answers to this identifier, or the viewer may not know of it."""

    slug = "not-found"
    title = said_later("No such record")
    status = 404


class Gone(GuardbookError):
    """The record was taken out; `details` says when, by whom and why."""

    slug = "gone"
    title = said_later("The record was taken out of the catalogue")
    status = 410


class MethodNotAllowed(GuardbookError):
    """The address is there, but does not answer this method."""

    slug = "method-not-allowed"
    title = said_later("This cannot be done at this address")
    status = 405


class NotAcceptable(GuardbookError):
    """None of the forms asked for can be given; the message lists those there are."""

    slug = "not-acceptable"
    title = said_later("It cannot be given in this form")
    status = 406


class TooLarge(GuardbookError):
    """A request longer than the service takes in one piece."""

    slug = "too-large"
    title = said_later("This is too large")
    status = 413


class UnsupportedMedia(GuardbookError):
    """A body of a media type that the address does not take."""

    slug = "unsupported-media"
    title = said_later("This form of data is not taken here")
    status = 415


class StaleRevision(GuardbookError):
    """Somebody saved the record in between; `details` holds both versions."""

    slug = "stale-revision"
    title = said_later("The record has changed since you opened it")
    status = 412


class RevisionRequired(GuardbookError):
    """A save of a known record must say which revision it started from."""

    slug = "revision-required"
    title = said_later("Say which revision you started from")
    status = 428


class NotAllowed(GuardbookError):
    """The viewer may not do this."""

    slug = "not-allowed"
    title = said_later("This is for the workshop only")
    status = 403


class QueryRefused(GuardbookError):
    """A question the graph will not answer (a remote call, an update, a syntax error)."""

    slug = "query-refused"
    title = said_later("The question was refused")
    status = 400


class QueryStopped(GuardbookError):
    """A question was stopped at its limit of time, memory or size.

    SPARQL 1.1 Protocol, section 2.1.6: 500 where a query that may be right is not carried out.
    """

    slug = "query-stopped"
    title = said_later("The query was stopped")
    status = 500


class SourceFailed(GuardbookError):
    """Another catalogue could not be read; what was taken from it before is kept."""

    slug = "source-failed"
    title = said_later("The other catalogue could not be read")
    status = 502


class StorageFailed(GuardbookError):
    """The disk is full or cannot be written; nothing was kept, nothing is lost."""

    slug = "storage-failed"
    title = said_later("Nothing was saved: the disk did not take it")
    status = 507


class Busy(GuardbookError):
    """Another process owns the catalogue."""

    slug = "busy"
    title = said_later("The catalogue is in use")
    status = 503


class BrokenShapes(GuardbookError):
    """A shapes or terms file that cannot be used; the file is named."""

    slug = "broken-shapes"
    title = said_later("A shapes file cannot be used")
    status = 500


def raise_faults(faults: Iterable[Fault], message: str, *, sure: bool = False) -> None:
    """Raise all faults at once, if there are any.

    Certain faults raise `InvalidRecord`. Where only doubts are left they raise `Doubtful`, unless the
    person has said to be `sure`.
    """
    found = tuple(faults)
    if any(not fault.doubt for fault in found):
        raise InvalidRecord(message=message, faults=found)
    if found and not sure:
        raise Doubtful(message=message, faults=found)
