"""Every link from one page of the documentation to a file leads somewhere."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

TOP = Path(__file__).resolve().parents[2]
PAGES = [TOP / "README.md", TOP / "DEVELOPERS.md", *sorted((TOP / "docs").rglob("*.md"))]


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(TOP)))
def test_links_lead_to_files_that_exist(page: Path) -> None:
    links = re.findall(r"\]\(([^)#\s]+)(?:#[^)]*)?\)", page.read_text(encoding="utf-8"))
    files = [link for link in links if "://" not in link]
    assert [link for link in files if not (page.parent / link).exists()] == []
