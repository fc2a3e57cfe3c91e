"""Every test asserts what may turn out false, has a sentence for a name, and is never switched off."""

import ast
from pathlib import Path

import pytest

from tests.house import sources

TEST_FILES = [
    path for path in sources.files_in(sources.TOP / "tests", ".py") if path.name.startswith("test_")
]
# calls that fail a test by themselves
JUDGING = {"raises", "warns", "fail"}
JUDGING_PREFIXES = ("assert_", "check_")
# ways to switch a test off that say nothing about a missing part; `needs` is the one way
SWITCHES = {"skip", "skipif", "importorskip", "skipTest"}
SHORTEST_SENTENCE_WORDS = 3


def judges(node: ast.AST) -> bool:
    """Tell whether this can fail a test: an assertion of something not fixed, or a call that judges."""
    if isinstance(node, ast.Assert):
        return not isinstance(node.test, ast.Constant | ast.Tuple)
    name = sources.called(node)
    return name in JUDGING or name.startswith(JUDGING_PREFIXES) or expects(node)


def expects(node: ast.AST) -> bool:
    """Tell whether this is what is expected of a page: `expect(...).to_...` of Playwright."""
    method = node.func if isinstance(node, ast.Call) else None
    return (
        isinstance(method, ast.Attribute)
        and method.attr.startswith(("to_", "not_to_"))
        and sources.called(method.value) == "expect"
    )


def faults(tree: ast.AST) -> list[str]:
    """List what is wrong with the tests of one file."""
    found = []
    for function in sources.functions(tree):
        name = function.name
        if name.lstrip("_x").startswith("test_") and not name.startswith("test_"):
            found.append(f"{name} is switched off by its name")
        if name.startswith("test_"):
            if not any(map(judges, ast.walk(function))):
                found.append(f"{name} asserts nothing")
            if len(name.split("_")) <= SHORTEST_SENTENCE_WORDS:
                found.append(f"{name} is no sentence")
    return found + switches(tree)


def switches(tree: ast.AST) -> list[str]:
    """List where a test is skipped by other means than `needs`, or is expected to fail without a reason."""
    found = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute) and node.attr in SWITCHES:
            found.append(f"line {node.lineno}: {node.attr} (use the fixture `needs`)")
        if sources.called(node) == "xfail" and "reason" not in {
            word.arg for word in getattr(node, "keywords", ())
        }:
            found.append(f"line {getattr(node, 'lineno', 0)}: xfail without a reason")
    return found


@pytest.mark.parametrize("path", TEST_FILES, ids=lambda path: str(path.relative_to(sources.TOP)))
def test_every_test_of_the_file_can_fail(path: Path) -> None:
    assert faults(sources.parsed(path)) == []


@pytest.mark.parametrize(
    "text",
    [
        "def test_a_piece_is_found(): find()",
        "def test_a_piece_is_found(): assert True",
        "def test_a_piece_is_found(): expect(page.locator('h1'))",
        "def test_a_piece_is_found(): assert (find(), 'always true')",
        "def _test_a_piece_is_found(): assert find()",
        "def xtest_a_piece_is_found(): assert find()",
        "def test_find(): assert find()",
        "@pytest.mark.skip\ndef test_a_piece_is_found(): assert find()",
        "@pytest.mark.xfail()\ndef test_a_piece_is_found(): assert find()",
        "class TestPieces:\n    async def test_a_piece_is_found(self): await find()",
    ],
)
def test_a_test_that_cannot_fail_is_seen(text: str) -> None:
    assert len(faults(ast.parse(text))) == 1


@pytest.mark.parametrize(
    "text",
    [
        "def test_a_piece_is_found(): assert find() == 3",
        "def test_a_piece_is_found():\n    with pytest.raises(KeyError): find()",
        "def test_a_piece_is_found():\n    for piece in pieces: check_found(piece)",
        "def test_a_piece_is_found(): expect(page.locator('h1')).not_to_have_text('')",
        "@pytest.mark.xfail(reason='known')\ndef test_a_piece_is_found(): assert find()",
    ],
)
def test_a_test_that_can_fail_is_let_pass(text: str) -> None:
    assert faults(ast.parse(text)) == []
