"""Turn Pydantic's validation errors into our faults, in words a conservator can act on."""

from __future__ import annotations

from typing import Any

from pydantic import ValidationError

from guardbook.errors import Fault
from guardbook.wording import _, said_later

_EXPECTED = {
    "missing": said_later("a value (this field is required)"),
    "extra_forbidden": said_later("no such field"),
    "decimal_parsing": said_later("a number with a decimal point, such as 45.5"),
    "decimal_type": said_later("a number with a decimal point, such as 45.5"),
    "int_parsing": said_later("a whole number"),
    "int_type": said_later("a whole number"),
    "int_parsing_size": said_later("a whole number"),
    "int_from_float": said_later("a whole number"),
    "bool_parsing": said_later("true or false"),
    "bool_type": said_later("true or false"),
    "string_type": said_later("text"),
    "string_pattern_mismatch": said_later("text of the form {pattern}"),
    "greater_than_equal": said_later("{ge} or more"),
    "greater_than": said_later("more than {gt}"),
    "less_than_equal": said_later("{le} or less"),
    "decimal_max_digits": said_later("a number of at most {max_digits} digits"),
    "decimal_whole_digits": said_later("a number of at most {whole_digits} digits"),
    "finite_number": said_later("a finite number"),
    "tuple_type": said_later("a list"),
    "model_type": said_later("an object with fields"),
}


def faults_from(error: ValidationError, prefix: str = "") -> tuple[Fault, ...]:
    """Give one fault for each thing Pydantic found wrong.

    `prefix` goes before the path, for instance `records[3]`.
    """
    return tuple(_fault(found, prefix) for found in error.errors(include_url=False))


def _fault(found: Any, prefix: str) -> Fault:
    context = found.get("ctx", {})
    if found["type"] == "value_error":
        expected, _stop, mend = str(context["error"]).partition(". ")
    else:
        template = _(_EXPECTED.get(found["type"], found["msg"]))
        expected, mend = template.format(**context) if "{" in template else template, ""
    value = found["input"]
    shown = _("nothing") if found["type"] == "missing" else _shown(value)
    return Fault(where=_path(found["loc"], prefix), found=shown, expected=expected, mend=mend)


def _shown(value: Any) -> str:
    if isinstance(value, (dict, list, tuple)):
        return _("a list") if isinstance(value, (list, tuple)) else _("an object")
    text = repr(value) if isinstance(value, str) else str(value)
    return text if len(text) <= 80 else text[:77] + "..."


def _path(location: tuple[Any, ...], prefix: str) -> str:
    path = prefix
    for step in location:
        path += f"[{step}]" if isinstance(step, int) else f".{step}" if path else str(step)
    return path or _("the record")
