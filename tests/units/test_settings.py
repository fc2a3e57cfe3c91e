"""Settings come from the environment, and one that makes no sense is told with an example."""

from collections.abc import Iterator

import pytest

from guardbook import settings


@pytest.fixture(autouse=True)
def read_anew() -> Iterator[None]:
    settings.current.cache_clear()
    yield
    settings.current.cache_clear()


def test_without_settings_queries_have_limits_and_no_licence_is_stated() -> None:
    found = settings.current()
    assert (found.sparql.seconds, found.sparql.rows, found.sparql.at_once) == (20, 10_000, 2)
    assert found.licence is None


def test_limits_and_licence_are_read(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("GUARDBOOK_SPARQL_SECONDS", "3")
    monkeypatch.setenv("GUARDBOOK_SPARQL_MEMORY_MB", "200")
    monkeypatch.setenv("GUARDBOOK_LICENCE", " https://creativecommons.org/licenses/by/4.0/ ")
    found = settings.current()
    assert (found.sparql.seconds, found.sparql.memory_mb) == (3, 200)
    assert found.licence == "https://creativecommons.org/licenses/by/4.0/"


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("GUARDBOOK_SPARQL_SECONDS", "0"),
        ("GUARDBOOK_SPARQL_ROWS", "many"),
        ("GUARDBOOK_SPARQL_MEMORY_MB", "-1"),
        ("GUARDBOOK_SPARQL_AT_ONCE", "1.5"),
        ("GUARDBOOK_LICENCE", "CC BY"),
        ("GUARDBOOK_BASE", "books.example"),
    ],
)
def test_a_setting_that_makes_no_sense_is_named(
    monkeypatch: pytest.MonkeyPatch, name: str, value: str
) -> None:
    monkeypatch.setenv(name, value)
    with pytest.raises(ValueError, match=name) as refused:
        settings.current()
    assert repr(value) in str(refused.value)
