"""What a check needs to know of a record and those round it: classes, answers, and how pieces left."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property

import pyoxigraph as ox

from guardbook import settings

_OWN = settings.NAMESPACE
_TYPE = "http://www.w3.org/1999/02/22-rdf-syntax-ns#type"


@dataclass(frozen=True)
class Answered:
    """An answer given where a field could not be filled: which, and how it was looked for."""

    answer: str
    reason: str


class Dossier:
    """The statements about a record, its events, images and hosts, by subject and property."""

    def __init__(self, quads: Iterable[ox.Quad]) -> None:
        self._values: dict[str, dict[str, list[str]]] = defaultdict(lambda: defaultdict(list))
        for quad in quads:
            if isinstance(quad.subject, ox.NamedNode) and not isinstance(quad.object, ox.Triple):
                self._values[quad.subject.value][quad.predicate.value].append(quad.object.value)

    def values(self, subject: str, field: str) -> tuple[str, ...]:
        """Give the values of a field, by its JSON name, as they are written."""
        return tuple(self._values.get(subject, {}).get(_OWN + field, ()))

    def one(self, subject: str, field: str) -> str:
        """Give the first value of a field, or an empty text."""
        return next(iter(self.values(subject, field)), "")

    def model(self, subject: str) -> str:
        """Give the name of the model of a record or part, or an empty text."""
        types = self._values.get(subject, {}).get(_TYPE, ())
        return next((kind.removeprefix(_OWN) for kind in types if kind.startswith(_OWN)), "")

    def of_model(self, model: str) -> tuple[str, ...]:
        """Give every record or part of one model, in order."""
        return tuple(sorted(subject for subject in self._values if self.model(subject) == model))

    def records(self) -> tuple[str, ...]:
        """Give every record, in order."""
        return tuple(sorted(subject for subject in self._values if "#" not in subject))

    @cached_property
    def answers(self) -> Mapping[tuple[str, str], tuple[Answered, ...]]:
        """Give the answers by record and the JSON name of the field they are for."""
        found: dict[tuple[str, str], list[Answered]] = defaultdict(list)
        for part in self.of_model("Answer"):
            asked = self.one(part, "asked").removeprefix(_OWN)
            slug = self.one(part, "answer").removeprefix(settings.TERMS + "answer/")
            found[part.partition("#")[0], asked].append(Answered(slug, self.one(part, "reason")))
        return {key: tuple(answers) for key, answers in found.items()}

    def left_only_by(self, record: str, kinds: frozenset[str]) -> bool:
        """Say whether a separation, or every one that a placing or piece is known by, is of these kinds."""
        found = {self._kind(separation) for separation in self._separations_of(record)}
        return bool(found) and found <= kinds

    def is_lifted(self, record: str) -> bool:
        """Say whether the piece has left its volume, and is not about to be lifted (again)."""
        found = [self.one(separation, "status") for separation in self._separations_of(record)]
        return bool(found) and not any(status.endswith("/planned") for status in found)

    def _separations_of(self, record: str) -> list[str]:
        separations = self.of_model("Separation")
        match self.model(record):
            case "Separation":
                return [record]
            case "Placing":
                return [one for one in separations if self._ends(one, record)]
            case "Fragment":
                return [one for one in separations if record in self.values(one, "piece")]
            case _:
                return []

    def _ends(self, separation: str, placing: str) -> bool:
        """Say whether a separation undoes a placing, or, where it names none, is of its piece and host."""
        if undone := self.values(separation, "undoes"):
            return placing in undone
        return all(
            self.values(separation, field) == self.values(placing, field) for field in ("piece", "host")
        )

    def _kind(self, separation: str) -> str:
        return self.one(separation, "separationKind").rpartition("/")[2]
