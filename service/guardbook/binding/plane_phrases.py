"""How planes, and directions on them, are called: whole phrases, so that each can be said in any language."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType

from guardbook.wording import _, language, said_later

Which = tuple[str, str | None]

# by the kind of plane and the side of it that is meant: where a piece lies there, and what it is headed by
_ONE: MappingProxyType[Which, tuple[str, str]] = MappingProxyType(
    {
        ("cover-outside", None): (
            said_later("on the outside of the cover"),
            said_later("The outside of the cover"),
        ),
        ("cover-inside", None): (
            said_later("on the inside of the cover"),
            said_later("The inside of the cover"),
        ),
        ("textblock-spine", None): (
            said_later("on the back of the text block"),
            said_later("The back of the text block"),
        ),
        ("fold", None): (
            said_later("in the fold of gathering {gathering}"),
            said_later("The fold of gathering {gathering}"),
        ),
        ("leaf", "recto"): (
            said_later("on the recto of leaf {leaf}"),
            said_later("The recto of leaf {leaf}"),
        ),
        ("leaf", "verso"): (
            said_later("on the verso of leaf {leaf}"),
            said_later("The verso of leaf {leaf}"),
        ),
        ("board-outside", "upper"): (
            said_later("on the outside of the upper board"),
            said_later("The outside of the upper board"),
        ),
        ("board-outside", "lower"): (
            said_later("on the outside of the lower board"),
            said_later("The outside of the lower board"),
        ),
        ("board-inside", "upper"): (
            said_later("on the inside of the upper board"),
            said_later("The inside of the upper board"),
        ),
        ("board-inside", "lower"): (
            said_later("on the inside of the lower board"),
            said_later("The inside of the lower board"),
        ),
    }
)
# where it is not known which plane of a kind is meant
_ANY: MappingProxyType[str, tuple[str, str]] = MappingProxyType(
    {
        "fold": (said_later("in a fold"), said_later("A fold")),
        "leaf": (said_later("on a leaf"), said_later("A leaf")),
        "board-outside": (said_later("on the outside of a board"), said_later("The outside of a board")),
        "board-inside": (said_later("on the inside of a board"), said_later("The inside of a board")),
    }
)
# by what x or y measure from or towards
_FROM: MappingProxyType[str, str] = MappingProxyType(
    {
        "the centre of the spine": said_later("from the centre of the spine"),
        "the fold": said_later("from the fold"),
        "the spine edge": said_later("from the spine edge"),
    }
)
_MM_FROM: MappingProxyType[str, str] = MappingProxyType(
    {
        "the centre of the spine": said_later("mm from the centre of the spine"),
        "the fold": said_later("mm from the fold"),
        "the spine edge": said_later("mm from the spine edge"),
    }
)
_CENTRED: MappingProxyType[str, str] = MappingProxyType(
    {
        "the centre of the spine": said_later("centred on the spine"),
        "the fold": said_later("centred on the fold"),
    }
)
_TOWARDS: MappingProxyType[str, str] = MappingProxyType(
    {
        "the upper board": said_later("towards the upper board"),
        "the lower board": said_later("towards the lower board"),
        "the upper side": said_later("towards the upper side"),
        "the lower side": said_later("towards the lower side"),
        "the later leaf": said_later("towards the later leaf"),
        "the earlier leaf": said_later("towards the earlier leaf"),
        "the fore-edge": said_later("towards the fore-edge"),
        "the spine": said_later("towards the spine"),
        "the head": said_later("towards the head"),
        "the tail": said_later("towards the tail"),
    }
)
_EDGE_TOWARDS: MappingProxyType[str, str] = MappingProxyType(
    {
        "the upper board": said_later("edge towards the upper board"),
        "the lower board": said_later("edge towards the lower board"),
        "the upper side": said_later("edge towards the upper side"),
        "the lower side": said_later("edge towards the lower side"),
        "the later leaf": said_later("edge towards the later leaf"),
        "the earlier leaf": said_later("edge towards the earlier leaf"),
        "the fore-edge": said_later("edge towards the fore-edge"),
        "the spine": said_later("edge towards the spine"),
        "the head": said_later("edge towards the head"),
        "the tail": said_later("edge towards the tail"),
    }
)


def on_plane(kind: str, named_by: Mapping[str, object]) -> str:
    """Say where a piece on a plane lies: `in the fold of gathering 4`.

    `named_by` is what tells it apart from others of its kind, None where that is not known.
    """
    return _phrase(kind, named_by, 0)


def heading_of(kind: str, named_by: Mapping[str, object]) -> str:
    """Head what is told of a plane, called as for `on_plane`: `The inside of the cover`."""
    return _phrase(kind, named_by, 1)


def _phrase(kind: str, named_by: Mapping[str, object], which: int) -> str:
    side = named_by.get("side") or named_by.get("leaf_side")
    one = _ONE.get((kind, side if side is None else str(side)))
    found = _ANY[kind] if one is None or None in named_by.values() else one
    return _(found[which]).format_map(named_by)


@lru_cache(maxsize=256)
def _said(text: str, _language: str) -> str:
    return _(text)


def from_zero(zero: str) -> str:
    """Say from where x is measured: `from the fold`."""
    return _said(_FROM[zero], language())


def mm_from_zero(zero: str) -> str:
    """Say at an axis what it measures: `mm from the fold`."""
    return _said(_MM_FROM[zero], language())


def centred_on(zero: str) -> str:
    """Say that a piece lies in the middle: `centred on the spine`."""
    return _said(_CENTRED[zero], language())


def towards(side: str) -> str:
    """Say where x or y lead: `towards the upper board`."""
    return _said(_TOWARDS[side], language())


def edge_towards(side: str) -> str:
    """Call an edge of a plane by where it lies: `edge towards the head`."""
    return _said(_EDGE_TOWARDS[side], language())
