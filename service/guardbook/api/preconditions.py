"""Which revision a change starts from: `If-Match` on a change, `If-None-Match: *` on a record that is new."""

from __future__ import annotations

import re
from typing import Annotated

from fastapi import Header

from guardbook.errors import RevisionRequired, WrongUse

IfMatch = Annotated[
    str | None,
    Header(
        alias="If-Match",
        description='The `ETag` of the revision you started from, such as `"3"`.',
        examples=['"3"'],
    ),
]
_TAG = re.compile(r'(W/)?"([^"]*)"')


def revision_in(if_match: str | None) -> int:
    """Give the number of the revision in an `If-Match`.

    Raises RevisionRequired without one (RFC 6585: 428), and for `*`, which would overwrite whatever is
    there; WrongUse where it is no entity tag of a record here.
    """
    if not if_match or if_match.strip() == "*":
        raise RevisionRequired(
            message="Say which revision you started from: send its ETag as If-Match (GET the record for it)."
        )
    found = _TAG.fullmatch(if_match.strip())
    if not found or found[1] or not re.fullmatch("[0-9]{1,9}", found[2]) or int(found[2]) < 1:
        raise WrongUse(message=f'If-Match must be one entity tag such as "3", not {if_match!r}.')
    return int(found[2])
