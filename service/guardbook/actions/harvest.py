"""Follow another catalogue: take what came, changed and went there since the last time, and no more."""

from __future__ import annotations

from dataclasses import dataclass, replace

from guardbook.catalogue.access import Access
from guardbook.catalogue.harvested.elsewhere import Elsewhere
from guardbook.catalogue.harvested.foreign import read_foreign
from guardbook.catalogue.harvested.store import Origin, Taken
from guardbook.errors import Fault, GuardbookError, InvalidRecord, SourceFailed, UnreadableFile
from guardbook.intake.feed import MOST_BYTES, Change, Feed, feed_address, later_pages, read_feed
from guardbook.intake.remote import Remote

_ACCEPT = "application/n-quads, application/trig;q=0.9, text/turtle;q=0.8"
_NO_MORE = frozenset((404, 410))
_COME_BACK = frozenset((408, 425, 429))


@dataclass(frozen=True, kw_only=True)
class Harvested:
    """What came of following a catalogue; `refused` says of each record that was not taken why."""

    feed: str
    title: str
    licence: str | None
    taken: int
    gone: int
    unchanged: int
    refused: tuple[str, ...]

    def words(self) -> str:
        """Tell it."""
        licence = f", licence {self.licence}" if self.licence else ", which states no licence"
        lines = [f"{self.title} ({self.feed}){licence}:"]
        lines.append(f"{self.taken} records taken, {self.gone} gone, {self.unchanged} as they were.")
        lines += [f"Not taken: {reason}" for reason in self.refused]
        return "\n".join(lines)


def harvest(
    access: Access,
    address: str,
    *,
    show_public: bool | None = None,
    remote: Remote | None = None,
) -> Harvested:
    """Follow the feed of changes at an address, or of the catalogue at an address that ends in a slash.

    What it tells is kept apart, page by page, so that a reading that is cut short goes on where it ended.
    With `show_public` the public is shown its records too (None: as it was, at first not). Raises
    SourceFailed where it cannot be read, WrongUse where its records have addresses of ours, NotAllowed for
    the public.
    """
    asking = remote or Remote()
    known = _followed_already(access, address)
    try:
        feed = read_feed(asking, address)
        shown = known is not None and known.shown if show_public is None else show_public
        origin = access.elsewhere.follow(
            feed.address, title=feed.title, space=feed.space, licence=feed.licence, shown=shown
        )
        done = _Following(access.elsewhere, asking, origin, feed).run()
        access.elsewhere.ended(origin, "")
    except GuardbookError as error:
        if begun := _followed_already(access, address):
            access.elsewhere.ended(begun, error.message)
        raise
    else:
        return done
    finally:
        asking.close()


def _followed_already(access: Access, address: str) -> Origin | None:
    feed = feed_address(address)
    return next((one for one in access.elsewhere.origins() if one.feed == feed), None)


@dataclass(frozen=True)
class _Following:
    """Follows one catalogue once."""

    elsewhere: Elsewhere
    remote: Remote
    origin: Origin
    feed: Feed

    def run(self) -> Harvested:
        """Follow it, and say what came of it."""
        taken = [*self._tried_again(), *self._later()]
        good = [one for one in taken if not one.problem]
        return Harvested(
            feed=self.feed.address,
            title=self.feed.title,
            licence=self.feed.licence,
            taken=sum(one.record is not None for one in good),
            gone=sum(one.record is None and not one.is_same for one in good),
            unchanged=sum(one.is_same for one in good),
            refused=tuple(one.problem for one in taken if one.problem),
        )

    def _tried_again(self) -> list[Taken]:
        """Try again what could not be taken the last time."""
        before = self.elsewhere.damaged(self.origin)
        again = [self._taken(one.iri, one.source, one.changed) for one in before]
        self.elsewhere.keep(self.origin, again, None)
        return again

    def _later(self) -> list[Taken]:
        """Take what the feed tells after the mark; of each record only what was last."""
        pages = list(later_pages(self.remote, self.feed, self.origin.mark_id, self.origin.mark_time))
        newest = {change.iri: change for page in pages for change in page}
        found: list[Taken] = []
        for page in pages:
            some = [self._followed(change) for change in page if newest[change.iri] is change]
            self.elsewhere.keep(self.origin, some, page[-1].mark, page[-1].when)
            found += some
        return found

    def _followed(self, change: Change) -> Taken:
        if change.is_gone:
            return Taken(iri=change.iri, source=change.document, changed=change.when)
        return self._taken(change.iri, change.document, change.when)

    def _taken(self, iri: str, document: str, when: str) -> Taken:
        gone = Taken(iri=iri, source=document, changed=when)
        try:
            return self._read(gone)
        except (InvalidRecord, UnreadableFile) as error:
            return replace(gone, problem=" ".join([error.message, *map(str, error.faults[:3])]))

    def _read(self, gone: Taken) -> Taken:
        """Read a document; `gone` is what is told where it is no more.

        Raises InvalidRecord and UnreadableFile for this document, SourceFailed where all reading has to end.
        """
        iri, document = gone.iri, gone.source
        if not iri.startswith(self.origin.space):
            fault = Fault(where="its address", found=iri, expected=f"one under {self.origin.space}")
            raise InvalidRecord(message=f"{iri} is no record of {self.origin.title}.", faults=(fault,))
        known = self.elsewhere.known(iri)
        etag = known.etag if known and known.source == document else None
        fetched = self.remote.get(
            document, accept=_ACCEPT, most_bytes=MOST_BYTES, etag=etag, sites=self.feed.sites
        )
        if fetched.status == 304:
            return replace(gone, is_same=True)
        if fetched.status in _NO_MORE:
            return gone
        if fetched.status in _COME_BACK or fetched.status >= 500:
            wait = f" It asks to come back after {fetched.retry_after}." if fetched.retry_after else ""
            raise SourceFailed(message=f"{document} answers {fetched.status}.{wait}")
        if fetched.status != 200:
            raise UnreadableFile(message=f"{document} answers {fetched.status}.")
        record = read_foreign(fetched.body, fetched.media_type, iri)
        return replace(gone, record=record, etag=fetched.etag)
