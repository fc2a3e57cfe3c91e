"""What a form sent: its texts, by the names of the inputs, and the files that were chosen."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import AsyncIterator, Mapping
from contextlib import asynccontextmanager
from dataclasses import dataclass
from typing import BinaryIO

from starlette.datastructures import FormData, UploadFile
from starlette.requests import Request

from guardbook.intake.limited_body import limited_body

# photographs of a piece from all sides, as a camera gives them; they wait on the disk, not in memory
LONGEST_BYTES = 512 * 1024 * 1024
MOST_INPUTS, MOST_FILES = 50_000, 200
LONGEST_TEXT_BYTES = 4 * 1024 * 1024


@dataclass(frozen=True)
class Chosen:
    """One file that was chosen: the input, the name it had, its content."""

    name: str
    file_name: str
    content: BinaryIO


@dataclass(frozen=True)
class Posted:
    """The texts and files of one form."""

    texts: Mapping[str, tuple[str, ...]]
    files: tuple[Chosen, ...] = ()


@asynccontextmanager
async def posted(request: Request) -> AsyncIterator[Posted]:
    """Give what a form sent; its files are open until the end. Raises TooLarge."""
    limited = Request(request.scope, limited_body(request.receive, LONGEST_BYTES, "form"))
    form = await limited.form(max_files=MOST_FILES, max_fields=MOST_INPUTS, max_part_size=LONGEST_TEXT_BYTES)
    try:
        yield _sorted_out(form)
    finally:
        await form.close()


def _sorted_out(form: FormData) -> Posted:
    texts: dict[str, list[str]] = defaultdict(list)
    files = []
    for name, value in form.multi_items():
        if isinstance(value, UploadFile):
            if value.filename:
                files.append(Chosen(name, value.filename, value.file))
        else:
            texts[name].append(value)
    return Posted({name: tuple(some) for name, some in texts.items()}, tuple(files))
