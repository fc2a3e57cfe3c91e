"""`guardbook label`, `bench-sheet` and `report`: what is printed."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from guardbook.actions.make_bench_sheet import make_bench_sheet
from guardbook.actions.make_label import make_labels
from guardbook.actions.make_report import READERS, make_report
from guardbook.actions.open_catalogue import opened
from guardbook.cli.handing_on import writing
from guardbook.cli.options import AsPublic, Data, Language, Name, folder_or_default, viewer

Output = Annotated[
    Path | None,
    typer.Option("--output", "-o", metavar="FILE", help="The PDF to write; else it is piped."),
]
Paper = Annotated[str, typer.Option("--paper", metavar="PAPER", help="a4 or letter.")]
_Length = float | None


def _mm(option: str, what: str) -> object:
    return typer.Option(option, metavar="MM", help=f"{what}, in mm.")


def label(
    names: Annotated[
        list[str], typer.Argument(metavar="ID", help="Pieces or volumes: identifiers, workshop numbers.")
    ],
    *,
    on: Annotated[
        str | None,
        typer.Option("--on", metavar="PAPER", help="label (a page each), a4 or letter; for several: a4."),
    ] = None,
    start: Annotated[
        int | None, typer.Option("--start", metavar="N", help="The first label that is left on a used sheet.")
    ] = None,
    columns: Annotated[int | None, typer.Option("--columns", metavar="N", help="Labels across.")] = None,
    rows: Annotated[int | None, typer.Option("--rows", metavar="N", help="Labels down.")] = None,
    width: Annotated[_Length, _mm("--label-width", "Width of a label")] = None,
    height: Annotated[_Length, _mm("--label-height", "Height of a label")] = None,
    left: Annotated[_Length, _mm("--left", "Margin left of the first column")] = None,
    top: Annotated[_Length, _mm("--top", "Margin above the first row")] = None,
    gap_x: Annotated[_Length, _mm("--gap-x", "Gap between columns")] = None,
    gap_y: Annotated[_Length, _mm("--gap-y", "Gap between rows")] = None,
    language: Language = "en",
    output: Output = None,
    public: AsPublic = False,
    data: Data = None,
) -> None:
    """Print labels with QR codes for envelopes and boxes.

    One piece gets a page of the size of the label, several go onto sheets of A4 with 2 by 7 labels of 99.1 by
    38.1 mm; other sheets are told by their measures.
    """
    paper = on or ("label" if len(names) == 1 else "a4")
    sizes = {"width": width, "height": height, "left": left, "top": top, "gap_x": gap_x, "gap_y": gap_y}
    with opened(viewer(public=public), folder_or_default(data)) as access, writing(output, ".pdf") as file:
        made = make_labels(
            access, names, paper, in_language=language, start=start, columns=columns, rows=rows, **sizes
        )
        file.write(made)


def bench_sheet(
    host: Annotated[
        str | None, typer.Argument(metavar="HOST", help="A volume; without it, a sheet for any.")
    ] = None,
    *,
    paper: Paper = "a4",
    language: Language = "en",
    output: Output = None,
    public: AsPublic = False,
    data: Data = None,
) -> None:
    """Print the sheet to fill in by hand at the bench.

    What is asked for on sight and before lifting, in that order, and the planes of the volume to draw on.
    """
    with opened(viewer(public=public), folder_or_default(data)) as access, writing(output, ".pdf") as file:
        file.write(make_bench_sheet(access, host, in_language=language, paper=paper))


def report(
    name: Name,
    *,
    reader: Annotated[
        str, typer.Option("--for", metavar="READER", help=f"Whom it is for: {' or '.join(READERS)}.")
    ] = "owner",
    paper: Paper = "a4",
    language: Language = "en",
    output: Output = None,
    public: AsPublic = False,
    data: Data = None,
) -> None:
    """Print the report on a volume or piece.

    For its owner: what was found, proposed and done, and how things stand. For a scholar: where it sat, what
    it proves, how to cite it.
    """
    folder = folder_or_default(data)
    with opened(viewer(public=public), folder) as access, writing(output, ".pdf") as file:
        made = make_report(access, name, reader, in_language=language, paper=paper, data=folder)
        file.write(made)
