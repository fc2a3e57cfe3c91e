"""What is printed: labels and the sheet for the bench as pages and as PDF, reports as PDF."""

from __future__ import annotations

from fastapi import APIRouter
from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from guardbook.actions.make_bench_sheet import lay_out_bench_sheet, make_bench_sheet
from guardbook.actions.make_label import labels_of, make_labels
from guardbook.actions.make_report import make_report
from guardbook.errors import WrongUse
from guardbook.exports.paper.bench_sheet import words
from guardbook.pages.rendering import Asked, page
from guardbook.wording import _

router = APIRouter(include_in_schema=False)

KINDS = ("fragment", "host")
# what a form may say of a sheet of labels: whole numbers, and lengths in mm
_WHOLE = ("start", "columns", "rows")
_LENGTHS = {
    "labelWidth": "width",
    "labelHeight": "height",
    "left": "left",
    "top": "top",
    "gapX": "gap_x",
    "gapY": "gap_y",
}


@router.get("/labels")
def labels(request: Request, access: Asked) -> HTMLResponse:
    """Show the labels of some pieces and volumes, to be printed by the browser."""
    return _labels(request, access, request.query_params.getlist("id"))


@router.get("/labels.pdf")
def labels_as_pdf(request: Request, access: Asked) -> Response:
    """Give labels as PDF, on sheets of the paper that is asked for."""
    asked = request.query_params
    made = make_labels(
        access,
        asked.getlist("id"),
        asked.get("on") or "a4",
        in_language=_language(request),
        **_sheet(request),
    )
    return _pdf(made, "labels.pdf")


@router.get("/bench-sheet")
def bench_sheet_of_any(request: Request, access: Asked) -> HTMLResponse:
    """Show the sheet to fill in by hand, for any volume."""
    return _bench_sheet(request, access, None)


@router.get("/bench-sheet.pdf")
def bench_sheet_of_any_as_pdf(request: Request, access: Asked) -> Response:
    """Give the sheet to fill in by hand, for any volume, as PDF."""
    return _pdf(
        make_bench_sheet(access, in_language=_language(request), paper=_paper(request)), "bench-sheet.pdf"
    )


@router.get("/host/{identifier}/bench-sheet")
def bench_sheet(request: Request, access: Asked, identifier: str) -> HTMLResponse:
    """Show the sheet to fill in by hand for a volume."""
    return _bench_sheet(request, access, f"host/{identifier}")


@router.get("/host/{identifier}/bench-sheet.pdf")
def bench_sheet_as_pdf(request: Request, access: Asked, identifier: str) -> Response:
    """Give the sheet to fill in by hand for a volume as PDF."""
    made = make_bench_sheet(
        access, f"host/{identifier}", in_language=_language(request), paper=_paper(request)
    )
    return _pdf(made, f"bench-sheet-{identifier}.pdf")


def _of_each_kind(kind: str) -> None:
    """Add what is printed of a piece or volume at its own address."""

    @router.get(f"/{kind}/{{identifier}}/label", name=f"label_of_{kind}")
    def label(request: Request, access: Asked, identifier: str) -> HTMLResponse:
        return _labels(request, access, [f"{kind}/{identifier}"])

    @router.get(f"/{kind}/{{identifier}}/label.pdf", name=f"label_of_{kind}_as_pdf")
    def label_as_pdf(request: Request, access: Asked, identifier: str) -> Response:
        on = request.query_params.get("on") or "label"
        name = f"{kind}/{identifier}"
        made = make_labels(access, [name], on, in_language=_language(request), **_sheet(request))
        return _pdf(made, f"label-{identifier}.pdf")

    @router.get(f"/{kind}/{{identifier}}/report.pdf", name=f"report_of_{kind}")
    def report(request: Request, access: Asked, identifier: str) -> Response:
        return _report(request, access, f"{kind}/{identifier}", "owner")

    @router.get(f"/{kind}/{{identifier}}/sheet.pdf", name=f"sheet_of_{kind}")
    def sheet(request: Request, access: Asked, identifier: str) -> Response:
        return _report(request, access, f"{kind}/{identifier}", "scholar")


for _kind in KINDS:
    _of_each_kind(_kind)


def _labels(request: Request, access: Asked, names: list[str]) -> HTMLResponse:
    found = labels_of(access, names)
    # drawn by segno, from the IRI alone
    drawn = [(one, Markup(one.qr)) for one in found]  # noqa: S704
    return page(request, "labels.html", labels=drawn, query=request.url.query)


def _bench_sheet(request: Request, access: Asked, name: str | None) -> HTMLResponse:
    sheet = lay_out_bench_sheet(access, name)
    # drawn by us, with every text escaped
    drawn = [(one, Markup(one.svg)) for one in (sheet.ruler, *sheet.drawings)]  # noqa: S704
    qr = Markup(sheet.qr)  # noqa: S704  # drawn by segno
    return page(request, "bench_sheet.html", sheet=sheet, words=words(sheet), drawn=drawn, qr=qr)


def _report(request: Request, access: Asked, name: str, reader: str) -> Response:
    made = make_report(access, name, reader, in_language=_language(request), paper=_paper(request))
    return _pdf(made, f"{reader}-{name.rpartition('/')[2]}.pdf")


def _pdf(made: bytes, name: str) -> Response:
    headers = {"Content-Disposition": f'inline; filename="{name}"'}
    return Response(made, headers=headers, media_type="application/pdf")


def _language(request: Request) -> str | None:
    """Give the language asked for in the address, or None for the one now spoken."""
    return request.query_params.get("language") or None


def _paper(request: Request) -> str:
    return request.query_params.get("paper") or "a4"


def _sheet(request: Request) -> dict[str, float | int]:
    """Read what the address says of a sheet of labels. Raises WrongUse for what is no number."""
    asked = request.query_params
    whole = {name: _number(name, text, int) for name in _WHOLE if (text := asked.get(name))}
    lengths = {to: _number(name, text, float) for name, to in _LENGTHS.items() if (text := asked.get(name))}
    return {**whole, **lengths}


def _number(name: str, text: str, kind: type[int] | type[float]) -> float | int:
    try:
        found = kind(text.replace(",", "."))
    except ValueError:
        found = kind(-1)
    if not 0 <= found <= 1000:
        raise WrongUse(
            message=_("Expected a number from 0 to 1000 in {name}, found {found}.").format(
                name=name, found=repr(text)
            )
        )
    return found
