"""Which module imports which, and on which floor each stands."""

import ast
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

from tests.house import sources

FLOORS = {
    "errors": 0, "settings": 0, "units": 0, "wording": 0,
    "records": 1, "completeness": 2, "catalogue": 3, "binding": 4, "evidence": 5,
    "matching": 6, "imaging": 6, "intake": 6, "exports": 7, "actions": 8,
    "api": 9, "pages": 9, "cli": 9,
    "__main__": 10,
}  # fmt: skip
BOTTOM = "the bottom"


def modules(package: Path) -> dict[str, Path]:
    """Give every module of a package by its dotted name."""

    def name(path: Path) -> str:
        parts = path.relative_to(package.parent).with_suffix("").parts
        return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)

    return {name(path): path for path in sources.files_in(package, ".py")}


def named_in(tree: ast.Module, module: str, is_package: bool) -> set[str]:
    """Give the dotted name of everything that a module imports, wherever in it that stands."""
    names: set[str] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            names.update(alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            above = module.split(".")[: (1 if is_package else 0) - node.level or None] if node.level else []
            origin = ".".join([*above, *filter(None, [node.module])])
            names.update(f"{origin}.{alias.name}" for alias in node.names)
    return names


def imports(package: Path) -> dict[str, set[str]]:
    """Give, for every module of a package, the modules of the package that it imports."""
    known = modules(package)

    def target(name: str) -> str:
        return name if name in known else name.rpartition(".")[0]

    found = {}
    for module, path in known.items():
        named = named_in(sources.parsed(path), module, path.name == "__init__.py")
        found[module] = {target(name) for name in named} & known.keys()
    return found


def room(module: str) -> str:
    """Give the folder of a module, `the bottom` being one."""
    below = module.split(".")[1:2]
    return BOTTOM if not below or FLOORS.get(below[0]) == 0 else below[0]


def floor(module: str) -> int:
    """Give the floor of a module; KeyError where its folder is on none."""
    return 0 if room(module) == BOTTOM else FLOORS[room(module)]


def upward(package: Path) -> list[str]:
    """List the imports that do not go down, and do not stay in the folder."""
    return [
        f"{module} imports {other}"
        for module, others in sorted(imports(package).items())
        for other in sorted(others)
        if room(other) != room(module) and floor(other) >= floor(module)
    ]


def cycle(package: Path) -> list[str]:
    """Give one ring of modules that import each other, or nothing."""
    try:
        TopologicalSorter(imports(package)).prepare()
    except CycleError as error:
        ring: list[str] = error.args[1]
        return ring
    return []


def outside(path: Path) -> set[str]:
    """Give the top names of all that a file imports."""
    return {name.partition(".")[0] for name in named_in(sources.parsed(path), path.stem, is_package=False)}
