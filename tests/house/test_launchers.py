"""`python3 service` and `python3 tests` set up a bare folder, and say plainly what is in the way."""

import ast
import json
import os
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

import launcher
from tests.house import sources

LAUNCHERS = ("service/launcher.py", "service/__main__.py", "tests/__main__.py")
# says what it was given and which thread is installed, and ends with an exit code of its own
COMMAND = "import sys, thread\nprint(thread.COLOUR, *sys.argv[1:])\nsys.exit(7)\n"


def spin(folder: Path, colour: str, version: str) -> str:
    """Make a small package of one module to install, and give the line that locks it."""
    wheel = folder / f"thread-{version}-py3-none-any.whl"
    about = f"thread-{version}.dist-info"
    with zipfile.ZipFile(wheel, "w") as packed:
        packed.writestr("thread.py", f"COLOUR = {colour!r}\n")
        packed.writestr(f"{about}/METADATA", f"Metadata-Version: 2.1\nName: thread\nVersion: {version}\n")
        packed.writestr(f"{about}/WHEEL", "Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any\n")
        packed.writestr(f"{about}/RECORD", "")
    return f"thread=={version} --hash=sha256:{launcher.digest(wheel)}\n"


class Clone:
    """A fresh copy of the launchers, with a lock file of one small package and no network."""

    def __init__(self, folder: Path) -> None:
        self.top = folder / "clone with a space"
        self.packages = folder / "packages"
        self.packages.mkdir()
        self.environment = launcher.Environment(self.top)
        (self.top / "service" / "guardbook").mkdir(parents=True)
        for name in ("launcher.py", "__main__.py"):
            shutil.copy(sources.TOP / "service" / name, self.top / "service" / name)
        (self.top / "service" / "guardbook" / "__init__.py").touch()
        (self.top / "service" / "guardbook" / "__main__.py").write_text(COMMAND)
        self.lock(spin(self.packages, "undyed", "1"))

    def lock(self, line: str) -> None:
        (self.top / "service.lock").write_text(line)

    def start(self, *words: str, packages: Path | None = None) -> subprocess.Popen[str]:
        offline = {"PIP_NO_INDEX": "1", "PIP_CONFIG_FILE": os.devnull, "PIP_EXTRA_INDEX_URL": ""}
        environment = os.environ | offline | {"PIP_FIND_LINKS": str(packages or self.packages)}
        command = [sys.executable, str(self.top / "service"), *words]
        return subprocess.Popen(
            command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=environment
        )

    def run(self, *words: str, packages: Path | None = None) -> tuple[int, str, str]:
        with self.start(*words, packages=packages) as started:
            out, said = started.communicate(timeout=120)
        return started.returncode, out, said


@pytest.fixture
def clone(tmp_path: Path) -> Clone:
    return Clone(tmp_path)


@pytest.mark.parametrize("path", LAUNCHERS)
def test_a_python_that_is_too_old_can_still_read_the_launcher(path: str) -> None:
    text = (sources.TOP / path).read_text(encoding="utf-8")
    assert ast.parse(text, feature_version=(3, 6)).body


@pytest.mark.parametrize("path", ["service", "tests"])
def test_a_python_that_is_too_old_is_told_so_before_anything_is_made(path: str) -> None:
    disguise = (
        f"import runpy, sys; sys.version_info = (3, 10, 4); runpy.run_path({path!r}, run_name='__main__')"
    )
    done = subprocess.run(
        [sys.executable, "-c", disguise], cwd=sources.TOP, capture_output=True, text=True, check=False
    )
    assert done.returncode == 1
    assert "needs Python 3.11 or newer; this is Python 3.10.4" in done.stderr
    assert "Traceback" not in done.stderr


