"""A report in plain words, for the terminal and for print: what cannot be got later comes first."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from guardbook.completeness.finding import VIOLATION
from guardbook.completeness.outcome import AnsweredItem, Missing, Outcome
from guardbook.records import terms

_STAGES = {
    "on-sight": "on sight",
    "before-lifting": "before lifting",
    "after-lifting": "after lifting",
    "ready-to-share": "ready to share",
}
_TOO_LATE = {
    "before-lifting": "Cannot be got later: once the piece is lifted, this is gone",
    "after-lifting": "Cannot be got later: once the piece is back in its place, this is out of reach",
}
_STILL = "Can still be got"


def in_words(report: Outcome, language: str) -> str:
    """Give the report as text; labels of fields and of answers in a language, sentences in English."""
    lines = [_headline(report)]
    lines += [report.because] if report.because else []
    for heading, items in groupby(report.missing, key=_heading):
        lines += ["", heading]
        for _, alike in groupby(items, key=_likeness):
            lines += ["", *_item(list(alike), report, language)]
    lines += _listed("Answered instead", (_answered(item, report, language) for item in report.answered))
    lines += _listed("Mind", report.cautions)
    lines += _listed("Shapes of the workshop that could not be used", report.left_out)
    return "\n".join(lines) + "\n"


def _headline(report: Outcome) -> str:
    name = _name(report.focus[0], report)
    stage = _STAGES[report.stage]
    required = [item for item in report.missing if item.severity == VIOLATION]
    if not report.missing:
        return f"{name}: complete for the stage '{stage}'."
    if not required:
        wished = _things(len(report.missing))
        return f"{name}: complete for the stage '{stage}'; {wished} would be worth having."
    gone = sum(not item.later for item in required)
    never = f", {gone} of which cannot be got later" if gone else ""
    verb = "is" if len(required) == 1 else "are"
    return f"{name}, for the stage '{stage}': {_things(len(required))} {verb} missing{never}."


def _things(number: int) -> str:
    return "1 thing" if number == 1 else f"{number} things"


def _heading(item: Missing) -> str:
    return _STILL if item.later else _TOO_LATE.get(item.stage, "Cannot be got later")


def _likeness(item: Missing) -> tuple[str, str, str]:
    """What is missing alike from several parts of one record is said once."""
    return item.record, item.label, item.message


def _item(alike: list[Missing], report: Outcome, language: str) -> Iterator[str]:
    item = alike[0]
    places = [place for one in alike if (place := _place(one.about, report))]
    where = f" ({'; '.join(places)})" if places else ""
    worth = "" if item.severity == VIOLATION else " [worth having]"
    label = item.labels.get(language) or item.label or "This record"
    yield f"  {label}{where}: {item.message}{worth}"
    if item.why:
        yield f"    Why: {item.why}"
    if item.how:
        yield f"    How: {item.how}"
    if item.accepts:
        yield f"    Or answer: {_answers(item.accepts, language)}."
    if item.answered:
        yield f"    It was answered '{item.answered}', which does not count here."


def _place(about: str, report: Outcome) -> str:
    """Name the record, unless it is the one asked about, and the part of it."""
    record, _, part = about.partition("#")
    name = "" if record == report.focus[0] else _name(record, report)
    return ", ".join(filter(None, (name, part.replace("-", " "))))


def _answers(slugs: tuple[str, ...], language: str) -> str:
    return "; ".join(terms.label("answer", slug, language) for slug in slugs)


def _answered(item: AnsweredItem, report: Outcome, language: str) -> str:
    place = _place(item.record, report)
    where = f" ({place})" if place else ""
    reason = f": {item.reason}" if item.reason else ""
    label = item.labels.get(language) or item.label
    return f"{label}{where}: {_answers((item.answer,), language)}{reason}"


def _listed(heading: str, items: Iterator[str] | tuple[str, ...]) -> list[str]:
    lines = [f"  {item}" for item in items]
    return ["", heading, *lines] if lines else []


def _name(record: str, report: Outcome) -> str:
    short = "/".join(record.rsplit("/", 2)[-2:])
    title = report.titles.get(record)
    return f"{title} ({short})" if title else short
