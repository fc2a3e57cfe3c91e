"""The signs for holes, folds, edges, faces and stations, each with its words for the legend.

Common practice in technical drawing, no published source: the shape of a hole's sign says what kind of hole
it is, its filling which use it belongs to. All sizes are in parts of the text size.
"""

from __future__ import annotations

from functools import lru_cache
from types import MappingProxyType

from guardbook.binding.drawing.strokes import INK, PAPER
from guardbook.binding.drawing.svg import Mark, Value, mark
from guardbook.records import terms
from guardbook.wording import _, language, said_later

_CIRCLE = "M-.4 0a.4 .4 0 1 0 .8 0a.4 .4 0 1 0 -.8 0Z"
_SHAPES: MappingProxyType[str, str] = MappingProxyType(
    {
        "sewing-hole": _CIRCLE,
        "lacing-hole": "M0 -.5 .5 0 0 .5 -.5 0Z",
        "tacket-hole": "M0 -.48 .48 .36 -.48 .36Z",
        "fastening-hole": "M-.38 -.38 .38 -.38 .38 .38 -.38 .38Z",
        "nail-hole": "M0 .48 .48 -.36 -.48 -.36Z",
    }
)
_OTHER_SHAPE = "M-.52 0a.52 .28 0 1 0 1.04 0a.52 .28 0 1 0 -1.04 0Z"
# a wormhole belongs to no use
_WORM = "M-.32 -.32 .32 .32M-.32 .32 .32 -.32M0 -.42V.42"
_HALF = MappingProxyType({_CIRCLE: "M0 -.4a.4 .4 0 0 0 0 .8Z", _OTHER_SHAPE: "M0 -.28a.52 .28 0 0 0 0 .56Z"})
_LEFT_HALVES: MappingProxyType[str, str] = MappingProxyType(
    {
        "lacing-hole": "M0 -.5V.5L-.5 0Z",
        "tacket-hole": "M0 -.48V.36H-.48Z",
        "fastening-hole": "M0 -.38V.38H-.38V-.38Z",
        "nail-hole": "M0 .48V-.36H-.48Z",
    }
)
HOLES = frozenset(
    {
        "hole",
        "sewing-hole",
        "lacing-hole",
        "tacket-hole",
        "fastening-hole",
        "nail-hole",
        "wormhole",
        "other-hole",
    }
)
FOLDS = frozenset({"fold", "crease"})
EDGES: MappingProxyType[str, str] = MappingProxyType(
    {
        "edge": "M0 -.3V.3",
        "cut-edge": "M-.12 -.35V.35M.12 -.35V.35",
        "torn-edge": "M-.6 0 -.4 -.3 -.15 .3 .1 -.3 .35 .3 .6 0",
        "original-edge": "M-.6 -.2H.6M-.6 .2H.6",
    }
)


def hole_words(kind: str, use: str | None) -> str:
    """Say what a hole's sign stands for."""
    return trace_words(kind, None if kind == "wormhole" else use or "unknown")


def edge_words(kind: str) -> str:
    """Say what the mark on an edge stands for."""
    return trace_words(kind)


def fold_words(kind: str, use: str | None) -> str:
    """Say what a fold is, and of which use."""
    return trace_words(kind, use or "unknown")


def trace_words(kind: str, use: str | None = None) -> str:
    """Call a trace by its kind, and by the use it belongs to, in the language now spoken."""
    return _trace_words(kind, use, language())


@lru_cache(maxsize=512)
def _trace_words(kind: str, use: str | None, language: str) -> str:
    # a long drawing asks this for every hole, so the answer is kept for each language
    words = terms.label("feature", kind, language)
    return f"{words}, {terms.label('use', use, language)}" if use else words


@lru_cache(maxsize=128)
def hole_sign(kind: str, use: str | None) -> Mark:
    """Draw a hole of one kind and use about the origin, one unit of text size being 1."""
    outline: dict[str, Value] = {"stroke": INK, "stroke_width": 0.1}
    if kind == "wormhole":
        white = mark("path", d=_WORM, stroke=PAPER, stroke_width=0.28)
        return mark("g", white, mark("path", d=_WORM, **outline))
    shape = _SHAPES.get(kind, _OTHER_SHAPE)
    halo = mark("path", d=shape, stroke=PAPER, stroke_width=0.34)
    filled = INK if use == "first-use" else PAPER
    return mark("g", halo, mark("path", d=shape, fill=filled, **outline), _filling(kind, shape, use))


def _filling(kind: str, shape: str, use: str | None) -> Mark | None:
    match use:
        case "first-use" | "second-use":
            return None
        case "later-use":
            return mark("circle", r=0.13, fill=INK)
        case "carrier":
            return mark("path", d="M-.22 .22 .22 -.22", stroke=INK, stroke_width=0.1)
        case _:
            return mark("path", d=_HALF.get(shape) or _LEFT_HALVES[kind], fill=INK)


@lru_cache(maxsize=128)
def fold_end(use: str | None) -> Mark:
    """Draw the end of a fold line, filled as the holes of its use are."""
    return mark("g", hole_sign("sewing-hole", use), transform="scale(.62)")


@lru_cache(maxsize=128)
def edge_sign(kind: str) -> Mark:
    """Draw the mark across the middle of an edge that runs along x."""
    white = mark("path", d=EDGES[kind], fill="none", stroke=PAPER, stroke_width=0.3)
    return mark("g", white, mark("path", d=EDGES[kind], fill="none", stroke=INK, stroke_width=0.09))


def area_tag(kind: str) -> str:
    """Give the two letters that mark a stain, an offset or another trace without a sign of its own."""
    return trace_words(kind)[:2].lower()


FACES: MappingProxyType[bool, str] = MappingProxyType(
    {
        True: said_later("front face towards you"),
        False: said_later("front face turned away: you see its back"),
    }
)


@lru_cache(maxsize=128)
def face_sign(towards: bool) -> Mark:  # noqa: FBT001 - one question with two answers, asked in one place
    """Draw which face is seen: a point coming towards the viewer, or the cross of one going away."""
    frame = mark("path", d="M-.34 -.34H.34V.34H-.34Z", fill=PAPER, stroke=INK, stroke_width=0.07)
    inner = (
        mark("circle", r=0.14, fill=INK)
        if towards
        else mark("path", d="M-.34 -.34 .34 .34M-.34 .34 .34 -.34", stroke=INK, stroke_width=0.07)
    )
    return mark("g", frame, inner)


STATIONS: MappingProxyType[str, str] = MappingProxyType(
    {
        "sewing-support": "M0 0 -.9 -.42V.42Z",
        "kettle-stitch": "M0 0 -.9 -.42M0 0 -.9 .42",
        "unsupported": "M0 0H-.9",
        "tacket": "M0 0 -.45 -.3 -.9 0 -.45 .3Z",
    }
)


@lru_cache(maxsize=128)
def station_sign(kind: str | None) -> Mark:
    """Draw a station, its point at the origin, pointing towards +x."""
    path = STATIONS.get(kind or "", STATIONS["unsupported"])
    filled = INK if kind == "sewing-support" else "none"
    return mark("path", d=path, fill=filled, stroke=INK, stroke_width=0.1)


def station_words(kind: str | None) -> str:
    """Say what a station's sign stands for."""
    if kind is None:
        return _("sewing station")
    return _("sewing station, {kind}").format(kind=terms.label("station-kind", kind))
