"""What is installed from a wheel carries the shapes, the terms and the demo with it."""

import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

from tests.house import sources

STAND_INS = (
    "README.md",
    "shapes/structure.ttl",
    "demo_graph/hosts.ttl",
    "service/guardbook/catalogue/heads.rq",
    "service/guardbook/exports/paper/label.typ",
)
CARRIED = {
    "guardbook/_shapes/structure.ttl",
    "guardbook/_demo_graph/hosts.ttl",
    "guardbook/catalogue/heads.rq",
    "guardbook/exports/paper/label.typ",
    "guardbook/py.typed",
}


def test_a_wheel_carries_all_that_the_catalogue_reads(tmp_path: Path) -> None:
    for name in STAND_INS:
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).touch()
    for name in ("pyproject.toml", "LICENSE", "service/guardbook/__init__.py", "service/guardbook/py.typed"):
        shutil.copy(sources.TOP / name, tmp_path / name)
    build = [sys.executable, "-m", "hatchling", "build", "--target", "wheel"]
    done = subprocess.run(build, cwd=tmp_path, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    (wheel,) = (tmp_path / "dist").glob("guardbook-*.whl")
    assert set(zipfile.ZipFile(wheel).namelist()) >= CARRIED
