"""The answers of a form in place of values: looked for and not found, cannot be known, does not apply."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from guardbook.intake.drafts import Findings
from guardbook.intake.form_texts import ANSWERS, Texts, one_text, same_text, texts_of_answers
from guardbook.wording import _

Document = dict[str, Any]


def lay_answers(
    document: Document, texts: Texts, prefix: str, base: Mapping[str, Any], findings: Findings
) -> None:
    """Lay the answers that a form gives over those of a document; a value newly given ends an answer.

    An answer beside a value is a fault.
    """
    name = f"{prefix}.{ANSWERS}"
    answers = list(document.get(ANSWERS, ()))
    before = texts_of_answers(base.get(ANSWERS, ()), name)
    for asked in _asked(texts, name):
        first = next((one for one in answers if one["asked"] == asked), None)
        keys = (f"{name}.{asked}.answer", f"{name}.{asked}.reason")
        if all(same_text(texts.get(key, ()), before.get(key, ())) for key in keys):
            if first and asked in document and asked not in base:
                answers.remove(first)
            continue
        answers = [one for one in answers if one["asked"] != asked]
        if given := one_text(texts, keys[0]):
            if asked in document:
                mend = _("Take the value away, or leave the answer out.")
                findings.fault(keys[0], repr(given), _("no answer beside a value"), mend)
            reason = one_text(texts, keys[1])
            kept = {key: value for key, value in (first or {"asked": asked}).items() if key != "reason"}
            answers.append({**kept, "answer": given, **({"reason": reason} if reason else {})})
    document[ANSWERS] = answers
    if not answers:
        del document[ANSWERS]


def _asked(texts: Texts, name: str) -> Iterator[str]:
    for key in texts:
        if key.startswith(f"{name}.") and key.endswith(".answer"):
            yield key.removeprefix(f"{name}.").removesuffix(".answer")
