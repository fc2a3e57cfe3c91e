"""Data runs up through nine floors, and nothing below asks anything above."""

import sys
from pathlib import Path

import pytest

from tests.house import imports, sources

# A library that belongs to one task is met in its folders only; so a face holds no store, and no rule of
# the trade knows of a terminal or of the web.
KEPT_TO = {
    "sqlite3": {"catalogue"},
    "pyshacl": {"completeness"},
    "typer": {"cli"},
    "rich": {"cli"},
    "uvicorn": {"cli", "api"},
    "fastapi": {"api", "pages"},
    "starlette": {"api", "pages", "__main__"},
    "jinja2": {"pages", "exports"},
    "iiif_prezi3": {"exports"},
    "typst": {"exports"},
    "segno": {"exports"},
}
FACES = {"api", "pages", "cli"}
STORES = {"pyoxigraph", "sqlite3"}
LAUNCHERS = ("service/launcher.py", "service/__main__.py", "tests/__main__.py", "tests/parts.py")


def lay_out(top: Path, files: dict[str, str]) -> Path:
    """Write a small package of these files, to show the checks something they must see."""
    for name, text in files.items():
        path = top / "guardbook" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return top / "guardbook"


def test_every_folder_stands_on_a_known_floor() -> None:
    rooms = {imports.room(module) for module in imports.modules(sources.PACKAGE)}
    assert rooms - imports.FLOORS.keys() - {imports.BOTTOM} == set()


def test_no_file_imports_upward_or_sideways() -> None:
    assert imports.upward(sources.PACKAGE) == []


def test_no_two_files_import_each_other_by_any_way_round() -> None:
    assert imports.cycle(sources.PACKAGE) == []


@pytest.mark.parametrize(
    ("importer", "line"),
    [
        ("records/host.py", "from guardbook.binding import planes"),
        ("records/host.py", "import guardbook.binding.planes"),
        ("records/host.py", "from guardbook import binding"),
        ("records/host.py", "from ..binding.planes import Plane"),
        ("records/__init__.py", "from ..binding import planes"),
        ("records/host.py", "def late():\n    from guardbook.binding import planes"),
        ("errors.py", "from guardbook.binding import planes"),
        ("imaging/photograph.py", "from guardbook.matching import holes"),
    ],
)
def test_an_upward_import_is_seen_in_every_way_of_writing_it(
    tmp_path: Path, importer: str, line: str
) -> None:
    files = {"binding/__init__.py": "", "binding/planes.py": "", "matching/__init__.py": "", importer: line}
    assert len(imports.upward(lay_out(tmp_path, files))) == 1


def test_an_import_within_the_folder_or_downward_is_let_pass(tmp_path: Path) -> None:
    files = {
        "errors.py": "",
        "records/__init__.py": "from guardbook.records.dates import Date",
        "records/dates.py": "from guardbook.errors import Fault",
        "binding/planes.py": "from guardbook import records, errors",
    }
    assert imports.upward(lay_out(tmp_path, files)) == []


def test_a_ring_of_imports_is_seen(tmp_path: Path) -> None:
    files = {
        "records/host.py": "from guardbook.records import placing",
        "records/placing.py": "from guardbook.records.host import HostVolume",
    }
    assert set(imports.cycle(lay_out(tmp_path, files))) == {
        "guardbook.records.host",
        "guardbook.records.placing",
    }


def test_a_library_of_one_task_is_met_in_its_own_folders() -> None:
    strays = [
        f"{module} imports {library}"
        for module, path in imports.modules(sources.PACKAGE).items()
        for library in imports.outside(path) & KEPT_TO.keys()
        if imports.room(module) not in KEPT_TO[library]
    ]
    assert strays == []


def test_no_face_opens_a_store() -> None:
    openers = [
        module
        for module, path in imports.modules(sources.PACKAGE).items()
        if imports.room(module) in FACES and imports.outside(path) & STORES
    ]
    assert openers == []


@pytest.mark.parametrize("launcher", LAUNCHERS)
def test_a_launcher_needs_nothing_but_python(launcher: str) -> None:
    allowed = sys.stdlib_module_names | {"launcher", "tests"}
    assert imports.outside(sources.TOP / launcher) - allowed == set()
