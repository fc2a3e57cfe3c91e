"""A part that this machine lacks is named, and never passed over where everything must be there."""

from collections.abc import Callable
from pathlib import Path

import pytest
from _pytest.outcomes import Failed, Skipped

from tests import parts

Needs = Callable[[str], Path]


def no_loom() -> None:
    raise OSError("looms are sold out")


@pytest.fixture(autouse=True)
def loom(monkeypatch: pytest.MonkeyPatch) -> parts.Part:
    """Add a part that cannot be had to a table that lists no other."""
    part = parts.Part("loom", "weaving", find=lambda: None, get=no_loom, by_hand="ask a weaver")
    monkeypatch.setattr(parts, "PARTS", {"loom": part})
    return part


def test_a_missing_part_skips_its_tests_and_says_how_to_have_it(
    needs: Needs, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("CI", raising=False)
    with pytest.raises(Skipped, match=r"loom is missing \(weaving\); to have it, ask a weaver"):
        needs("loom")


def test_a_missing_part_fails_its_tests_where_everything_must_be_there(
    needs: Needs, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("CI", "true")
    with pytest.raises(Failed, match="loom is missing"):
        needs("loom")


def test_a_part_that_is_there_is_handed_over(needs: Needs, loom: parts.Part, tmp_path: Path) -> None:
    parts.PARTS["loom"] = loom._replace(find=lambda: tmp_path)
    assert needs("loom") == tmp_path


def test_a_part_that_cannot_be_got_is_told_and_the_rest_goes_on(capsys: pytest.CaptureFixture[str]) -> None:
    parts.get_missing()
    said = capsys.readouterr().err
    assert "Getting loom, for weaving" in said
    assert "looms are sold out" in said
    assert "ask a weaver" in said


def test_a_program_that_fails_tells_its_last_words() -> None:
    with pytest.raises(OSError, match=r"(?s)failed:.*no-such-file"):
        parts.run("ls", "no-such-file")
