"""The rules by which records bound each other in time, read from `shapes/dating.toml`."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType
from typing import Any

from guardbook import settings
from guardbook.errors import BrokenShapes
from guardbook.wording import _

FILE = "dating.toml"


@dataclass(frozen=True, kw_only=True)
class DatingRule:
    """One rule: in every situation `of` this kind, `before` was not later than `after`.

    `strict` where it was earlier, `silent` where it goes without saying, `law` where it cannot be otherwise;
    one that holds `as_a_rule` only has the exception that `unless_words` tell, and one that `says_little` is
    true and of no use for what comes after. It applies where all facts in `when` are there and none in
    `unless`.
    """

    id: str
    of: str
    before: str
    after: str
    words: str
    reason: str
    when: frozenset[str] = frozenset()
    unless: frozenset[str] = frozenset()
    strict: bool = False
    silent: bool = False
    law: bool = False
    says_little: bool = False
    as_a_rule: bool = False
    unless_words: str = ""

    def applies(self, facts: frozenset[str]) -> bool:
        """Say whether it applies in a situation with these facts."""
        return self.when <= facts and not self.unless & facts


@lru_cache(maxsize=1)
def dating_rules() -> Mapping[str, tuple[DatingRule, ...]]:
    """Give the rules by the situation they are for. Raises BrokenShapes where the file cannot be used."""
    path = settings.current().shapes / FILE
    try:
        table = tomllib.loads(path.read_text(encoding="utf-8"))["rules"]
        rules = [_rule(name, row) for name, row in table.items()]
    except (OSError, tomllib.TOMLDecodeError, KeyError, TypeError) as error:
        told = _("{file} cannot be used: {reason}")
        raise BrokenShapes(message=told.format(file=path.name, reason=error)) from error
    by_kind: dict[str, list[DatingRule]] = {}
    for rule in rules:
        by_kind.setdefault(rule.of, []).append(rule)
    return MappingProxyType({kind: tuple(found) for kind, found in by_kind.items()})


def _rule(name: str, row: Mapping[str, Any]) -> DatingRule:
    rest = {key: value for key, value in row.items() if key not in {"when", "unless", "except"}}
    return DatingRule(
        id=name,
        when=frozenset(row.get("when", ())),
        unless=frozenset(row.get("unless", ())),
        unless_words=row.get("except", ""),
        **rest,
    )
