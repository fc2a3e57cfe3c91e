"""Keeps this folder's own Python environment in step with a lock file, and starts programs in it.

Standard library only: it runs before anything is installed. Its grammar is that of Python 3.6, so that a
Python that is too old can still read it and say so.
"""

import contextlib
import hashlib
import json
import os
import shlex
import signal
import subprocess
import sys
from pathlib import Path
from typing import IO, Dict, Iterator, List, Sequence, Tuple

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl

TOP = Path(__file__).resolve().parent.parent
OLDEST_PYTHON = (3, 11)

# A lock file and all that is in place once it is installed: the test list holds the service list, pin by pin.
COVERED_BY: Dict[str, Tuple[str, ...]] = {
    "service.lock": ("service.lock",),
    "tests.lock": ("tests.lock", "service.lock"),
}

OFFLINE = """\
The packages could not be fetched. If this machine is offline, connect it and start again; where packages
come from a mirror or a folder, name that in PIP_INDEX_URL or PIP_FIND_LINKS. Nothing else is needed from
outside, and once installed Guardbook runs offline."""
ALTERED = """\
A package is not the one that was locked. Do not go round this: fetch Guardbook anew, and if it happens
again, tell whoever looks after the place that the packages come from."""
# What pip's words mean for the person; the first that is found is told.
ADVICE = (
    ("No space left", "The disk is full. Make room and start again."),
    ("DO NOT MATCH THE HASHES", ALTERED),
    ("Permission denied", "This folder cannot be written. Start from a copy in a folder of your own."),
    ("", OFFLINE),
)


def refuse_old_python(version: Sequence[int] = sys.version_info[:3]) -> None:
    """Stop with a clear word where Python is older than Guardbook needs."""
    if tuple(version[:2]) < OLDEST_PYTHON:
        needed, found = (".".join(map(str, numbers)) for numbers in (OLDEST_PYTHON, version))
        raise SystemExit(
            f"Guardbook needs Python {needed} or newer; this is Python {found} ({sys.executable}).\n"
            f"Install a newer Python beside it and start with that one, for example: python{needed} service"
        )


def say(words: str) -> None:
    """Tell the person what is going on, apart from what the program itself prints."""
    print(words, file=sys.stderr, flush=True)


def run_quietly(command: Sequence[str], held: Sequence[int] = ()) -> Tuple[int, str]:
    """Run a program to its end; give its exit code and all it printed.

    `held` are open files that the program keeps open with us: a lock on them lasts until both have ended.
    """
    done = subprocess.run(
        list(command),
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        stdin=subprocess.DEVNULL,
        universal_newlines=True,
        check=False,
        pass_fds=() if sys.platform == "win32" else tuple(held),
    )
    return done.returncode, done.stdout


def last_lines(printed: str, count: int = 6) -> str:
    """Give the closing lines of what a program printed, set in."""
    return "\n".join("    " + line for line in printed.strip().splitlines()[-count:])


def advice(printed: str) -> str:
    """Say what to do after pip failed with these words."""
    return next(told for words, told in ADVICE if words in printed)


def start(command: Sequence[str]) -> None:
    """Become this program: its exit code is ours, and signals reach it."""
    sys.stdout.flush()
    if sys.platform == "win32":
        # Windows has no exec; Ctrl-C reaches both, and only the program answers to it.
        signal.signal(signal.SIGINT, signal.SIG_IGN)
        raise SystemExit(subprocess.call(list(command)))
    os.execv(command[0], list(command))


def digest(path: Path) -> str:
    """Give the SHA-256 of a file."""
    return hashlib.sha256(path.read_bytes()).hexdigest()


