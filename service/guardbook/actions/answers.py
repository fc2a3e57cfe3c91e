"""What an action answers, as plain data: the one JSON form that the terminal and the API share.

Names are written as everywhere in JSON (`workshopNumber`), decimals as text with all their digits, days and
times in ISO 8601, a record as its JSON document.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from enum import Enum
from typing import Any

from guardbook.errors import Fault
from guardbook.records.base import Model, Record, camel
from guardbook.records.documents import to_document


def as_json(answer: Any) -> Any:
    """Give an answer, whatever it is made of, as what `json.dumps` takes.

    >>> as_json((Decimal("45.50"), None))
    ['45.50', None]
    """
    match answer:
        case None | bool() | int() | float():
            return answer
        case Enum():
            return as_json(answer.value)
        case str() | Decimal():
            return str(answer)
        case date():
            return answer.isoformat()
        case Fault():
            return answer.as_json()
        case Record():
            return to_document(answer)
        case Model():
            return answer.model_dump(mode="json", by_alias=True, exclude_none=True)
        case Mapping():
            return {str(key): as_json(value) for key, value in answer.items()}
        case list() | tuple() | set() | frozenset():
            return [as_json(item) for item in answer]
        case _:
            return _fields(answer)


def _fields(answer: Any) -> dict[str, Any]:
    """Give the fields of one of our frozen answers; one that writes itself is asked to."""
    if writes_itself := getattr(answer, "as_json", None):
        written: dict[str, Any] = writes_itself()
        return written
    return {camel(part.name): as_json(getattr(answer, part.name)) for part in dataclasses.fields(answer)}
