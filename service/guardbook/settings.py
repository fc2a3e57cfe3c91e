"""Where this instance lives: its base IRI, its name, its folders, its workshop's own shapes, its limits.

Settings come from the environment (`GUARDBOOK_BASE`, `GUARDBOOK_NAME`, `GUARDBOOK_DATA`,
`GUARDBOOK_SHAPES`, `GUARDBOOK_LICENCE`, `GUARDBOOK_SPARQL_...`), read once at the first use. Nothing else in
the package reads the environment.
"""

from __future__ import annotations

import os
import re
from collections.abc import Mapping
from dataclasses import dataclass, fields
from functools import lru_cache
from pathlib import Path

NAMESPACE = "https://w3id.org/guardbook/ns#"
TERMS = "https://w3id.org/guardbook/terms/"
DEFAULT_BASE = "https://guardbook.example/"
DEFAULT_NAME = "Guardbook"

_PACKAGE = Path(__file__).resolve().parent


def _beside(name: str) -> Path:
    """Find a folder that lies in the package when installed, at the top level in a checkout."""
    packed = _PACKAGE / f"_{name}"
    return packed if packed.is_dir() else _PACKAGE.parent.parent / name


@dataclass(frozen=True, kw_only=True)
class SparqlLimits:
    """How far a SPARQL question may go: seconds, memory in MB, rows; how many are answered at once."""

    seconds: int = 20
    memory_mb: int = 1024
    rows: int = 10_000
    at_once: int = 2


@dataclass(frozen=True, kw_only=True)
class Settings:
    """The fixed facts of one instance.

    `base` ends in a slash and starts every record's IRI; `data` holds the ledger and the graph;
    `shapes` is ours, `workshop_shapes` the workshop's own folder, read beside it, or None; `name` is what
    the catalogue is called where a record of it is cited, `licence` the address of what its descriptions may
    be used for, or None.
    """

    base: str
    data: Path
    shapes: Path
    demo: Path
    workshop_shapes: Path | None = None
    name: str = DEFAULT_NAME
    licence: str | None = None
    sparql: SparqlLimits = SparqlLimits()


def _base_from(text: str) -> str:
    if not re.fullmatch(r"https?://[^\s<>\"{}|\\^`#?]+/", text):
        raise ValueError(
            f"Expected GUARDBOOK_BASE to be an http(s) address ending in '/', found {text!r}. "
            f"Example: {DEFAULT_BASE}"
        )
    return text


def _licence_from(text: str) -> str | None:
    if text and not re.fullmatch(r"https?://[^\s<>\"{}|\\^`]+", text):
        raise ValueError(
            f"Expected GUARDBOOK_LICENCE to be the http(s) address of a licence, found {text!r}. "
            "Example: https://creativecommons.org/publicdomain/zero/1.0/"
        )
    return text or None


def _limits_from(environment: Mapping[str, str]) -> SparqlLimits:
    found: dict[str, int] = {}
    for limit in fields(SparqlLimits):
        name = f"GUARDBOOK_SPARQL_{limit.name.upper()}"
        text = environment.get(name) or str(limit.default)
        if not re.fullmatch("[1-9][0-9]{0,8}", text):
            raise ValueError(f"Expected {name} to be a whole number of 1 or more, found {text!r}.")
        found[limit.name] = int(text)
    return SparqlLimits(**found)


@lru_cache(maxsize=1)
def current() -> Settings:
    """Give the settings of this process."""
    data = os.environ.get("GUARDBOOK_DATA") or _PACKAGE.parent.parent / ".guardbook"
    own = os.environ.get("GUARDBOOK_SHAPES")
    return Settings(
        base=_base_from(os.environ.get("GUARDBOOK_BASE") or DEFAULT_BASE),
        data=Path(data).expanduser(),
        shapes=_beside("shapes"),
        demo=_beside("demo_graph"),
        workshop_shapes=Path(own).expanduser() if own else None,
        name=" ".join(os.environ.get("GUARDBOOK_NAME", "").split()) or DEFAULT_NAME,
        licence=_licence_from(os.environ.get("GUARDBOOK_LICENCE", "").strip()),
        sparql=_limits_from(os.environ),
    )
