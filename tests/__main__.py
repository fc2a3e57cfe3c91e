"""Checks everything: `python3 tests`, from a folder that holds nothing but the source.

`python3 tests [PYTEST WORDS...]`   sets up what is needed and runs the tests (paths from the top folder)
`python3 tests --setup`             only sets up
`python3 tests --benchmarks`        measures instead; further words go to pytest
"""

import os
import sys
from pathlib import Path

TOP = Path(__file__).resolve().parent.parent
sys.path[:0] = [str(TOP), str(TOP / "service")]

import launcher

launcher.refuse_old_python()

from tests import parts

BENCHMARKS = ["-m", "benchmark", "-n", "0", "-s", "tests/benchmarks"]


def main(words: list[str]) -> None:
    """Set up what is missing, and become pytest."""
    environment = launcher.Environment(TOP)
    environment.prepare("tests.lock")
    if parts.missing():
        with environment.one_at_a_time():
            parts.get_missing()
    if "--setup" in words:
        return
    if "--benchmarks" in words:
        pytest_words = BENCHMARKS + [word for word in words if word != "--benchmarks"]
    else:
        pytest_words = ["-n", "2", *words]
    # hundreds of programs are started, each of which would otherwise read all of our source anew
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    os.chdir(TOP)
    launcher.start(environment.program("-m", "pytest", *pytest_words))


if __name__ == "__main__":
    main(sys.argv[1:])
