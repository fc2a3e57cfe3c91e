"""How the process of a question ended, in the words of our errors."""

from __future__ import annotations

import json
import re
import signal
import sys
from typing import Any

from guardbook.catalogue.sparql.question import GRAPH_FORMS, SOLUTION_FORMS
from guardbook.errors import Fault, NotAcceptable, QueryRefused, QueryStopped
from guardbook.settings import SparqlLimits

_PLACE = re.compile(r"error at (\d+):(\d+): (?:expected )?(?:one of )?(.*)", re.DOTALL)
_WORD = re.compile(r'"[^"\\]+"|[A-Z]+')
_MOST_WORDS = 24

Said = dict[str, Any]


def told(code: int, said: bytes) -> Said:
    """Give what the process said last, or what its exit code says where it was ended."""
    if code == 0:
        last: Said = json.loads(said.splitlines()[-1])
        return last
    ended_by = {-signal.SIGALRM: "time", -signal.SIGXCPU: "time"} if sys.platform != "win32" else {}
    # the engine aborts where it is given no more memory, and the system kills where it has none
    return {"error": ended_by.get(code, "memory")}


def raise_error(said: Said, text: str, limits: SparqlLimits) -> None:
    """Raise what went wrong, if anything did: QueryRefused, QueryStopped or NotAcceptable."""
    match said.get("error"):
        case None:
            return
        case "syntax":
            raise _not_understood(text, said["message"])
        case "form":
            forms = SOLUTION_FORMS if said["message"] == "solutions" else GRAPH_FORMS
            raise NotAcceptable(
                message=f"This query gives {said['message']}, to be had as {', '.join(forms.values())}."
            )
        case "time":
            found, mend = f"{limits.seconds} seconds", "Ask for less, or join the patterns by more terms."
        case "memory":
            found, mend = f"{limits.memory_mb} MB of memory", "Ask for less, sort less, or nest less deeply."
        case _:
            raise QueryStopped(message=f"The query could not be answered: {said['message']}")
    raise QueryStopped(message=f"The query was stopped at the limit of {found}. {mend}")


def _not_understood(text: str, message: str) -> QueryRefused:
    found = _PLACE.search(message)
    if not found:
        return QueryRefused(message=f"This is no SPARQL query: {message}")
    line, column = int(found[1]), int(found[2])
    where = f"line {line}, column {column}"
    rest = "".join(text.splitlines()[line - 1 : line])[column - 1 :]
    fault = Fault(
        where=where,
        found=repr(rest[:40]) if rest.strip() else "the end of the line",
        expected=_expected(found[3]),
    )
    details = {"line": line, "column": column}
    return QueryRefused(message=f"This is no SPARQL query ({where}).", faults=(fault,), details=details)


def _expected(items: str) -> str:
    """Give, of all that the grammar would take, the words and signs; not every letter of a name."""
    words = [item.strip('"') for item in items.split(", ") if _WORD.fullmatch(item)]
    return f"one of {' '.join(words[:_MOST_WORDS])}" if words else items[:200]
