"""Every text is there in every language, and says the same places by name."""

from __future__ import annotations

import string
from pathlib import Path

import pytest
from babel.messages.catalog import Catalog, Message

from guardbook import wording
from guardbook.wording import _, either, ngettext, pgettext, speaking
from tests.wording import catalogues
from tests.wording.catalogues import TRANSLATED, catalogue, in_step, messages, written


def texts_of(message: Message) -> list[tuple[str, str]]:
    """Pair each form of a translation with the English that it stands for."""
    if isinstance(message.id, str):
        return [(message.id, str(message.string))]
    one, many = message.id
    forms = list(message.string or ())
    return [(one, forms[0]), *((many, form) for form in forms[1:])]


def texts(found: Catalog) -> list[tuple[str, str]]:
    """Give every English text with its translation."""
    return [pair for message in found if message.id for pair in texts_of(message)]


def places(text: str) -> set[str]:
    """Give the names of what is put into a text, as Python and as Jinja name them."""
    braced = text.replace("%(", "{").replace(")s", "}")
    named = {name for _text, name, _form, _how in string.Formatter().parse(braced) if name}
    return {name.partition(".")[0].partition("[")[0] for name in named}


@pytest.mark.parametrize("language", TRANSLATED)
def test_the_file_of_a_language_holds_just_the_texts_that_are_said(language: str) -> None:
    kept = (wording.FOLDER / f"{language}.po").read_bytes()
    assert kept == written(in_step(language)), "run: python -m tests.wording.catalogues"


@pytest.mark.parametrize("language", TRANSLATED)
def test_no_text_waits_for_its_translation(language: str) -> None:
    assert [english for english, said in texts(catalogue(language)) if not said.strip()] == []


@pytest.mark.parametrize("language", TRANSLATED)
def test_a_translation_puts_in_what_the_english_puts_in(language: str) -> None:
    # where one is meant, the number itself may be left unsaid
    differing = [
        (english, said)
        for english, said in texts(catalogue(language))
        if places(said) - places(english) or places(english) - places(said) - {"count"}
    ]
    assert differing == []


def ends(text: str) -> tuple[bool, bool, bool]:
    """Say whether a text begins or ends with room, and whether it is a sentence to its stop."""
    # a colon that begins a text has room before it in French, and none in English
    begun = text.lstrip() if text.lstrip().startswith(":") else text
    return begun[:1].isspace(), text[-1:].isspace(), text.endswith((".", "…"))


@pytest.mark.parametrize("language", TRANSLATED)
def test_a_translation_begins_and_ends_as_the_english_does(language: str) -> None:
    # abbreviations end in stops of their own, so a stop more is let pass
    differing = [
        (english, said)
        for english, said in texts(catalogue(language))
        if ends(english)[:2] != ends(said)[:2] or ends(english)[2] > ends(said)[2]
    ]
    assert differing == []


@pytest.mark.parametrize("language", TRANSLATED)
def test_a_translation_has_a_second_sentence_where_the_english_has_one(language: str) -> None:
    # what was expected and what to do are parted there, and an abbreviation would be taken for the end
    differing = [
        (english, said)
        for english, said in texts(catalogue(language))
        if said and (". " in english) != (". " in said)
    ]
    assert differing == []


def test_texts_of_code_pages_shapes_and_rules_are_all_gathered() -> None:
    found = {text for text, _context in messages()}
    assert "Its first fixing ({fixing}) is lost in the lifting; {place}." in found
    assert "Name the person who looked at the piece for this record." in found
    assert len(found) > 1000


def test_a_new_text_waits_in_every_language(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(catalogues, "messages", lambda: (("A text nobody has translated", None),))
    for language in TRANSLATED:
        assert texts(in_step(language)) == [("A text nobody has translated", "")]


def test_each_language_is_spoken_where_it_is_asked_for_only() -> None:
    text = "Nothing is missing for this stage of the work."
    said = {}
    for language in wording.LANGUAGES:
        with speaking(language):
            said[language] = _(text)
    assert said["en"] == text == _(text)
    assert len(set(said.values())) == len(said)


def test_a_language_there_is_not_is_refused() -> None:
    with pytest.raises(ValueError, match="en, ca, es, fr, de, it, found 'eo'"), speaking("eo"):
        pass


def test_what_may_be_meant_is_joined_by_or() -> None:
    assert [either(names) for names in ((), ("V-1",), ("V-1", "{V-2}", "V-3"))] == [
        "",
        "V-1",
        "V-1 or {V-2} or V-3",
    ]


def test_what_is_not_translated_is_said_in_english() -> None:
    with speaking("fr"):
        assert _("xyzzy") == pgettext("spell", "xyzzy") == "xyzzy"
        assert ngettext("one xyzzy", "many xyzzy", 2) == "many xyzzy"
    assert isinstance(wording.FOLDER, Path)
