"""Set a paper with Typst: a template, and everything on it as data, so that no text is ever read as markup.

The PDF is tagged (PDF/UA-1, ISO 14289-1), with its fonts inside; the same data give the same bytes.
"""

from __future__ import annotations

import json
import tempfile
from collections.abc import Mapping
from datetime import UTC, datetime
from functools import lru_cache
from pathlib import Path
from typing import Any

import typst

from guardbook.exports.paper.fonts import fonts
from guardbook.exports.paper.signs import printable, unprintable
from guardbook.wording import language

TEMPLATES = Path(__file__).parent
STANDARD: typst.PDFStandard = "ua-1"
DATA = "data.json"
# a paper of no day of its own, such as an empty sheet, bears this one
NO_DAY = datetime(2000, 1, 1, tzinfo=UTC)


def typeset(
    template: str,
    data: Mapping[str, Any],
    *,
    when: datetime = NO_DAY,
    pictures: Mapping[str, bytes] | None = None,
) -> bytes:
    """Fill a template in and give it as PDF.

    `data` is what JSON can hold; `pictures` are put beside the template under the names that the data use.
    `when` is the day of what is told, not of the printing. Signs of no font are put as `[U+A751]`, and the
    data given a list `signs` of them.
    """
    missing = unprintable(_texts(data))
    whole = {
        **_replaced(data, missing),
        "language": language(),
        "day": [when.year, when.month, when.day],
        "signs": [{"code": sign.code, "name": sign.name} for sign in missing.values()],
    }
    with tempfile.TemporaryDirectory(prefix="guardbook-paper-") as folder:
        _lay_out(Path(folder), whole, pictures or {})
        made = _compiler(folder).compile(
            str(Path(folder) / f"{template}.typ"),
            format="pdf",
            pdf_standards=STANDARD,
            timestamp=when.astimezone(UTC).replace(microsecond=0),
        )
    if not isinstance(made, bytes):
        raise TypeError(f"Typst gave no single file for {template}")
    return made


def _compiler(root: str) -> typst.Compiler:
    # packages are looked for in the folder itself, where there are none, so that nothing is ever fetched
    return typst.Compiler(
        root=root,
        font_paths=fonts(),
        ignore_system_fonts=True,
        package_path=root,
        package_cache_path=root,
    )


def _lay_out(folder: Path, data: Mapping[str, Any], pictures: Mapping[str, bytes]) -> None:
    for name, text in _templates().items():
        (folder / name).write_text(text, encoding="utf-8")
    (folder / DATA).write_text(json.dumps(data, ensure_ascii=False, sort_keys=True), encoding="utf-8")
    for name, picture in pictures.items():
        (folder / name).write_bytes(picture)


@lru_cache(maxsize=1)
def _templates() -> Mapping[str, str]:
    return {path.name: path.read_text(encoding="utf-8") for path in sorted(TEMPLATES.glob("*.typ"))}


def _texts(data: Any) -> str:
    match data:
        case str():
            return data
        case Mapping():
            return "\n".join(_texts(value) for value in data.values())
        case list() | tuple():
            return "\n".join(_texts(value) for value in data)
        case _:
            return ""


def _replaced(data: Any, missing: Mapping[str, Any]) -> Any:
    match data:
        case str():
            return printable(data, missing)
        case Mapping():
            return {key: _replaced(value, missing) for key, value in data.items()}
        case list() | tuple():
            return [_replaced(value, missing) for value in data]
        case _:
            return data
