"""Every page, and every style sheet, is valid.

Source: the Nu Html Checker (npm `vnu-jar`), which holds the schemas of HTML, WAI-ARIA and CSS.
"""

from __future__ import annotations

import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from guardbook.__main__ import application
from guardbook.actions.load_demo import load_demo
from guardbook.catalogue.access import Viewer
from guardbook.catalogue.catalogue import open_catalogue
from guardbook.pages import site
from guardbook.records.kinds import KINDS
from tests.api.client import Client

JAR = "vnu-jar/build/dist/vnu.jar"
STYLES = sorted((Path(site.__file__).parent / "static").glob("*.css"))
OF_EACH_KIND = 4
OTHERS = (
    "/",
    "/search?q=psalter",
    "/search?kind=fragment&view=pictures",
    "/search?view=timeline&kind=host",
    "/search?q=a&material=parchment&from=1600&to=1500",
    "/search?q=zzz",
    "/terms",
    "/terms/function.html",
    "/ns.html",
    "/api",
    "/no",
    "/host/F90AA2-P/laid-over?with=host/5JZSY8-3",
    "/host/N6Y9VM-C/place?piece=fragment/B89RYC-6",
    "/bench-sheet",
    "/labels?id=Q21-008&id=Q21-008/1",
    "/register",
    "/register/piece?volume=N6Y9VM-C",
    "/register/piece?volume=new",
    "/new/decision",
    "/sparql.html",
    "/sparql.html?query=SELECT+*+{+%3Fs+a+%3Fkind+}+LIMIT+20",
    "/sparql.html?query=DESCRIBE+<https://guardbook.example/host/N6Y9VM-C>",
    "/sparql.html?query=SELECT",
    "/dataset.html",
    "/harvested",
)
FOR_A_KIND = {
    "fragment": ("/evidence", "/label", "/edit", "/saved"),
    "host": ("/evidence", "/label", "/bench-sheet", "/edit"),
    "separation": ("/examinations", "/before-lifting"),
    "placing": ("/examinations",),
    "decision": ("/decision", "/edit"),
}


@pytest.fixture
def pages(tmp_path: Path) -> Iterator[list[str]]:
    """Write down pages of the demo, and give their files."""
    with open_catalogue(None) as catalogue:
        views = {viewer: catalogue.access(viewer) for viewer in Viewer}
        load_demo(views[Viewer.WORKSHOP], if_empty=True)
        client = Client(application(views.__getitem__), headers={"Accept": "text/html"})
        paths = [*OTHERS]
        for kind in KINDS:
            for iri in list(views[Viewer.WORKSHOP].iris(kind))[:OF_EACH_KIND]:
                at = "/" + "/".join(iri.rsplit("/", 2)[-2:])
                endings = (".html", "/check", "/history", *FOR_A_KIND.get(kind, ()))
                paths += [at + ending for ending in endings]
        files = [tmp_path / f"{number}.html" for number in range(len(paths))]
        for path, file in zip(paths, files, strict=True):
            file.write_text(client.get(path).text, encoding="utf-8")
        yield list(map(str, files))


def check(needs: Callable[[str], Path], *words: str) -> str:
    """Give what the checker finds."""
    java, jar = needs("java"), needs("node readers") / JAR
    command = [str(java), "-Xss4m", "-jar", str(jar), "--exit-zero-always", "--stdout", "--format", "gnu"]
    found = subprocess.run([*command, *words], capture_output=True, text=True, check=True).stdout
    # it guesses the language of a page from its words, which here are mostly names and figures
    return "\n".join(line for line in found.splitlines() if "appears to be written in" not in line)


def test_every_page_is_valid_html(pages: list[str], needs: Callable[[str], Path]) -> None:
    assert len(pages) > 100
    assert check(needs, *pages) == ""


def test_every_style_sheet_is_valid_css(needs: Callable[[str], Path]) -> None:
    assert STYLES
    assert check(needs, "--css", *map(str, STYLES)) == ""


def test_the_checker_sees_what_is_wrong(needs: Callable[[str], Path], tmp_path: Path) -> None:
    page = tmp_path / "page.html"
    page.write_text(
        '<!doctype html><html lang="en"><title>x</title><p><div role="hat"></p></html>', encoding="utf-8"
    )
    assert "error" in check(needs, str(page))
