"""The inventory of an object: its versions, and which file has which content.

Source: OCFL 1.1, section 3.5 (Inventory); the numbers such as E036 are those of its validation codes.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator
from typing import Annotated, Literal, Self

from pydantic import (
    AfterValidator,
    AwareDatetime,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    model_validator,
)

TYPE: Literal["https://ocfl.io/1.1/spec/#inventory"] = "https://ocfl.io/1.1/spec/#inventory"
DECLARED = "ocfl_object_1.1"
INVENTORY = "inventory.json"
CONTENT = "content"


def _path(text: str) -> str:
    """Hold a path to E051-E053 and E098-E100: elements joined by slashes, none of them empty or dots."""
    if any(element in {"", ".", ".."} for element in text.split("/")) or "\0" in text:
        raise ValueError("expected a path that stays within the object (E052, E053, E099, E100)")
    return text


Path = Annotated[str, AfterValidator(_path)]
# digests are the same in capitals (section 3.4)
Digest = Annotated[str, BeforeValidator(str.lower), Field(pattern=r"^[0-9a-f]{64}([0-9a-f]{64})?$")]


class _Block(BaseModel):
    """A block of an inventory; E102: none has a key that the specification does not know."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)


class User(_Block):
    """Who made a version (E054)."""

    name: str
    address: str | None = None


class Version(_Block):
    """One version (section 3.5.3.1): when it was made (E049), by whom and what for, and its files."""

    created: AwareDatetime
    message: str | None = None
    user: User | None = None
    state: dict[Digest, tuple[Path, ...]]

    @model_validator(mode="after")
    def _paths_do_not_meet(self) -> Self:
        _hold_apart(path for paths in self.state.values() for path in paths)
        return self

    @property
    def files(self) -> dict[str, str]:
        """Give the digest of each file by its logical path."""
        return {path: digest for digest, paths in self.state.items() for path in paths}


class Inventory(_Block):
    """The whole history of an object (E036, E041)."""

    id: str = Field(min_length=1)
    type: Literal["https://ocfl.io/1.1/spec/#inventory"] = TYPE
    digest_algorithm: Literal["sha512", "sha256"] = Field("sha512", alias="digestAlgorithm")
    head: str
    content_directory: str = Field(CONTENT, alias="contentDirectory", pattern=r"^[^/]*[^/.][^/]*$")
    manifest: dict[Digest, tuple[Path, ...]]
    versions: dict[str, Version]
    fixity: dict[str, dict[str, tuple[Path, ...]]] | None = None

    @model_validator(mode="after")
    def _holds_together(self) -> Self:
        """Hold it to E008-E013, E040, E042, E050, E101 and E107."""
        padded = re.fullmatch(r"v(0\d+)", self.head)
        width = len(padded[1]) if padded else 0
        expected = [f"v{number:0{width}}" for number in range(1, len(self.versions) + 1)]
        if not expected or sorted(self.versions, key=_number) != expected or self.head != expected[-1]:
            raise ValueError(
                f"expected versions from 1 on without a gap, the last the head {self.head} (E010, E040)"
            )
        stated = {digest for version in self.versions.values() for digest in version.state}
        if stated != self.manifest.keys():
            raise ValueError("expected the same digests in the manifest as in the versions (E050, E107)")
        _hold_apart(self.content_paths)
        for path in self.content_paths:
            version, folder, *rest = *path.split("/"), ""
            if version not in self.versions or folder != self.content_directory or not rest[0]:
                raise ValueError(f"expected content within a version, found {path} (E042)")
        return self

    @property
    def content_paths(self) -> list[str]:
        """Give where all content lies, within the object."""
        return [path for paths in self.manifest.values() for path in paths]

    def in_order(self) -> Iterator[tuple[str, Version]]:
        """Give the versions with their names, the oldest first."""
        return ((name, self.versions[name]) for name in sorted(self.versions, key=_number))

    def as_json(self) -> bytes:
        """Write it."""
        return self.model_dump_json(
            by_alias=True, exclude_none=True, exclude_defaults=False, indent=1
        ).encode()


def inventory_from(data: bytes) -> Inventory:
    """Read an inventory. Raises pydantic's ValidationError with everything that is wrong with it."""
    return Inventory.model_validate_json(data)


def _number(name: str) -> int:
    found = re.fullmatch(r"v(\d+)", name)
    return int(found[1]) if found else 0


def _hold_apart(paths: Iterable[str]) -> None:
    """Hold paths to E095 and E101: none stands twice, and none is a folder of another."""
    counted = Counter(paths)
    folders = {"/".join(path.split("/")[:end]) for path in counted for end in range(1, path.count("/") + 1)}
    if (twice := [path for path, times in counted.items() if times > 1]) or (
        twice := sorted(folders & counted.keys())
    ):
        raise ValueError(f"expected each path once, and none within another: {twice[0]} (E095, E101)")
