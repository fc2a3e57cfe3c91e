"""The top folder holds what its readers expect, and nothing that was built or that names one machine."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.house import imports, sources

TOP_LEVEL = {
    "README.md",
    "DEVELOPERS.md",
    "pyproject.toml",
    "service",
    "shapes",
    "tests",
    "demo_graph",
    "docs",
}
BESIDE_THEM = re.compile(r"\..+|LICENSE|NOTICE|CITATION\.cff|.+\.lock")
TEST_FOLDERS = {"house", "outside", "faults", "benchmarks", "browser", "docs", "demo"}
BUILT = re.compile(
    r"(^|/)(\.venv|node_modules|__pycache__|dist|build|\.guardbook|\.\w+_cache)(/|$)|\.(py[cod]|sqlite3?|db|whl)$"
)
# an absolute path of somebody's machine
LOCAL_PATH = re.compile(r"(?<![\w.:/<{}$*-])/(?:home|root|tmp|work|opt|Users|mnt|srv|var/folders)/[\w.]")
PIN = re.compile(r"^\S+==\S+.*$", re.MULTILINE)
ADDRESS = re.compile(r"https?://|file:")


@pytest.fixture
def under_version_control(needs: Callable[[str], Path]) -> list[str]:
    return sources.tracked(needs("git"))


def text_of(path: str) -> str:
    """Give a file's text; nothing where it is a picture, or is about to leave version control."""
    file = sources.TOP / path
    content = file.read_bytes() if file.is_file() else b""
    return "" if b"\0" in content else content.decode("utf-8", errors="replace")


def test_the_top_folder_holds_nothing_else(under_version_control: list[str]) -> None:
    names = {path.partition("/")[0] for path in under_version_control}
    assert {name for name in names - TOP_LEVEL if not BESIDE_THEM.fullmatch(name)} == set()


def test_tests_stand_on_the_floors_of_what_they_test(under_version_control: list[str]) -> None:
    folders = {path.split("/")[1] for path in under_version_control if re.match("tests/[^/]+/", path)}
    assert folders - TEST_FOLDERS - imports.FLOORS.keys() == set()


def test_nothing_that_was_built_is_kept(under_version_control: list[str]) -> None:
    assert [path for path in under_version_control if BUILT.search(path)] == []


def test_no_file_names_a_place_on_one_machine(under_version_control: list[str]) -> None:
    found = {path: LOCAL_PATH.findall(text_of(path)) for path in under_version_control}
    assert {path: places for path, places in found.items() if places} == {}


def test_lock_files_do_not_say_where_packages_come_from(under_version_control: list[str]) -> None:
    locks = [path for path in under_version_control if path.endswith(".lock")]
    assert {"service.lock", "tests.lock"} <= set(locks)
    assert [path for path in locks if ADDRESS.search(text_of(path))] == []


def test_the_node_lock_file_does_not_say_where_packages_come_from() -> None:
    assert '"resolved"' not in text_of("tests/outside/node/package-lock.json")


def test_the_test_list_holds_the_service_list_pin_by_pin() -> None:
    service, tests = (set(PIN.findall(text_of(path))) for path in ("service.lock", "tests.lock"))
    assert len(service) > 10
    assert service - tests == set()


@pytest.mark.parametrize(
    ("text", "seen"),
    [
        ("see " + "/home" + "/anna/x", True),
        ('open("' + "/root" + '/x")', True),
        ("<http://example.org" + "/work" + "/x>", False),
        ("tests" + "/home" + "/x", False),
        ("GET /records/x", False),
    ],
)
def test_a_place_on_one_machine_is_told_from_other_paths(text: str, seen: bool) -> None:
    assert bool(LOCAL_PATH.search(text)) is seen
