"""`guardbook stages`, `scene`, `overlay` and `rejoin`: volumes as they were, two at once, leaves rejoined."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated, Any

import typer

from guardbook.actions.answers import as_json
from guardbook.actions.draw_laid_over import OverlayDrawn, draw_laid_over
from guardbook.actions.draw_rejoined import draw_rejoined
from guardbook.actions.draw_stage import StageDrawn, draw_stage
from guardbook.actions.open_catalogue import opened
from guardbook.actions.stages_of_host import stages_of_host
from guardbook.binding.leaf_parts import CameFrom, LeafPiece, Rejoined
from guardbook.binding.overlay_parts import Overlay
from guardbook.cli.handing_on import writing
from guardbook.cli.options import AsJson, AsPublic, Data, folder_or_default, viewer
from guardbook.cli.printing import say, say_json, say_table
from guardbook.cli.showing import short
from guardbook.errors import WrongUse

Host = Annotated[
    str, typer.Argument(metavar="HOST", help="An identifier, or the workshop number, of a volume.")
]
Output = Annotated[
    Path | None,
    typer.Option("--output", "-o", metavar="FILE", help="The file to write; else text is printed."),
]
PlaneKey = Annotated[
    str | None, typer.Option("--plane", metavar="NAME", help="Such as cover-outside; else the most telling.")
]


def _form(name: str, forms: tuple[str, ...]) -> str:
    if name not in forms:
        raise WrongUse(message=f"There is no form {name!r} here. The forms are: {', '.join(forms)}.")
    return name


def _json(answer: Any) -> bytes:
    return (json.dumps(as_json(answer), ensure_ascii=False, indent=2) + "\n").encode()


def _drawn(form: str, drawn: StageDrawn | OverlayDrawn, data: Any) -> bytes:
    if form == "json":
        return _json(data)
    return drawn.png() if form == "png" else drawn.svg.encode()


def stages(host: Host, *, as_json: AsJson = False, public: AsPublic = False, data: Data = None) -> None:
    """List the stages of a volume and what it held at each."""
    with opened(viewer(public=public), folder_or_default(data)) as access:
        told = stages_of_host(access, host)
    if as_json:
        say_json(told)
        return
    rows = [
        (str(one.number), one.name, one.when or "", str(one.pieces), "planned" if one.is_planned else "")
        for one in told
    ]
    say_table(("Stage", "Name", "Date", "Pieces", ""), rows)


def scene(
    host: Host,
    *,
    stage: Annotated[
        int | None, typer.Option("--stage", metavar="N", min=1, help="Else the volume as it stands.")
    ] = None,
    plane: PlaneKey = None,
    form: Annotated[str, typer.Option("--as", metavar="FORM", help="svg, png or json.")] = "svg",
    output: Output = None,
    public: AsPublic = False,
    data: Data = None,
) -> None:
    """Draw a volume at a stage, every piece in its place.

    Beside planes there are cuts (section-cover-outside), gatherings, and closed.
    """
    _form(form, ("svg", "png", "json"))
    with (
        opened(viewer(public=public), folder_or_default(data)) as access,
        writing(output, f".{form}") as file,
    ):
        drawn = draw_stage(access, host, stage, plane)
        file.write(_drawn(form, drawn, drawn.scene))


def overlay(
    a: Annotated[str, typer.Argument(metavar="A", help="A volume.")],
    b: Annotated[str, typer.Argument(metavar="B", help="Another volume, or the same.")],
    *,
    stage_a: Annotated[int | None, typer.Option("--stage-a", metavar="N", min=1, help="Stage of A.")] = None,
    stage_b: Annotated[int | None, typer.Option("--stage-b", metavar="N", min=1, help="Stage of B.")] = None,
    plane: PlaneKey = None,
    form: Annotated[str, typer.Option("--as", metavar="FORM", help="words, svg, png or json.")] = "words",
    output: Output = None,
    public: AsPublic = False,
    data: Data = None,
) -> None:
    """Lay two stages or two uses of a cover over each other.

    Tells of every hole and fold which of the two accounts for it.
    """
    _form(form, ("words", "svg", "png", "json"))
    with opened(viewer(public=public), folder_or_default(data)) as access:
        drawn = draw_laid_over(access, a, b, stage_a=stage_a, stage_b=stage_b, plane=plane)
    if form == "words":
        _say_overlay(drawn.overlay)
        return
    with writing(output, f".{form}") as file:
        file.write(_drawn(form, drawn, drawn.overlay))


def _say_overlay(found: Overlay) -> None:
    for side in (found.a, found.b):
        say(f"{side.key.upper()}: {side.name}, stage {side.stage} ({side.stage_words})")
    say(found.words, *(pair.words for pair in found.row_pairs))
    rows = [
        (str(number), row.accounted, row.what, row.where, row.use_a, row.use_b)
        for number, row in enumerate(found.rows, start=1)
    ]
    say_table(("No.", "Explained by", "Trace", "Where", "A", "B"), rows)


def rejoin(
    carrier: Annotated[
        str, typer.Argument(metavar="CARRIER", help="A book, roll or document that was cut up.")
    ],
    *,
    leaf: Annotated[
        int, typer.Option("--leaf", metavar="N", min=1, help="Which of its leaves to draw, counted from 1.")
    ] = 1,
    form: Annotated[str, typer.Option("--as", metavar="FORM", help="words, svg or json.")] = "words",
    output: Output = None,
    public: AsPublic = False,
    data: Data = None,
) -> None:
    """Set the known pieces of a leaf out in their places."""
    _form(form, ("words", "svg", "json"))
    with opened(viewer(public=public), folder_or_default(data)) as access:
        drawn = draw_rejoined(access, carrier)
    if form == "words":
        _say_rejoined(drawn.rejoined)
        return
    if form == "svg" and leaf > len(drawn.svgs):
        raise WrongUse(message=f"Pieces of {len(drawn.svgs)} leaves are known, so there is no leaf {leaf}.")
    with writing(output) as file:
        file.write(drawn.svgs[leaf - 1].encode() if form == "svg" else _json(drawn.rejoined))


def _say_rejoined(found: Rejoined) -> None:
    say(found.name)
    for leaf in found.leaves:
        say(f"Leaf {leaf.leaf}: {len(leaf.pieces)} pieces, {leaf.known_share:.0%} of its area is known.")
        for piece in leaf.pieces:
            say(f"  {_named(piece)}: {piece.words}", *(f"    from {_volume(host)}" for host in piece.hosts))
        say(*(f"  {missing.words}" for missing in leaf.missing_lines))
        say(*(f"  Contradiction: {overlap.words}" for overlap in leaf.overlaps))
    say(*(f"Leaf not known: {_named(piece)}" for piece in found.unplaced))


def _named(piece: LeafPiece) -> str:
    return f"{piece.name} [{short(piece.piece)}]"


def _volume(host: CameFrom) -> str:
    shelfmark = f", {host.shelfmark}" if host.shelfmark else ""
    return f"{host.name}{shelfmark} [{short(host.host)}]"
