"""Our classes and fields against CIDOC CRM, read from `shapes/crm.toml`."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType

from guardbook import settings
from guardbook.errors import BrokenShapes
from guardbook.wording import _

CRM = "http://www.cidoc-crm.org/cidoc-crm/"


@dataclass(frozen=True, kw_only=True)
class CrmPath:
    """One way a field is said in CRM.

    `steps` are pairs of property and node class; a last step without a class (None) takes the value itself.
    `only_on` limits it to records that are of that CRM class; `inverse` swaps subject and object.
    """

    steps: tuple[tuple[str, str | None], ...]
    only_on: str | None = None
    inverse: bool = False


@dataclass(frozen=True, kw_only=True)
class Alignment:
    """The table: CRM classes by our class, further ones by field and value, paths by class and field.

    `places` says, of each class that has x and y, in which frame they are.
    """

    classes: MappingProxyType[str, tuple[str, ...]]
    terms: MappingProxyType[str, MappingProxyType[str, tuple[str, ...]]]
    paths: MappingProxyType[tuple[str, str], tuple[CrmPath, ...]]
    places: MappingProxyType[str, str]

    def paths_of(self, model: str, field: str) -> tuple[CrmPath, ...]:
        """Give the paths of a field of a model; the model's own entry goes before the general one."""
        return self.paths.get((model, field), self.paths.get(("any", field), ()))


@lru_cache(maxsize=1)
def alignment() -> Alignment:
    """Read the table. Raises BrokenShapes when it cannot be read."""
    path = settings.current().shapes / "crm.toml"
    try:
        table = tomllib.loads(path.read_text(encoding="utf-8"))
    except (OSError, tomllib.TOMLDecodeError) as error:
        told = _("{file} cannot be read: {reason}")
        raise BrokenShapes(message=told.format(file=path.name, reason=error)) from error
    terms = {
        name: MappingProxyType({value: tuple(classes) for value, classes in found.items()})
        for name, found in table["terms"].items()
    }
    paths = {
        (model, field): tuple(_path(text) for text in found.split("|") if text)
        for model, fields in table["paths"].items()
        for field, found in fields.items()
    }
    classes = {model: (name,) if name else () for model, name in table["classes"].items()}
    return Alignment(
        classes=MappingProxyType(classes),
        terms=MappingProxyType(terms),
        paths=MappingProxyType(paths),
        places=MappingProxyType(table["places"]),
    )


def _path(text: str) -> CrmPath:
    only_on, colon, rest = text.rpartition(":")
    inverse = rest.startswith("^")
    names = rest.removeprefix("^").split("/")
    steps = tuple(
        (names[at], names[at + 1] if at + 1 < len(names) else None) for at in range(0, len(names), 2)
    )
    return CrmPath(steps=steps, only_on=only_on if colon else None, inverse=inverse)