def _wait_for(held: IO[str]) -> None:
    waiting = "Another start is setting up this folder; waiting for it."
    if sys.platform == "win32":
        while True:
            try:
                msvcrt.locking(held.fileno(), msvcrt.LK_LOCK, 1)
            except OSError:
                say(waiting)
            else:
                return
    try:
        fcntl.flock(held, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        say(waiting)
        fcntl.flock(held, fcntl.LOCK_EX)


class Environment:
    """The `.venv` of one folder.

    What is installed is written down in it last of all. So where the note is missing, a set-up was cut short
    (or the folder was moved, or made by something else), and the environment is made anew.
    """

    def __init__(self, top: Path) -> None:
        self.top = top
        self.folder = top / ".venv"
        self.note = self.folder / "guardbook-installed.json"
        self.programs = self.folder / ("Scripts" if sys.platform == "win32" else "bin")
        self.python = self.programs / ("python.exe" if sys.platform == "win32" else "python")

    def prepare(self, lock: str) -> None:
        """Make all that the lock file lists importable, and `guardbook` with it.

        Stops with what went wrong and what to do, where it cannot be done.
        """
        refuse_old_python()
        if self.in_step(lock):
            return
        try:
            with self.one_at_a_time() as held:
                # the start that we waited for may have done it
                if not self.in_step(lock):
                    self._install(lock, held)
        except OSError as error:
            raise SystemExit(
                f"The folder {self.folder} could not be set up: {error}.\n"
                "Check that it can be written and that the disk is not full, then start again."
            ) from error
        except KeyboardInterrupt:
            raise SystemExit("Stopped. The next start sets up the folder again.") from None

    def in_step(self, lock: str) -> bool:
        """Tell whether the lock file, as it is now, is installed."""
        return self._usable() and self._noted()[1].get(lock) == digest(self.top / lock)

    @contextlib.contextmanager
    def one_at_a_time(self) -> Iterator[int]:
        """Hold this folder's set-up for ourselves; ends by itself with the program, however that ends."""
        with (self.top / ".venv.lock").open("a") as held:
            _wait_for(held)
            yield held.fileno()

    def _usable(self) -> bool:
        return self.python.exists() and self._noted()[0] == str(self.folder)

    def _noted(self) -> Tuple[str, Dict[str, str]]:
        try:
            noted = json.loads(self.note.read_text(encoding="utf-8"))
            return noted["place"], dict(noted["locks"])
        except (OSError, ValueError, KeyError, TypeError):
            return "", {}

    def _write_down(self, lock: str) -> None:
        locks = {name: digest(self.top / name) for name in COVERED_BY[lock]}
        half_written = self.note.with_suffix(".new")
        half_written.write_text(json.dumps({"place": str(self.folder), "locks": locks}), encoding="utf-8")
        half_written.replace(self.note)

    def _install(self, lock: str, held: int) -> None:
        usable = self._usable()
        with contextlib.suppress(FileNotFoundError):
            self.note.unlink()
        if not usable:
            self._make(held)
        self._fetch(lock, held)
        self._link()
        self._write_down(lock)

    def _make(self, held: int) -> None:
        say("Making a Python environment in .venv ...")
        base_python = getattr(sys, "_base_executable", None) or sys.executable
        code, printed = run_quietly([base_python, "-m", "venv", "--clear", str(self.folder)], [held])
        if code != 0:
            raise SystemExit(
                f"Python could not make an environment in {self.folder}:\n{last_lines(printed)}\n"
                "Some systems keep this part of Python apart (Debian and Ubuntu: apt install python3-venv).\n"
                "Install it and start again."
            )

    def _fetch(self, lock: str, held: int) -> None:
        path = self.top / lock
        count = sum("==" in line for line in path.read_text(encoding="utf-8").splitlines())
        say(f"Installing {count} packages from {lock} (once; some minutes on a slow line) ...")
        pip = [str(self.python), "-I", "-m", "pip", "install", "--disable-pip-version-check", "--no-input"]
        # hashes are checked for wheels only: building a source package would fetch tools that are not locked
        locked = ["--require-hashes", "--only-binary", ":all:", "--retries", "2", "--requirement", str(path)]
        code, printed = run_quietly(pip + locked, [held])
        if code != 0:
            raise SystemExit(f"pip could not install {lock}:\n{last_lines(printed)}\n{advice(printed)}")

    def _link(self) -> None:
        asked = "import sysconfig; print(sysconfig.get_path('purelib'))"
        _, printed = run_quietly([str(self.python), "-I", "-c", asked])
        libraries = Path(printed.strip())
        source = os.path.relpath(str(self.top / "service"), str(libraries))
        (libraries / "guardbook.pth").write_text(source + "\n", encoding="utf-8")
        if sys.platform == "win32":
            (self.programs / "guardbook.cmd").write_text('@"%~dp0python.exe" -P -m guardbook %*\n')
            return
        command = self.programs / "guardbook"
        command.write_text(f'#!/bin/sh\nexec {shlex.quote(str(self.python))} -P -m guardbook "$@"\n')
        command.chmod(0o755)

    def program(self, *words: str) -> List[str]:
        """Give the command that runs these words with this environment's Python.

        `-P` keeps files of the folder one happens to be in from being taken for modules.
        """
        return [str(self.python), "-P", *words]
