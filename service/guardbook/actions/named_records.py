"""Which record a person means by an identifier, a workshop number or a name."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

from guardbook import settings
from guardbook.actions.kind_words import kind_in_words
from guardbook.catalogue.access import Access
from guardbook.catalogue.workshop_numbers import number_key
from guardbook.errors import GuardbookError
from guardbook.records import identifiers
from guardbook.records.kinds import KINDS
from guardbook.records.terms import folded
from guardbook.records.values import record_iri
from guardbook.wording import _, either, said_later

_NAMED_KINDS = ("agent", "institution")
_NAMED = said_later(
    "the identifier, number or name of a record of kind {kinds}. Add it first, or in another row or sheet."
)
_NUMBERED = said_later(
    "the identifier or workshop number of a record of kind {kinds}. Add it first, or in another row or sheet."
)
# to look for what a mistyped name may stand for takes a look at every record
_MOST_EXPLAINED = 40


class NamedRecords:
    """The records of the catalogue and of the files being added, found by what people call them."""

    def __init__(self, access: Access) -> None:
        self._access = access
        self._numbers: dict[str, str] = {}
        self._names: dict[str, set[str]] = defaultdict(set)
        self._new: set[str] = set()
        self._names_known = False
        self._found: dict[tuple[str, tuple[str, ...]], str] = {}
        self._explained = 0

    def add(self, iri: str, number: str | None, name: str | None) -> None:
        """Make a record of the files known by its number and name."""
        self._new.add(iri)
        if number and (key := number_key(number)):
            self._numbers[key] = iri
        if name:
            self._names[folded(name)].add(iri)

    def numbered(self, number: str) -> str | None:
        """Give the record that has this workshop number, in the files or in the catalogue, or None."""
        return self._numbers.get(number_key(number) or "") or self._access.numbered(number)

    def by_name(self, name: str, kinds: Iterable[str]) -> tuple[str, ...]:
        """Give the people and institutions of these kinds that have this name, however it is spelled."""
        if not self._names_known:
            self._names_known = True
            for kind in _NAMED_KINDS:
                for iri in self._access.iris(kind):
                    self._names[folded(getattr(self._access.record(iri).record, "name", None) or "")].add(iri)
        found = self._names.get(folded(name), set())
        return tuple(sorted(iri for iri in found if kind_of(iri) in kinds))

    def title_of(self, iri: str) -> str:
        """Give the title of a record of the catalogue; nothing for one that is not there yet."""
        return self._access.record(iri).record.display_title if self._access.has(iri) else ""

    def identified(self, text: str, kind: str) -> str:
        """Give the IRI that the identifier of a record of this kind stands for, known or new.

        Raises ValueError saying what was expected, with likely identifiers where it is mistyped.
        """
        short = text.strip().removeprefix(settings.current().base)
        identifier = identifiers.normal_form(short.rpartition("/")[2])
        if identifiers.is_valid(identifier):
            return record_iri(short if "/" in short else f"{kind}/{identifier}", (kind,))
        self._explain(text)
        message = _("an identifier with its check symbol, such as {example}")
        raise ValueError(message.format(example=identifiers.example()))

    def meant(self, text: str, kinds: tuple[str, ...]) -> str:
        """Give the IRI of the one record of these kinds that a person means.

        Raises ValueError saying what was expected.
        """
        if (text, kinds) not in self._found:
            self._found[text, kinds] = self._meant(text, kinds)
        return self._found[text, kinds]

    def _meant(self, text: str, kinds: tuple[str, ...]) -> str:
        candidates = self._by_identifier(text, kinds)
        if not candidates:
            numbered = self.numbered(text)
            candidates = (numbered,) if numbered else self.by_name(text, kinds)
        if len(candidates) == 1 and kind_of(candidates[0]) in kinds:
            return candidates[0]
        wanted = either(kind_in_words(KINDS[kind]) for kind in kinds)
        if len(candidates) > 1:
            message = _("one {kinds}. It may be {records}: write the identifier.")
            raise ValueError(message.format(kinds=wanted, records=either(candidates)))
        if candidates:
            message = _("the identifier, number or name of a record of kind {kinds}. That is {record}.")
            raise ValueError(message.format(kinds=wanted, record=candidates[0]))
        self._explain(text)
        message = _(_NAMED if set(kinds) & set(_NAMED_KINDS) else _NUMBERED)
        raise ValueError(message.format(kinds=wanted))

    def _by_identifier(self, text: str, kinds: tuple[str, ...]) -> tuple[str, ...]:
        base = settings.current().base
        short = text.strip().removeprefix(base).strip("/")
        kind, _, written = short.rpartition("/")
        identifier = identifiers.normal_form(written)
        if not identifiers.is_valid(identifier) or (kind and kind not in KINDS):
            return ()
        candidates = [f"{base}{one}/{identifier}" for one in ((kind,) if kind else kinds)]
        return tuple(iri for iri in candidates if iri in self._new or self._access.has(iri))

    def _explain(self, text: str) -> None:
        """Raise ValueError with what may have been meant, as the catalogue explains it."""
        self._explained += 1
        if self._explained > _MOST_EXPLAINED:
            return
        try:
            self._access.resolve(text)
        except GuardbookError as error:
            if error.faults:
                raise ValueError(f"{error.faults[0].expected}. {error.faults[0].mend}") from error
            if error.details.get("near"):
                message = _("a record that is in the catalogue. Did you mean {records}?")
                raise ValueError(message.format(records=either(error.details["near"]))) from error


def kind_of(iri: str) -> str:
    """Give the kind of record an IRI is of."""
    return iri.removeprefix(settings.current().base).partition("/")[0]
