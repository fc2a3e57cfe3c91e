"""Files and functions stay short enough to be read in one look; there is no list of exceptions."""

import ast
import re
from collections.abc import Callable
from pathlib import Path
from statistics import median, quantiles

import pytest

from tests.house import sources

CODE = (".py", ".rq", ".sql", ".js", ".mjs", ".css", ".html", ".typ")
LONGEST_FILE, MEDIAN_FILE = 400, 150
LONGEST_FUNCTION, NINE_IN_TEN_FUNCTIONS, MEDIAN_FUNCTION = 60, 30, 10
# names that say nothing about what is inside
SAY_NOTHING = {"utils", "helpers", "services", "common", "core", "manager"}
SPARQL = re.compile(r"\b(SELECT|CONSTRUCT|ASK|DESCRIBE|INSERT|DELETE)\b[^{]*\{.*\?\w+.*\}", re.DOTALL)
FOLDERS = [sources.TOP / "service", sources.TOP / "tests"]

each_folder = pytest.mark.parametrize("folder", FOLDERS, ids=lambda folder: folder.name)


def lines(path: Path) -> int:
    return len(path.read_text(encoding="utf-8").splitlines())


def function_lines(folder: Path) -> dict[str, int]:
    return {
        f"{path.relative_to(sources.TOP)}:{function.lineno} {function.name}": function_length(function)
        for path in sources.files_in(folder, ".py")
        for function in sources.functions(sources.parsed(path))
    }


def function_length(function: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    """Count the lines from `def` to the last, docstring and all."""
    return (function.end_lineno or function.lineno) - function.lineno + 1


def longer(measured: dict[str, int], limit: int) -> dict[str, int]:
    return {name: length for name, length in measured.items() if length > limit}


def sparql_in(tree: ast.AST) -> list[int]:
    """List the lines on which a text in the code is a SPARQL question."""
    constants = (node for node in ast.walk(tree) if isinstance(node, ast.Constant))
    return [node.lineno for node in constants if isinstance(node.value, str) and SPARQL.search(node.value)]


@each_folder
def test_no_file_is_past_the_longest_allowed(folder: Path) -> None:
    measured = {str(path.relative_to(sources.TOP)): lines(path) for path in sources.files_in(folder, *CODE)}
    assert longer(measured, LONGEST_FILE) == {}


@each_folder
def test_the_usual_file_is_read_in_a_few_minutes(folder: Path) -> None:
    measured = [length for path in sources.files_in(folder, ".py") if (length := lines(path))]
    assert median(measured) <= MEDIAN_FILE


@each_folder
def test_no_function_is_past_the_longest_allowed(folder: Path) -> None:
    assert longer(function_lines(folder), LONGEST_FUNCTION) == {}


@each_folder
def test_nine_functions_in_ten_are_seen_at_one_look(folder: Path) -> None:
    measured = function_lines(folder)
    ninth_tenth = quantiles(measured.values(), n=10, method="inclusive")[8]
    assert ninth_tenth <= NINE_IN_TEN_FUNCTIONS, longer(measured, NINE_IN_TEN_FUNCTIONS)


@each_folder
def test_the_usual_function_is_short(folder: Path) -> None:
    assert median(function_lines(folder).values()) <= MEDIAN_FUNCTION


@each_folder
def test_no_folder_or_file_has_a_name_that_says_nothing(folder: Path) -> None:
    paths = [path.relative_to(folder) for path in sources.files_in(folder, *CODE)]
    words = {word for path in paths for word in path.with_suffix("").parts}
    assert words & SAY_NOTHING == set()


def test_every_question_to_the_graph_is_in_a_file_of_its_own() -> None:
    package = sources.files_in(sources.PACKAGE, ".py")
    found = {str(path.relative_to(sources.TOP)): sparql_in(sources.parsed(path)) for path in package}
    assert {path: where for path, where in found.items() if where} == {}


@pytest.mark.parametrize(
    ("text", "seen"),
    [
        ("x = 'SELECT ?piece WHERE { ?piece a gb:Fragment }'", True),
        ("x = '''ASK {\n  ?piece gb:madeOf ?stuff\n}'''", True),
        ("x = 'SELECT body FROM revisions WHERE iri = ?'", False),
        ("x = 'Select the pieces {so} that they fit'", False),
    ],
)
def test_a_question_among_the_code_is_told_from_other_text(text: str, seen: bool) -> None:
    assert bool(sparql_in(ast.parse(text))) is seen


@pytest.mark.parametrize("measure", [lines, lambda path: function_length(one_function(path))])
def test_a_limit_counts_every_line(tmp_path: Path, measure: Callable[[Path], int]) -> None:
    path = tmp_path / "long.py"
    path.write_text("def lift():\n" + "    pass\n" * LONGEST_FUNCTION, encoding="utf-8")
    assert measure(path) == LONGEST_FUNCTION + 1


def one_function(path: Path) -> ast.FunctionDef | ast.AsyncFunctionDef:
    return next(sources.functions(sources.parsed(path)))
