"""What is printed, as programs that are not ours read it."""

from __future__ import annotations

import io
import re
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pikepdf


def text_of(pdf: bytes, pdftotext: Path) -> str:
    """Give the words of a PDF as poppler reads them, line ends and hyphens at them undone."""
    done = subprocess.run([str(pdftotext), "-", "-"], input=pdf, capture_output=True, check=True)
    text = done.stdout.decode()
    return re.sub(r"\s+", " ", re.sub(r"(?<=\w)[\u00ad-]\n(?=[a-z])", "", text))


def read_codes(pdf: bytes, folder: Path, pdftoppm: Path, zbarimg: Path) -> list[str]:
    """Give what the QR codes on the pages of a PDF say, as zbar reads them off pictures of the pages."""
    (folder / "paper.pdf").write_bytes(pdf)
    subprocess.run([str(pdftoppm), "-r", "150", "-png", "paper.pdf", "page"], cwd=folder, check=True)
    pages = sorted(map(str, folder.glob("page*.png")))
    command = [str(zbarimg), "--quiet", "--nodbus", "--raw", *pages]
    return subprocess.run(command, capture_output=True, text=True, check=True).stdout.split()


@dataclass(frozen=True)
class Tag:
    """One element of the structure of a tagged PDF: its type, and its words instead of a picture."""

    type: str
    alternative: str | None


def opened(pdf: bytes) -> pikepdf.Pdf:
    """Open a PDF."""
    return pikepdf.open(io.BytesIO(pdf))


def tags(pdf: pikepdf.Pdf) -> Iterator[Tag]:
    """Give the structure of a tagged PDF in reading order."""
    waiting: list[Any] = [pdf.Root.StructTreeRoot]
    while waiting:
        found = waiting.pop(0)
        if isinstance(found, pikepdf.Array):
            waiting = [*found, *waiting]
        elif isinstance(found, pikepdf.Dictionary):
            if "/S" in found:
                yield Tag(str(found.S), str(found.Alt) if "/Alt" in found else None)
            if "/K" in found:
                waiting.insert(0, found.K)


def outline(pdf: pikepdf.Pdf) -> list[str]:
    """Give the titles of the outline, those within others too."""
    with pdf.open_outline() as found:
        waiting = list(found.root)
        titles: list[str] = []
        while waiting:
            item = waiting.pop(0)
            titles.append(str(item.title))
            waiting = [*item.children, *waiting]
    return titles


def fonts(pdf: pikepdf.Pdf) -> dict[str, bool]:
    """Give the fonts a PDF uses by name, and whether each is inside it."""
    found: dict[str, bool] = {}
    for thing in pdf.objects:
        if isinstance(thing, pikepdf.Dictionary) and thing.get("/Type") == "/FontDescriptor":
            inside = any(key in thing for key in ("/FontFile", "/FontFile2", "/FontFile3"))
            found[str(thing.FontName).partition("+")[2]] = inside
    return found
