"""What a report is made of, block by block; `document.typ` sets each of them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict, dataclass, field
from datetime import datetime
from typing import Any

from guardbook.exports.paper.typesetting import typeset
from guardbook.wording import _

Rows = tuple[tuple[str, ...], ...]


@dataclass(frozen=True)
class Heading:
    """A heading; the first level is numbered and begins a section."""

    text: str
    level: int = 1


@dataclass(frozen=True)
class Paragraph:
    """Running text; line breaks are kept. A `quiet` one is a note in small type."""

    text: str
    quiet: bool = False


@dataclass(frozen=True)
class Facts:
    """What is known, each fact with its label."""

    rows: Rows


@dataclass(frozen=True)
class Table:
    """A table with its head; `widths` are shares of the width of the page."""

    head: tuple[str, ...]
    rows: Rows
    widths: tuple[float, ...]


@dataclass(frozen=True)
class Bullets:
    """A list."""

    items: tuple[str, ...]


@dataclass(frozen=True)
class Picture:
    """A photograph by the name of its file, or words in its place where it cannot be printed."""

    file: str
    caption: str
    alternative: str
    instead: str = ""


@dataclass(frozen=True)
class Pictures:
    """Photographs, two beside each other."""

    pictures: tuple[Picture, ...]


@dataclass(frozen=True)
class Drawing:
    """A drawing in the run of the text, `wide` (mm) on paper."""

    svg: str
    caption: str
    alternative: str
    wide: float


@dataclass(frozen=True)
class Plate:
    """One drawing, or several beside each other, as large as a page: across on a page of their own."""

    drawings: tuple[Drawing, ...]
    across: bool


@dataclass(frozen=True)
class KeyedDrawing:
    """A drawing, and beside it what its letters stand for, in bold type where so marked."""

    drawing: Drawing
    key: tuple[tuple[str, str, bool], ...]
    note: str = ""


@dataclass(frozen=True)
class DrawingsDone:
    """A place that no drawing comes after: those that wait for room are put before it."""


@dataclass(frozen=True)
class Signatures:
    """Lines to sign on, each with what stands under it."""

    lines: tuple[str, ...]


Block = (
    Heading
    | Paragraph
    | Facts
    | Table
    | Bullets
    | Pictures
    | Plate
    | Drawing
    | KeyedDrawing
    | DrawingsDone
    | Signatures
)


@dataclass(frozen=True, kw_only=True)
class Document:
    """A paper of running text: what it is, of what, by whom, and its blocks.

    `kind` says which paper it is, `running` stands at the head of each page, `below` at its foot.
    """

    kind: str
    title: str
    subtitle: str
    running: str
    below: str
    facts: Rows
    qr: str
    qr_says: str
    blocks: tuple[Block, ...]
    colophon: tuple[str, ...]
    paper: str = "a4"
    tight: bool = False
    pictures: Mapping[str, bytes] = field(default_factory=dict)


def set_document(document: Document, when: datetime) -> bytes:
    """Set it as PDF, dated by what it tells of."""
    told = {name: value for name, value in vars(document).items() if name not in {"blocks", "pictures"}}
    words = {
        "figure": _("Figure"),
        "page": _("Page {number} of {count}"),
        "signs": _("Signs that these fonts do not have are printed by their number in Unicode:"),
    }
    title = f"{document.kind}: {document.title}"
    return typeset(
        "document",
        {
            **told,
            "blocks": as_data(document.blocks),
            "heading": document.title,
            "title": title,
            "words": words,
        },
        when=when,
        pictures=document.pictures,
    )


def table(head: Sequence[str], rows: Iterable[Sequence[str]], widths: Sequence[float]) -> tuple[Block, ...]:
    """Give a table without the columns in which nothing stands; no block where there are no rows."""
    kept = [tuple(row) for row in rows]
    filled = [at for at in range(len(head)) if any(row[at] for row in kept)]
    if not filled:
        return ()

    def narrowed(row: Sequence[str]) -> tuple[str, ...]:
        return tuple(row[at] for at in filled)

    return (Table(narrowed(head), tuple(map(narrowed, kept)), tuple(widths[at] for at in filled)),)


def facts(rows: Iterable[tuple[str, str | None]]) -> tuple[Block, ...]:
    """Give facts as a block, without those of which nothing is said; no block where there are none."""
    kept = tuple((label, value) for label, value in rows if value)
    return (Facts(kept),) if kept else ()


def section(title: str, blocks: Sequence[Block], level: int = 1) -> tuple[Block, ...]:
    """Put a heading over blocks, or give nothing where there are none."""
    return (Heading(title, level), *blocks) if blocks else ()


def as_data(blocks: Iterable[Block]) -> list[dict[str, Any]]:
    """Give blocks as plain data, each with its kind."""
    return [{"block": type(one).__name__.lower(), **asdict(one)} for one in blocks]
