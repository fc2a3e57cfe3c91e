"""The project's own files, and what Python's parser says of them."""

import ast
import subprocess
from collections.abc import Iterator
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]
PACKAGE = TOP / "service" / "guardbook"
MADE_BY_TOOLS = {"node_modules", "__pycache__"}


def files_in(folder: Path, *suffixes: str) -> list[Path]:
    """List the files under a folder that a person wrote, those with these suffixes."""
    below = (path.relative_to(folder) for path in folder.rglob("*") if path.suffix in suffixes)
    ours = (path for path in below if not any(part in MADE_BY_TOOLS or part[0] == "." for part in path.parts))
    return sorted(folder / path for path in ours)


def tracked(git: Path, top: Path = TOP) -> list[str]:
    """List what is under version control, by path from the top folder."""
    listed = subprocess.run(
        [git, "ls-files", "-z"], cwd=top, capture_output=True, text=True, check=True
    ).stdout
    return [path for path in listed.split("\0") if path]


def parsed(path: Path) -> ast.Module:
    """Parse a Python file."""
    return ast.parse(path.read_text(encoding="utf-8"), filename=str(path))


def functions(tree: ast.AST) -> Iterator[ast.FunctionDef | ast.AsyncFunctionDef]:
    """Give every function and method, those inside others too."""
    return (node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef))


def called(node: ast.AST) -> str:
    """Give the last word of what a call calls (`raises` for `pytest.raises`), or nothing."""
    target = node.func if isinstance(node, ast.Call) else None
    return getattr(target, "attr", getattr(target, "id", ""))
