"""What some tests need from outside Python: how each part is found, how it is got, and what it is for.

A further program is one more row of `PARTS`. Standard library only: `python3 tests` reads this too.
"""

import os
import re
import shutil
from collections.abc import Callable
from functools import cache, partial
from pathlib import Path
from typing import NamedTuple

import launcher

NODE_FOLDER = Path(__file__).resolve().parent / "outside" / "node"
OLDEST_NODE = 18

# Gives where the part is, or nothing.
Finder = Callable[[], Path | None]
# Installs the part; raises OSError with what went wrong.
Getter = Callable[[], None]


class Part(NamedTuple):
    """One thing that may be missing on a machine."""

    name: str
    purpose: str
    find: Finder
    get: Getter
    by_hand: str


def run(*command: str) -> str:
    """Run a program and give what it printed; OSError with its last lines where it failed."""
    code, printed = launcher.run_quietly(command)
    if code != 0:
        raise OSError(f"{' '.join(command)} failed:\n{launcher.last_lines(printed)}")
    return printed


def program(*names: str) -> Path | None:
    """Find the first of these programs that is there."""
    found = next(filter(None, map(shutil.which, names)), None)
    return Path(found) if found else None


def node() -> Path | None:
    """Find a Node that is new enough for the readers."""
    found = program("node", "nodejs")
    if not found:
        return None
    major = re.match(r"v(\d+)", run(str(found), "--version"))
    return found if major and int(major[1]) >= OLDEST_NODE else None


def node_readers() -> Path | None:
    """Find the folder of the Node packages, where they are those of the lock file."""
    folder = NODE_FOLDER / "node_modules"
    note = folder / ".installed"
    lock = launcher.digest(NODE_FOLDER / "package-lock.json")
    return folder if note.is_file() and note.read_text(encoding="ascii") == lock else None


def get_node_readers() -> None:
    """Install the Node packages from their lock file, and write down last that they are whole."""
    npm = PARTS["npm"].find()
    if not (npm and PARTS["node"].find()):
        raise OSError("Node and npm are needed first")
    run(str(npm), "ci", "--prefix", str(NODE_FOLDER), "--ignore-scripts", "--no-audit", "--no-fund")
    lock = launcher.digest(NODE_FOLDER / "package-lock.json")
    (NODE_FOLDER / "node_modules" / ".installed").write_text(lock, encoding="ascii")


@cache
def _refresh_apt() -> None:
    run("apt-get", "update", "-q")


def apt(package: str) -> None:
    """Install a system package, where we are root and the system has apt."""
    if os.name != "posix" or os.geteuid() != 0 or not program("apt-get"):
        raise OSError("installed automatically only for root on Debian and its kin")
    _refresh_apt()
    run("apt-get", "install", "-q", "-y", "--no-install-recommends", package)


def system_package(name: str, find: Finder, package: str, purpose: str) -> Part:
    """Make the row of a program that comes with the system."""
    by_hand = f"install it (Debian and Ubuntu: apt install {package})"
    return Part(name, purpose, find, partial(apt, package), by_hand)


PARTS = {
    part.name: part
    for part in (
        system_package("git", partial(program, "git"), "git", "telling what is under version control"),
        system_package(
            "node", node, "nodejs", f"readers of our exports not written in Python (Node {OLDEST_NODE}+)"
        ),
        system_package("npm", partial(program, "npm"), "npm", "installing those readers"),
        system_package(
            "java", partial(program, "java"), "default-jre-headless", "the checker of HTML and SVG"
        ),
        system_package(
            "libreoffice",
            partial(program, "soffice", "libreoffice"),
            "libreoffice-calc",
            "opening workbooks as a person would",
        ),
        Part(
            name="node readers",
            purpose="second opinions on EDTF, JSON-LD, SHACL, IIIF, HTML and SVG, and the CIDOC CRM itself",
            find=node_readers,
            get=get_node_readers,
            by_hand="run: python3 tests --setup (needs node and npm)",
        ),
    )
}


def missing() -> list[Part]:
    """List the parts that are not on this machine."""
    return [part for part in PARTS.values() if not part.find()]


def get_missing() -> None:
    """Get every missing part that can be got; say what could not be, and go on."""
    for part in missing():
        launcher.say(f"Getting {part.name}, for {part.purpose} ...")
        try:
            part.get()
        except OSError as error:
            launcher.say(f"  not got: {error}\n  To have it, {part.by_hand}. Tests that need it are skipped.")
