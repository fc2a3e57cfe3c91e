"""From a filled-in form to the documents of records: what the form shows is read, all else stays as it is.

An input whose text is as it was shown leaves its value alone to the last digit; so a form that is sent
without a change changes nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial
from typing import Any

from guardbook.intake import lists
from guardbook.intake.cells import Answered
from guardbook.intake.drafts import Findings, shown
from guardbook.intake.form_answers import lay_answers
from guardbook.intake.form_texts import ANSWERS, Texts, one_text, rows_in, same_text, texts_of
from guardbook.intake.form_values import read_texts
from guardbook.intake.merge import in_series
from guardbook.records.base import Model, Record
from guardbook.records.fields import fields_of

Document = dict[str, Any]
HOLES, FOLDS = "holes", "folds"
_NAMES = {"id", "type"}


@dataclass
class FormReader:
    """Reads the inputs of one form; faults go to the findings, under the names of the inputs.

    `rows` says which row of the form each part of a list came from: `{"placing.positions": [0, 2]}`.
    """

    texts: Texts
    findings: Findings
    rows: dict[str, list[int]] = field(default_factory=dict)

    def read(self, model: type[Record], prefix: str, base: Mapping[str, Any]) -> Document:
        """Give the document that the inputs under `prefix` make of a record's document.

        Records that are named are Mentions in it, stages StageMentions.
        """
        said: dict[str, str] = {}
        document = self._read(model, prefix, base, said)
        self._add_traces(document, prefix)
        if said:
            others = [one for one in document.get(ANSWERS, ()) if one["asked"] not in said]
            added = [{"asked": name, "answer": answer} for name, answer in said.items()]
            document[ANSWERS] = [*others, *added]
        lay_answers(document, self.texts, prefix, base, self.findings)
        return document

    def _read(
        self, model: type[Model], prefix: str, base: Mapping[str, Any], said: dict[str, str]
    ) -> Document:
        document = dict(base)
        before = texts_of(base, model, prefix)
        for one in fields_of(model):
            name = f"{prefix}.{one.json_name}"
            if name not in self.texts or one.json_name == ANSWERS:
                continue
            if one.part:
                value: Any = self._parts(one.part, name, base.get(one.json_name, ()), said)
            elif same_text(self.texts[name], before[name]):
                continue
            else:
                value = read_texts(self.texts[name], model, one, name, self.findings)
            if isinstance(value, Answered):
                said[one.json_name], value = value.slug, None
            document[one.json_name] = value
            if value is None:
                del document[one.json_name]
        return document

    def _parts(
        self, model: type[Model], name: str, before: Sequence[Document], said: dict[str, str]
    ) -> list[Document] | None:
        known = {"#" + str(part["id"]).rpartition("#")[2]: part for part in before}
        made, rows = [], []
        for at in rows_in(self.texts, name):
            identity = one_text(self.texts, f"{name}.{at}.id")
            start = known.get(identity, {"id": identity} if identity else {})
            part = self._read(model, f"{name}.{at}", start, said)
            if identity in known or part.keys() - _NAMES or self._is_named(identity, name):
                made.append(part)
                rows.append(at)
        self.rows[name] = rows
        return made or None

    def _is_named(self, identity: str, name: str) -> bool:
        """Tell whether another input names a part, so that it is kept though nothing is said of it."""
        own = f"{name}."
        return bool(identity) and any(
            identity in texts for key, texts in self.texts.items() if not key.startswith(own)
        )

    def _add_traces(self, document: Document, prefix: str) -> None:
        """Add the holes and folds that are written as lists, each list a series of its own."""
        for at in rows_in(self.texts, f"{prefix}.{HOLES}"):
            name = f"{prefix}.{HOLES}.{at}"
            kind = one_text(self.texts, f"{name}.kind") or "sewing-hole"
            self._add(document, f"{name}.list", partial(lists.holes, feature=kind))
        width, height = (str(document.get(side, "")) for side in ("width", "height"))
        self._add(document, f"{prefix}.{FOLDS}", partial(lists.folds, width=width, height=height))

    def _add(self, document: Document, name: str, read: Callable[[str], lists.Listed]) -> None:
        if not (written := one_text(self.texts, name)):
            return
        try:
            found = read(written)
        except ValueError as refusal:
            self.findings.refused(name, shown(written), refusal)
            return
        for taken, other in found.doubts:
            self.findings.ask(name, shown(written), taken, other)
        document["features"] = [*document.get("features", ()), *in_series(document, found.parts)]
