"""What one viewer sees of other catalogues: the public only what the workshop has said it may."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from guardbook import settings
from guardbook.catalogue.audiences import Viewer
from guardbook.catalogue.harvested.store import Foreign, HarvestedStore, Origin, Taken
from guardbook.errors import Fault, Gone, NotAllowed, NotFound, WrongUse
from guardbook.wording import _


class Elsewhere:
    """The records of other catalogues as one viewer sees them; only the workshop follows and drops."""

    def __init__(self, store: HarvestedStore, viewer: Viewer) -> None:
        self._store = store
        self._viewer = viewer
        self._public = viewer is Viewer.PUBLIC

    def origins(self) -> tuple[Origin, ...]:
        """Give the catalogues that are followed."""
        found = self._store.origins(public=self._public)
        # what went wrong may name machines of the workshop
        return tuple(replace(one, problem="") for one in found) if self._public else found

    def origin(self, name: str) -> Origin:
        """Give a catalogue by its number or its feed. Raises NotFound naming those there are."""
        found = [one for one in self.origins() if name in {str(one.number), one.feed}]
        if not found:
            names = ", ".join(f"{one.number} ({one.feed})" for one in self.origins())
            told = (
                _("No catalogue {name} is followed. Followed are: {names}.")
                if names
                else _("No catalogue {name} is followed. Followed are: none.")
            )
            raise NotFound(message=told.format(name=repr(name), names=names))
        return found[0]

    def record(self, iri: str) -> Foreign:
        """Give a record. Raises NotFound, and Gone where its own catalogue took it out."""
        found = self._store.record(iri, public=self._public)
        if found is None:
            told = _("No record {record} was read from another catalogue.")
            raise NotFound(message=told.format(record=repr(iri)))
        if found.gone:
            raise Gone(
                message=_("{record} was taken out of {catalogue}, as that said on {day}.").format(
                    record=iri, catalogue=found.origin_title, day=found.changed
                )
            )
        return found

    def known(self, iri: str) -> Foreign | None:
        """Give a record as it was last read, also one that is gone, or None."""
        return self._store.record(iri, public=self._public)

    def find(self, words: str, limit: int) -> tuple[Foreign, ...]:
        """Give the records in which each of these words begins a word, the best first."""
        return self._store.find(words, public=self._public, limit=limit)

    def damaged(self, origin: Origin) -> tuple[Taken, ...]:
        """Give what could not be taken from a catalogue, and why."""
        return self._store.damaged(origin.number)

    def follow(self, feed: str, *, title: str, space: str, licence: str | None, shown: bool) -> Origin:
        """Begin to follow a catalogue, or go on.

        Raises WrongUse where its addresses are ours, those of a third, or no longer those they were.
        """
        self._workshop_only()
        self._refuse_space(feed, space)
        return self._store.follow(feed, title=title, space=space, licence=licence, shown=shown)

    def keep(self, origin: Origin, taken: Sequence[Taken], mark_id: str | None, mark_time: str = "") -> None:
        """Keep what was taken, and how far the feed was followed with it (None: no further)."""
        self._workshop_only()
        self._store.keep(origin.number, taken, mark_id, mark_time)

    def ended(self, origin: Origin, problem: str) -> None:
        """Note why the last reading of a catalogue ended early; empty where it did not."""
        self._workshop_only()
        self._store.ended(origin.number, problem)

    def drop(self, origin: Origin) -> None:
        """Forget a catalogue with all its records."""
        self._workshop_only()
        self._store.drop(origin.number)

    def _workshop_only(self) -> None:
        if self._public:
            raise NotAllowed(message=_("Only the workshop follows other catalogues."))

    def _refuse_space(self, feed: str, space: str) -> None:
        ours = (settings.current().base, settings.NAMESPACE, settings.TERMS)
        others = {one.space: one.feed for one in self.origins() if one.feed != feed}
        for taken, holder in {**dict.fromkeys(ours, ""), **others}.items():
            if _overlap(space, taken):
                raise WrongUse(
                    message=_("{feed} cannot be followed.").format(feed=feed), faults=(_taken(space, holder),)
                )
        before = next((one.space for one in self.origins() if one.feed == feed), space)
        if before != space:
            fault = Fault(where=_("the addresses of its records"), found=space, expected=before)
            told = _("{feed} tells of other records now: drop it, then follow it anew.")
            raise WrongUse(message=told.format(feed=feed), faults=(fault,))


def _taken(space: str, holder: str) -> Fault:
    """Say whose the addresses are already: another feed's, or our own where none is named."""
    told = _("none that are those of {holder}") if holder else _("none that are those of this catalogue")
    return Fault(
        where=_("the addresses of its records"),
        found=space,
        expected=told.format(holder=holder),
        mend=_("Each catalogue needs a GUARDBOOK_BASE of its own."),
    )


def _overlap(one: str, other: str) -> bool:
    return one.startswith(other) or other.startswith(one)
