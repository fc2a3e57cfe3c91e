"""What is printed, as PDF: labels, the sheet for the bench, reports."""

from __future__ import annotations

from typing import Annotated, Literal

from fastapi import APIRouter, Query
from starlette.responses import Response

from guardbook.actions.make_bench_sheet import make_bench_sheet
from guardbook.actions.make_label import make_labels
from guardbook.actions.make_report import make_report
from guardbook.api.addresses import Identifier, record_at
from guardbook.api.descriptions import files
from guardbook.api.exchange import LabelLanguage
from guardbook.api.reply import Asked

router = APIRouter(prefix="/api", tags=["Paper"])

PDF = "application/pdf"
Paper = Annotated[Literal["a4", "letter"], Query(description="The paper.")]
Whole = Annotated[int | None, Query(ge=1, le=1000, description="How many, where it is not the usual.")]
Length = Annotated[float | None, Query(ge=0, le=1000, allow_inf_nan=False, description="In mm.")]
Reader = Annotated[Literal["owner", "scholar"], Query(alias="for", description="Whom the report is for.")]


def pdf_reply(made: bytes, name: str) -> Response:
    """Give a PDF to be looked at, under a name to be saved by."""
    return Response(made, headers={"Content-Disposition": f'inline; filename="{name}"'}, media_type=PDF)


@router.get("/labels", operation_id="printLabels", responses=files("The labels.", PDF))
def labels(
    access: Asked,
    *,
    names: Annotated[
        list[str],
        Query(alias="id", description="Pieces or volumes: identifiers or workshop numbers; repeatable."),
    ],
    on: Annotated[
        Literal["label", "a4", "letter"], Query(description="A page for each label, or sheets.")
    ] = "label",
    start: Annotated[Whole, Query(description="The first label left on a used sheet.")] = None,
    columns: Whole = None,
    rows: Whole = None,
    width: Annotated[Length, Query(alias="labelWidth")] = None,
    height: Annotated[Length, Query(alias="labelHeight")] = None,
    left: Length = None,
    top: Length = None,
    gap_x: Annotated[Length, Query(alias="gapX")] = None,
    gap_y: Annotated[Length, Query(alias="gapY")] = None,
    language: LabelLanguage = "en",
) -> Response:
    """Get labels with identifier, QR code and where each piece sat."""
    sizes = {"width": width, "height": height, "left": left, "top": top, "gap_x": gap_x, "gap_y": gap_y}
    made = make_labels(
        access, names, on, in_language=language, start=start, columns=columns, rows=rows, **sizes
    )
    return pdf_reply(made, "labels.pdf")


@router.get("/bench-sheet", operation_id="printBenchSheet", responses=files("The sheet.", PDF))
def any_bench_sheet(access: Asked, paper: Paper = "a4", language: LabelLanguage = "en") -> Response:
    """Get the sheet to fill in by hand, for a volume that is not recorded yet."""
    return pdf_reply(make_bench_sheet(access, in_language=language, paper=paper), "bench-sheet.pdf")


@router.get(
    "/records/host/{identifier}/bench-sheet",
    operation_id="printBenchSheetOfHost",
    responses=files("The sheet.", PDF),
)
def bench_sheet(
    access: Asked, identifier: Identifier, paper: Paper = "a4", language: LabelLanguage = "en"
) -> Response:
    """Get the sheet to fill in by hand for a volume, with its planes to draw on."""
    made = make_bench_sheet(access, record_at(access, "host", identifier), in_language=language, paper=paper)
    return pdf_reply(made, f"bench-sheet-{identifier}.pdf")


@router.get(
    "/records/host/{identifier}/report", operation_id="reportOfHost", responses=files("The report.", PDF)
)
def report_of_host(
    access: Asked,
    identifier: Identifier,
    reader: Reader = "owner",
    paper: Paper = "a4",
    language: LabelLanguage = "en",
) -> Response:
    """Get the report on a volume and its pieces, for its owner or for a scholar."""
    iri = record_at(access, "host", identifier)
    made = make_report(access, iri, reader, in_language=language, paper=paper)
    return pdf_reply(made, f"report-{identifier}.pdf")


@router.get(
    "/records/fragment/{identifier}/report",
    operation_id="reportOfFragment",
    responses=files("The report.", PDF),
)
def report_of_fragment(
    access: Asked,
    identifier: Identifier,
    reader: Reader = "owner",
    paper: Paper = "a4",
    language: LabelLanguage = "en",
) -> Response:
    """Get the report on a piece, for its owner or for a scholar."""
    iri = record_at(access, "fragment", identifier)
    made = make_report(access, iri, reader, in_language=language, paper=paper)
    return pdf_reply(made, f"report-{identifier}.pdf")
