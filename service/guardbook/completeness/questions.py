"""What is asked of each kind of record, stage by stage: the fields of a form that come first, and why.

A question is asked of a field of the model, or of something beside it (a piece is asked for its volume,
which the placing names); then only an answer can be given to it here.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from guardbook.completeness.forms import form_of, groups
from guardbook.completeness.requirements import requirements
from guardbook.completeness.shape_files import STAGES


@dataclass(frozen=True, kw_only=True)
class Question:
    """One field, or thing, that is asked of a model; `stage` is the first that asks for it.

    `accepts` are the answers that count instead of a value, `later` whether it can still be got afterwards.
    """

    model: str
    asks: str
    stage: str
    labels: Mapping[str, str] = field(default_factory=dict)
    why: str = ""
    how: str = ""
    accepts: tuple[str, ...] = ()
    later: bool = True
    group: str = ""
    order: int = 0

    def label(self, language: str = "en") -> str:
        """Give what is asked for in a language, or in English, or the name of the field."""
        return self.labels.get(language) or self.labels.get("en") or self.asks


def questions_of(model: str) -> tuple[Question, ...]:
    """Give what the stages ask of a model (`Fragment`, or a part such as `Position`), in order.

    What two stages ask for comes once, with every answer that either accepts.
    """
    found: dict[str, Question] = {}
    for stage in STAGES:
        for one in requirements(stage).values():
            if model in one.models and one.asks:
                first = found.get(one.asks)
                asked = _question(model, stage, one.asks)
                accepts = {*(first.accepts if first else ()), *one.accepts, *one.accepts_afterwards}
                found[one.asks] = Question(
                    model=model,
                    asks=one.asks,
                    stage=first.stage if first else stage,
                    labels=one.labels or (first.labels if first else asked.labels),
                    why=first.why if first else one.why or asked.why,
                    how=first.how if first else one.how or asked.how,
                    accepts=tuple(sorted(accepts)),
                    later=first.later if first else one.later,
                    group=first.group if first else one.group or asked.group,
                    order=first.order if first else one.order or asked.order,
                )
    return tuple(sorted(found.values(), key=_place))


def _question(model: str, stage: str, name: str) -> Question:
    """Take what a requirement does not say itself from the form of its field, if it is one."""
    form = form_of(model, name)
    if form is None:
        return Question(model=model, asks=name, stage=stage)
    return Question(
        model=model,
        asks=name,
        stage=stage,
        labels=form.labels,
        why=form.reason,
        how=form.how,
        group=form.group,
        order=form.order,
    )


def _place(question: Question) -> tuple[int, int, int]:
    heading = groups().get(question.group)
    return STAGES.index(question.stage), heading.order if heading else len(groups()), question.order
