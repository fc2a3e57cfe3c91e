"""Where this instance lives: its base IRI, its name, its folders, its workshop's own shapes.

Settings come from the environment (`GUARDBOOK_BASE`, `GUARDBOOK_NAME`, `GUARDBOOK_DATA`,
`GUARDBOOK_SHAPES`), read once at the first use. Nothing else in the package reads the environment.
"""

from __future__ import annotations

import os
import re
from dataclasses import dataclass
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
class Settings:
    """The fixed facts of one instance.

    `base` ends in a slash and starts every record's IRI; `data` holds the ledger and the graph;
    `shapes` is ours, `workshop_shapes` the workshop's own folder, read beside it, or None; `name` is what
    the catalogue is called where a record of it is cited.
    """

    base: str
    data: Path
    shapes: Path
    demo: Path
    workshop_shapes: Path | None = None
    name: str = DEFAULT_NAME


def _base_from(text: str) -> str:
    if not re.fullmatch(r"https?://[^\s<>\"{}|\\^`#?]+/", text):
        raise ValueError(
            f"Expected GUARDBOOK_BASE to be an http(s) address ending in '/', found {text!r}. "
            f"Example: {DEFAULT_BASE}"
        )
    return text


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
    )
