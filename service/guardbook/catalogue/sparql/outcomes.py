"""How the process of a question ended, in the words of our errors."""

from __future__ import annotations

import json
import re
import signal
import sys
from typing import Any

from guardbook.catalogue.sparql.prefixes import undeclared
from guardbook.catalogue.sparql.question import GRAPH_FORMS, SOLUTION_FORMS
from guardbook.catalogue.sparql.refusals import refused_at
from guardbook.errors import NotAcceptable, QueryRefused, QueryStopped
from guardbook.settings import SparqlLimits
from guardbook.wording import _, ngettext

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
            raise _other_forms(said["message"])
        case "time":
            told = ngettext(
                "The query was stopped at the limit of {count} second. Ask for less, or join the patterns "
                "by more terms.",
                "The query was stopped at the limit of {count} seconds. Ask for less, or join the patterns "
                "by more terms.",
                limits.seconds,
            )
            raise QueryStopped(message=told.format(count=limits.seconds))
        case "memory":
            told = _(
                "The query was stopped at the limit of {size} MB of memory. Ask for less, sort less, or nest "
                "less deeply."
            )
            raise QueryStopped(message=told.format(size=limits.memory_mb))
    told = _("The query could not be answered: {reason}")
    raise QueryStopped(message=told.format(reason=said["message"]))


def _other_forms(given: str) -> NotAcceptable:
    if given == "solutions":
        told, forms = _("This query gives solutions, to be had as {forms}."), SOLUTION_FORMS
    else:
        told, forms = _("This query gives a graph, to be had as {forms}."), GRAPH_FORMS
    return NotAcceptable(message=told.format(forms=", ".join(forms.values())))


def _not_understood(text: str, message: str) -> QueryRefused:
    if refused := undeclared(text):
        return refused
    found = _PLACE.search(message)
    if not found:
        return QueryRefused(message=_("This is no SPARQL query: {reason}").format(reason=message))
    line, column = int(found[1]), int(found[2])
    rest = "".join(text.splitlines()[line - 1 : line])[column - 1 :]
    rest = repr(rest[:40]) if rest.strip() else _("the end of the line")
    return refused_at(line, column, rest, _expected(found[3]))


def _expected(items: str) -> str:
    """Give, of all that the grammar would take, the words and signs; not every letter of a name."""
    words = [item.strip('"') for item in items.split(", ") if _WORD.fullmatch(item)]
    return _("one of {names}").format(names=" ".join(words[:_MOST_WORDS])) if words else items[:200]
