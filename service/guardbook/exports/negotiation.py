"""Which of several media types a reader would rather have, from the `Accept` header.

Source: RFC 9110, section 12.5.1. The most exact range that fits a type gives its weight; a weight of 0
refuses it; between equal weights our own order decides. No header, or an empty one, accepts all.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

_WORD = r"[!#$%&'*+.^_`|~0-9A-Za-z-]+"
_RANGE = re.compile(rf"\s*(?P<type>{_WORD})/(?P<subtype>{_WORD})\s*(?P<rest>;.*)?", re.DOTALL)
_WEIGHT = re.compile(r"(?:^|;)\s*q\s*=\s*(?P<weight>0(?:\.\d{0,3})?|1(?:\.0{0,3})?)\s*(?:;|$)", re.IGNORECASE)
# a comma within a quoted parameter parts nothing
_BETWEEN_COMMAS = re.compile(r'(?:[^",]|"[^"]*"?)+')


@dataclass(frozen=True)
class _Range:
    kind: str
    subtype: str
    weight: float

    def exactness(self, media_type: str) -> int:
        """Give how exactly the range names this type: 2 in full, 1 by its first half, 0 by `*/*`, -1 not."""
        kind, _, subtype = media_type.partition("/")
        if (self.kind, self.subtype) == (kind, subtype):
            return 2
        if self.subtype == "*" and self.kind in {kind, "*"}:
            return 1 if self.kind == kind else 0
        return -1


def preferred(accept: str | None, offered: Sequence[str]) -> str | None:
    """Give the media type of those `offered` that suits best, or None where none is accepted.

    >>> preferred("text/turtle;q=0.5, application/ld+json", ("text/html", "text/turtle"))
    'text/turtle'
    """
    if not accept or not accept.strip():
        return offered[0] if offered else None
    ranges = tuple(_ranges(accept))
    weights = {media_type: _weight(media_type, ranges) for media_type in offered}
    best = max(offered, key=lambda media_type: weights[media_type], default=None)
    return best if best is not None and weights[best] > 0 else None


def _ranges(accept: str) -> Iterator[_Range]:
    """Read the ranges; what is no range is passed over, as robust readers of headers do."""
    for text in _BETWEEN_COMMAS.findall(accept):
        if found := _RANGE.fullmatch(text):
            weight = _WEIGHT.search(found["rest"] or "")
            yield _Range(
                found["type"].lower(), found["subtype"].lower(), float(weight["weight"]) if weight else 1.0
            )


def _weight(media_type: str, ranges: tuple[_Range, ...]) -> float:
    fitting = [found for found in ranges if found.exactness(media_type) >= 0]
    closest = max((found.exactness(media_type) for found in fitting), default=-1)
    return max((found.weight for found in fitting if found.exactness(media_type) == closest), default=0.0)
