"""The files that say what the words of the records mean: ontology, context, terms, shapes, tables."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from guardbook import settings

_ENDINGS = {".ttl", ".jsonld", ".toml"}


def model_files() -> Iterator[tuple[str, Path]]:
    """Give each file by its path below `model/`, the workshop's own below `model/workshop/`."""
    here = settings.current()
    for top, folder in (("model", here.shapes), ("model/workshop", here.workshop_shapes)):
        for path in sorted(folder.rglob("*")) if folder else ():
            if path.suffix in _ENDINGS and path.is_file():
                yield f"{top}/{path.relative_to(folder or path).as_posix()}", path
