"""What a rejoined leaf is made of: the known pieces in its own frame, what is missing, how much text.

Lengths are mm. The frame of a leaf has its origin at the tail-left corner, the side it is shown from up.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from shapely.geometry.base import BaseGeometry

from guardbook.binding.scene_parts import affine_json, outline_json
from guardbook.binding.transforms import Affine


@dataclass(frozen=True, kw_only=True)
class CameFrom:
    """A volume that held a piece, and from which of its stages on."""

    host: str
    name: str
    shelfmark: str | None = None
    stage_words: str | None = None

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            "host": self.host,
            "name": self.name,
            "shelfmark": self.shelfmark,
            "stageWords": self.stage_words,
        }


@dataclass(frozen=True, kw_only=True)
class LeafPiece:
    """A piece in the frame of the leaf it was cut from.

    `outline` is None where its place or size is not known. `leaf_side` is the side of the leaf its place is
    told for, `front_towards_viewer` whether one sees the piece's front here. `way` maps the piece's own frame
    to the leaf's, `image_way` pixels (from the top left, y down).
    """

    piece: str
    name: str
    words: str
    outline: BaseGeometry | None
    leaf_side: str | None = None
    certainty: str | None = None
    front_towards_viewer: bool | None = None
    way: Affine | None = None
    image: str | None = None
    image_way: Affine | None = None
    first_line: int | None = None
    last_line: int | None = None
    hosts: tuple[CameFrom, ...] = ()

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            "piece": self.piece,
            "name": self.name,
            "words": self.words,
            "outline": outline_json(self.outline),
            "leafSide": self.leaf_side,
            "certainty": self.certainty,
            "frontTowardsViewer": self.front_towards_viewer,
            "way": affine_json(self.way),
            "image": self.image,
            "imageWay": affine_json(self.image_way),
            "firstLine": self.first_line,
            "lastLine": self.last_line,
            "hosts": [host.as_json() for host in self.hosts],
        }


@dataclass(frozen=True, kw_only=True)
class LineCount:
    """A number of lines by one method: the best guess, and from where to where it surely lies.

    `method` is text, pitch or numbers. `low` and `high` are None where nothing can be said of the error.
    """

    method: str
    lines: float
    low: float | None = None
    high: float | None = None
    words: str = ""

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        rounded = {"lines": self.lines, "low": self.low, "high": self.high}
        numbers = {key: None if value is None else round(value, 2) for key, value in rounded.items()}
        return {"method": self.method, **numbers, "words": self.words}


@dataclass(frozen=True, kw_only=True)
class MissingLines:
    """How many lines are missing between the pieces `above` and `below`, by each method there are data for.

    `agree` is None where there is only one method.
    """

    above: str
    below: str
    counts: tuple[LineCount, ...]
    agree: bool | None
    words: str

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            "above": self.above,
            "below": self.below,
            "counts": [count.as_json() for count in self.counts],
            "agree": self.agree,
            "words": self.words,
        }


@dataclass(frozen=True, kw_only=True)
class LeafOverlap:
    """Two pieces that claim the same part of the leaf, which cannot be; `area_mm2` is how much."""

    piece: str
    other: str
    area_mm2: float
    words: str

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        area = round(self.area_mm2, 1)
        return {"piece": self.piece, "other": self.other, "areaMm2": area, "words": self.words}


@dataclass(frozen=True, kw_only=True)
class RejoinedLeaf:
    """A leaf with its known pieces, seen from one side.

    `size_from` says where its edges come from: `stated` for the carrier, or `pieces`, whose edges they then
    are; a part of the leaf beyond these is not known. `missing` are the parts of the leaf of which no piece
    is known, `known_share` the part of its area (0 to 1) of which there is one.
    """

    carrier: str
    leaf: str
    side: str | None
    left: float
    bottom: float
    right: float
    top: float
    size_from: str
    pieces: tuple[LeafPiece, ...]
    missing: tuple[BaseGeometry, ...]
    known_share: float
    line_pitch: float | None = None
    lines: int | None = None
    missing_lines: tuple[MissingLines, ...] = ()
    overlaps: tuple[LeafOverlap, ...] = ()

    @property
    def unplaced(self) -> tuple[LeafPiece, ...]:
        """Give the pieces of this leaf whose place or size is not known."""
        return tuple(piece for piece in self.pieces if piece.outline is None)

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            "carrier": self.carrier,
            "leaf": self.leaf,
            "side": self.side,
            "left": round(self.left, 2),
            "bottom": round(self.bottom, 2),
            "right": round(self.right, 2),
            "top": round(self.top, 2),
            "sizeFrom": self.size_from,
            "pieces": [piece.as_json() for piece in self.pieces],
            "missing": [outline_json(part) for part in self.missing],
            "knownShare": round(self.known_share, 3),
            "linePitch": self.line_pitch,
            "lines": self.lines,
            "missingLines": [missing.as_json() for missing in self.missing_lines],
            "overlaps": [overlap.as_json() for overlap in self.overlaps],
        }


@dataclass(frozen=True, kw_only=True)
class Rejoined:
    """All leaves of a carrier of which pieces are known; `unplaced` are pieces whose leaf is not said."""

    carrier: str
    name: str
    leaves: tuple[RejoinedLeaf, ...]
    unplaced: tuple[LeafPiece, ...]

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            "carrier": self.carrier,
            "name": self.name,
            "leaves": [leaf.as_json() for leaf in self.leaves],
            "unplaced": [piece.as_json() for piece in self.unplaced],
        }