@pytest.mark.slow
def test_a_bare_folder_is_set_up_once_and_kept_in_step_with_its_lock_file(clone: Clone) -> None:
    code, out, said = clone.run("where", "7K3QM2-D")
    assert (code, out) == (7, "undyed where 7K3QM2-D\n"), said
    assert "Installing 1 packages" in said

    assert clone.run() == (7, "undyed serve --demo\n", "")

    clone.lock(spin(clone.packages, "blue", "2"))
    code, out, said = clone.run("show")
    assert (code, out) == (7, "blue show\n"), said
    assert "Making" not in said

    command = [str(clone.environment.programs / "guardbook"), "a  b"]
    assert subprocess.run(command, capture_output=True, check=False).stdout == b"blue a  b\n"

    clone.environment.note.unlink()
    assert "Making a Python environment" in clone.run()[2]


@pytest.mark.slow
def test_an_offline_machine_is_told_what_to_do_and_the_next_start_mends_it(
    clone: Clone, tmp_path: Path
) -> None:
    code, out, said = clone.run("show", packages=tmp_path / "nowhere")
    assert (code, out) == (1, "")
    assert "pip could not install service.lock" in said
    assert "No matching distribution found for thread==1" in said
    assert "If this machine is offline, connect it and start again" in said
    assert not clone.environment.in_step("service.lock")

    assert clone.run("show")[:2] == (7, "undyed show\n")


@pytest.mark.slow
def test_two_starts_at_once_wait_for_each_other(clone: Clone) -> None:
    with clone.start("first") as first, clone.start("second") as second:
        (one, said_one), (two, said_two) = first.communicate(timeout=120), second.communicate(timeout=120)
    assert (one, two) == ("undyed first\n", "undyed second\n")
    assert (said_one + said_two).count("Installing") == 1
    assert (said_one + said_two).count("waiting for it") == 1


@pytest.mark.slow
def test_a_package_that_is_not_the_locked_one_is_refused(clone: Clone) -> None:
    spin(clone.packages, "forged", "1")
    code, _, said = clone.run("show")
    assert code == 1
    assert "not the one that was locked" in said


@pytest.fixture
def noted(tmp_path: Path) -> launcher.Environment:
    """Give an environment that says of itself that the test list is installed."""
    environment = launcher.Environment(tmp_path)
    environment.programs.mkdir(parents=True)
    environment.python.touch()
    locks = {}
    for name in ("service.lock", "tests.lock"):
        (tmp_path / name).write_text(f"{name} of today")
        locks[name] = launcher.digest(tmp_path / name)
    environment.note.write_text(json.dumps({"place": str(environment.folder), "locks": locks}))
    return environment


def test_an_environment_is_kept_while_its_lock_file_stays(noted: launcher.Environment) -> None:
    assert noted.in_step("service.lock")
    assert noted.in_step("tests.lock")


def test_an_environment_is_out_of_step_once_its_lock_file_changes(noted: launcher.Environment) -> None:
    (noted.top / "tests.lock").write_text("tests.lock of tomorrow")
    assert noted.in_step("service.lock")
    assert not noted.in_step("tests.lock")


@pytest.mark.parametrize("note", ["", "{", "[]", '{"place": ""}', '{"place": "elsewhere", "locks": {}}'])
def test_an_environment_whose_note_is_spoilt_or_of_another_place_is_made_anew(
    noted: launcher.Environment, note: str
) -> None:
    noted.note.write_text(note)
    assert not noted.in_step("service.lock")


def test_an_environment_whose_python_is_gone_is_made_anew(noted: launcher.Environment) -> None:
    noted.python.unlink()
    assert not noted.in_step("service.lock")


@pytest.mark.parametrize(
    ("printed", "told"),
    [
        ("OSError: [Errno 28] No space left on device", "disk is full"),
        ("ERROR: THESE PACKAGES DO NOT MATCH THE HASHES", "not the one that was locked"),
        ("[Errno 13] Permission denied: '.venv/lib'", "cannot be written"),
        ("Temporary failure in name resolution", "offline"),
    ],
)
def test_what_went_wrong_in_pip_is_told_in_plain_words(printed: str, told: str) -> None:
    assert told in launcher.advice(printed)
