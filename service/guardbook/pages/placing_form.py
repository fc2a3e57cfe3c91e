"""The form that places a piece on the drawing of its volume: what stands in it, and what is wrong with it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from guardbook.actions.place_in_hand import PlaceInHand
from guardbook.actions.save_place import NEW, PIECE, PLACING, STAGE
from guardbook.binding.plane_keys import plane_called
from guardbook.binding.scene_facts import stage_words
from guardbook.errors import Fault, GuardbookError, StaleRevision
from guardbook.intake.form_records import FOLDS, HOLES
from guardbook.intake.form_texts import Texts, one_text, texts_of
from guardbook.pages.placing_fields import PARTS, Asked, PlacingFields, asked_of
from guardbook.records.documents import to_document
from guardbook.records.identifiers import new_identifier
from guardbook.records.placing import Placing, Position
from guardbook.wording import _

POSITIONS = f"{PLACING}.positions"
# what is asked beside the place itself
BESIDE = ("layer", "visibleInPlace", "certainty", "note")
ONLY_NEW = ("function", "originalToAssembly", "outwardFace")


@dataclass(frozen=True, kw_only=True)
class Differing:
    """A value of the position that somebody else saved in between: its label, what stands there now."""

    label: str
    now: str
    typed: str


@dataclass(frozen=True, kw_only=True)
class PlacingForm:
    """A form before it is sent, or one that came back with what is wrong; every text as it was typed.

    `at` is the row of the position that is shown, `saved` the revision that was just saved.
    """

    in_hand: PlaceInHand
    texts: Texts
    at: int = 0
    faults: tuple[Fault, ...] = ()
    message: str = ""
    is_doubt: bool = False
    differing: tuple[Differing, ...] = ()
    saved: int | None = None
    revision: int | None = None
    row: str = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "row", f"{POSITIONS}.{self.at}")

    @classmethod
    def opened(
        cls, in_hand: PlaceInHand, *, at: str = "", plane: str = "", saved: int | None = None
    ) -> PlacingForm:
        """Open the form at one of the positions (`position-2`, or `new`), on a plane by its key if it is new.

        Raises WrongUse for a key that names no plane.
        """
        texts = _texts(in_hand)
        ids = [position.id for position in in_hand.placing.positions] if in_hand.placing else []
        row = len(ids) if at == "new" else ids.index(f"#{at}") if f"#{at}" in ids else 0
        if row == len(ids):
            texts |= _on_plane(f"{POSITIONS}.{row}", plane)
        return cls(in_hand=in_hand, texts=texts, at=row, saved=saved, revision=in_hand.revision)

    def refused(self, error: GuardbookError, *, is_doubt: bool) -> PlacingForm:
        """Give the form back with what is wrong; after a save by somebody else, with what that changed."""
        form = replace(self, faults=error.faults, message=error.message, is_doubt=is_doubt)
        if not isinstance(error, StaleRevision):
            return form
        return replace(form, revision=self.in_hand.revision, differing=tuple(self._differing()))

    def _differing(self) -> Iterator[Differing]:
        now = _texts(self.in_hand)
        for asked in (*self.place.position, *self.beside):
            there = one_text(now, asked.name)
            if there != asked.value:
                yield Differing(
                    label=asked.label, now=there or _("nothing"), typed=asked.value or _("nothing")
                )

    @property
    def place(self) -> PlacingFields:
        """Give the inputs of the place."""
        return PlacingFields(
            host=self.in_hand.host.id,
            stage=self.in_hand.stage,
            piece=self.in_hand.piece.id,
            values={part: self._text(name) for part, name in self._names()},
            faults={part: self._fault(name) for part, name in self._names()},
            prefix=f"{self.row}.",
            names=dict(self._names()),
            shape=self.in_hand.shape,
            asks_traces=True,
            known=self.in_hand.piece.features,
        )

    def _names(self) -> Iterator[tuple[str, str]]:
        yield from ((part, f"{self.row}.{part}") for part in PARTS)
        yield "holes", f"{PIECE}.{HOLES}.0.list"
        yield "folds", f"{PIECE}.{FOLDS}"

    @property
    def beside(self) -> tuple[Asked, ...]:
        """Give the inputs of how it lies there, and for a new placing of what it did there."""
        asked = [self._asked(Position, part, f"{self.row}.{part}") for part in BESIDE]
        if self.in_hand.placing is None:
            asked += [self._asked(Placing, part, f"{PLACING}.{part}") for part in ONLY_NEW]
        return tuple(asked)

    def _asked(self, model: type[Position] | type[Placing], part: str, name: str) -> Asked:
        return asked_of(model, part, name, self._text(name), self._fault(name))

    @property
    def stages(self) -> tuple[tuple[str, str, bool], ...]:
        """Give the stages of the volume that a new placing can lead to: IRI, words, whether it is chosen."""
        host, chosen = self.in_hand.host, self._text(STAGE)
        stages = sorted(host.stages, key=lambda stage: stage.number)
        return tuple(
            (
                host.id + stage.id,
                f"{stage.number}. {stage_words(stage)}",
                chosen == host.id + stage.id if chosen else stage.number == self.in_hand.stage,
            )
            for stage in stages
        )

    @property
    def hidden(self) -> tuple[tuple[str, str], ...]:
        """Give what goes with the form unseen: the positions that are not shown stay as they are."""
        placing = self.in_hand.placing
        known = (
            [(f"{POSITIONS}.{at}.id", one.id) for at, one in enumerate(placing.positions)] if placing else []
        )
        revision = "" if self.revision is None else str(self.revision)
        return (
            ("piece", self.in_hand.piece.short),
            ("placing", placing.short if placing else ""),
            (NEW, "" if placing else self._text(NEW) or f"{PLACING}/{new_identifier()}"),
            ("revision", revision),
            ("pieceRevision", str(self.in_hand.piece_revision)),
            ("at", str(self.at)),
            (POSITIONS, "rows"),
            *known,
        )

    @property
    def draft(self) -> str:
        """Name what is typed here, so that the browser can keep it until it is saved."""
        return f"{self.in_hand.host.short}/place/{self.in_hand.piece.short}/{self.at}"

    @property
    def elsewhere(self) -> tuple[Fault, ...]:
        """Give what is wrong with no input that is shown."""
        shown = {asked.name for asked in (*self.place.position, *self.place.traces, *self.beside)}
        return tuple(fault for fault in self.faults if fault.where not in shown)

    def _text(self, name: str) -> str:
        return next(iter(self.texts.get(name, ())), "")

    def _fault(self, name: str) -> str:
        return " ".join(str(fault) for fault in self.faults if fault.where == name)

    @property
    def other_positions(self) -> tuple[tuple[str, str, bool], ...]:
        """Give the positions of the placing: name, words, whether it is the one shown."""
        positions = self.in_hand.placing.positions if self.in_hand.placing else ()
        return tuple(
            (one.id.removeprefix("#"), _position_words(one), at == self.at)
            for at, one in enumerate(positions)
        )


def _position_words(position: Position) -> str:
    from_term = asked_of(Position, "plane", "", position.plane or "", "")
    plane = next((words for value, words in from_term.choices if value == position.plane), _("no plane said"))
    return f"{position.id.removeprefix('#position-')}: {plane}"


def _texts(in_hand: PlaceInHand) -> dict[str, tuple[str, ...]]:
    if in_hand.placing is None:
        return {}
    return texts_of(to_document(in_hand.placing), Placing, PLACING)


def _on_plane(row: str, key: str) -> dict[str, tuple[str, ...]]:
    if not key:
        return {}
    plane = plane_called(key)
    parts = {
        "plane": plane.plane,
        "gathering": plane.gathering,
        "leaf": plane.leaf,
        "leafSide": plane.leaf_side,
        "side": plane.side,
    }
    return {f"{row}.{part}": (str(value),) for part, value in parts.items() if value is not None}
