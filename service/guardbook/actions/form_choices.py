"""What can be chosen in an input: trade terms, yes or no, stages of a volume, parts of the same record."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from guardbook import settings
from guardbook.actions.form_parts import Choice
from guardbook.catalogue.access import Access
from guardbook.errors import GuardbookError
from guardbook.intake.form_texts import Texts, one_text, rows_in
from guardbook.records import terms
from guardbook.records.host import HostVolume
from guardbook.wording import _, language


def chosen_of(choices: Iterable[tuple[str, str]], texts: Sequence[str]) -> tuple[Choice, ...]:
    """Give choices with those chosen that the texts name; a text that is no choice is added as it stands."""
    made = [Choice(value=value, label=label, chosen=value in texts) for value, label in choices]
    known = {one.value for one in made}
    others = [Choice(value=text, label=text, chosen=True) for text in texts if text and text not in known]
    return (*made, *others)


def nothing() -> tuple[str, str]:
    """Give the choice that says nothing."""
    return "", _("not said")


def of_terms(scheme: str) -> list[tuple[str, str]]:
    """Give the terms of a list in the language now spoken, sorted by their labels."""
    found = [(slug, concept.label(language())) for slug, concept in terms.of_scheme(scheme).items()]
    return sorted(found, key=lambda pair: terms.folded(pair[1]))


def yes_or_no() -> list[tuple[str, str]]:
    """Give yes and no."""
    return [("true", _("yes")), ("false", _("no"))]


def of_parts(texts: Texts, name: str) -> list[tuple[str, str]]:
    """Give the parts of one list of a record as they stand in the form, by their names."""
    identities = (one_text(texts, f"{name}.{at}.id") for at in rows_in(texts, name))
    return [(one, _told(texts, name, one)) for one in identities if one]


def _told(texts: Texts, name: str, identity: str) -> str:
    """Say of a part what its row says of it, after its name."""
    for at in rows_in(texts, name):
        row = f"{name}.{at}"
        if one_text(texts, f"{row}.id") == identity:
            words = (
                one_text(texts, f"{row}.name"),
                terms.label("option", one_text(texts, f"{row}.optionKind"), language()),
                terms.label("use", one_text(texts, f"{row}.use"), language()),
            )
            return ": ".join([identity.removeprefix("#"), *filter(None, words)])
    return identity


@dataclass(frozen=True)
class Stages:
    """The stages that inputs of one form can name: of the volumes that it names, or is about."""

    access: Access
    texts: Texts

    def of_role(self, role: str, model: type) -> list[tuple[str, str]]:
        """Give the stages of the volume of a record: its own, or those of the volume that it names."""
        if model is HostVolume:
            return list(self._typed(role))
        named = [one_text(self.texts, f"{role}.host"), *one_text(self.texts, f"{role}.depicts").split(";")]
        hosts = [host for host in (self._host(text.strip()) for text in named) if host]
        return [choice for host in hosts for choice in self._of(host)]

    def _host(self, text: str) -> str:
        """Give `host/IDENTIFIER` of what was typed, where that is a volume."""
        if text and text == one_text(self.texts, "id.host"):
            return text
        try:
            iri = self.access.resolve(text) if text else ""
        except GuardbookError:
            return ""
        short = iri.removeprefix(settings.current().base)
        return short if short.startswith("host/") else ""

    def _of(self, host: str) -> Iterator[tuple[str, str]]:
        iri = settings.current().base + host
        if not self.access.has(iri):
            yield from self._typed("host")
            return
        record = self.access.record(iri).record
        stages = record.stages if isinstance(record, HostVolume) else ()
        for stage in sorted(stages, key=lambda one: one.number):
            yield host + stage.id, stage_words(stage.number, stage.stage_kind, stage.name, stage.when)

    def _typed(self, role: str) -> Iterator[tuple[str, str]]:
        """Give the stages that stand in the form itself."""
        host, name = one_text(self.texts, f"id.{role}"), f"{role}.stages"
        for at in rows_in(self.texts, name):
            said = [
                one_text(self.texts, f"{name}.{at}.{key}") for key in ("number", "stageKind", "name", "when")
            ]
            identity = one_text(self.texts, f"{name}.{at}.id")
            if identity:
                yield host + identity, stage_words(*said)


def stage_words(number: object, kind: str, name: str | None, when: str | None) -> str:
    """Say which stage it is: `2. as received, 2024`."""
    called = name or terms.label("stage-kind", kind, language())
    return f"{number}. {called}, {when}" if when else f"{number}. {called}"
