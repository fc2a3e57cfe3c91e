"""What the address of the find page asks for, and the addresses of other such questions."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from urllib.parse import urlencode

from starlette.datastructures import QueryParams

from guardbook.errors import Fault, WrongUse
from guardbook.wording import _

VIEWS = ("list", "pictures", "timeline")
FIRST_YEAR, LAST_YEAR = -9999, 9999
_ELSEWHERE = frozenset({"q", "kind", "view", "start", "from", "to", "as"})


@dataclass(frozen=True, kw_only=True)
class Question:
    """A question to the catalogue as its address puts it: everything that makes the address again.

    `since` and `until` are years as they were typed; `wrong` says what is wrong with them, in words.
    """

    words: str = ""
    kind: str = ""
    view: str = VIEWS[0]
    start: int = 0
    since: str = ""
    until: str = ""
    as_public: bool = False
    chosen: Mapping[str, str] = field(default_factory=dict)
    wrong: str = ""

    @property
    def facets(self) -> dict[str, str]:
        """Give the facets with the years as an EDTF date; without years that make no sense."""
        years = {} if self.wrong or not (self.since or self.until) else {"date": self._date()}
        return {**self.chosen, **years}

    def _date(self) -> str:
        return f"{_edtf_year(self.since)}/{_edtf_year(self.until)}"

    @property
    def address(self) -> str:
        """Give the address of this question, from the root of the site."""
        said = {
            "q": self.words,
            "kind": self.kind,
            **self.chosen,
            "from": self.since,
            "to": self.until,
            "view": self.view if self.view != VIEWS[0] else "",
            "start": str(self.start) if self.start else "",
            "as": "public" if self.as_public else "",
        }
        query = urlencode({name: value for name, value in said.items() if value})
        return f"/search?{query}" if query else "/search"

    def but(self, **others: object) -> Question:
        """Give the question with some of it changed, from its first record on unless that is told."""
        return replace(self, **{"start": 0, **others})  # type: ignore[arg-type]  # names are those above

    def with_facet(self, name: str, value: str) -> Question:
        """Give the question narrowed down by a facet."""
        return self.but(kind=value) if name == "kind" else self.but(chosen={**self.chosen, name: value})

    def without(self, name: str) -> Question:
        """Give the question without a facet."""
        if name == "kind":
            return self.but(kind="")
        return self.but(chosen={one: value for one, value in self.chosen.items() if one != name})

    def value_of(self, name: str) -> str | None:
        """Give what was chosen of a facet."""
        return (self.kind or None) if name == "kind" else self.chosen.get(name)


def question_in(query: QueryParams) -> Question:
    """Read the question in an address.

    Raises WrongUse for a view or a place in the list that makes no sense; years that make none are told of in
    the question, to be mended where they stand.
    """
    view, start = query.get("view") or VIEWS[0], query.get("start") or "0"
    faults = []
    if view not in VIEWS:
        faults.append(
            Fault(where="view", found=repr(view), expected=_("one of {names}").format(names=", ".join(VIEWS)))
        )
    if not (start.isascii() and start.isdigit() and len(start) < 10):
        faults.append(Fault(where="start", found=repr(start), expected=_("a whole number")))
    if faults:
        raise WrongUse(message=_("The search could not be understood."), faults=tuple(faults))
    since, until = (query.get(name, "").strip() for name in ("from", "to"))
    return Question(
        words=query.get("q", ""),
        kind=query.get("kind", ""),
        view=view,
        start=int(start),
        since=since,
        until=until,
        as_public=query.get("as") == "public",
        chosen=MappingProxyType(
            {name: value for name, value in query.items() if value and name not in _ELSEWHERE}
        ),
        wrong=_wrong_with(since, until),
    )


def _wrong_with(since: str, until: str) -> str:
    for text in (since, until):
        if text and _year(text) is None:
            return _(
                "A year is a whole number such as 1540, or −50 for one before our era; found “{found}”."
            ).format(found=text)
    first, last = _year(since), _year(until)
    if first is not None and last is not None and first > last:
        return _("The first year, {first}, comes after the last, {last}.").format(first=since, last=until)
    return ""


def _year(text: str) -> int | None:
    try:
        year = int(text.replace("−", "-"))
    except ValueError:
        return None
    return year if FIRST_YEAR <= year <= LAST_YEAR else None


def _edtf_year(text: str) -> str:
    """Write a year as EDTF has it, with four digits; an open side where there is none (ISO 8601-2:2019)."""
    if not text:
        return ".."
    year = _year(text) or 0
    return f"{'-' if year < 0 else ''}{abs(year):04d}"
