"""The catalogue as a dataset: its description, dumps, feed of changes, and the maps for search engines."""

from __future__ import annotations

import json
from types import MappingProxyType
from typing import Annotated, Any

from fastapi import APIRouter, Path
from starlette.convertors import Convertor, register_url_convertor
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response, StreamingResponse

from guardbook.actions.describe_dataset import dataset_description
from guardbook.actions.dump_records import dump_format, dump_records
from guardbook.actions.map_site import map_site
from guardbook.actions.tell_changes import all_changes, page_of_changes
from guardbook.api import freshness
from guardbook.api.addresses import Ending
from guardbook.api.descriptions import files
from guardbook.api.leading import LEADS, PAGE, lead
from guardbook.api.reply import Asked
from guardbook.exports.dataset.change_feed import MEDIA_TYPE as FEED_TYPE
from guardbook.exports.dataset.facts import reached_at

router = APIRouter(tags=["The catalogue as a dataset"])

FORMS = MappingProxyType(
    {
        PAGE: ".html",
        "text/turtle": ".ttl",
        "application/ld+json": ".jsonld",
        "application/rdf+xml": ".rdf",
        "application/n-triples": ".nt",
    }
)
# whoever follows this address and takes anything is a program (W3C note *Describing Linked Datasets with the
# VoID Vocabulary*, on discovery, from memory)
_DATA_FIRST = MappingProxyType({found: FORMS[found] for found in sorted(FORMS, key=PAGE.__eq__)})
_BY_ENDING = MappingProxyType({ending[1:]: found for found, ending in FORMS.items() if found != PAGE})


class _FormConvertor(Convertor[str]):
    """Lets only the forms that are data stand in an address, so that the page is found elsewhere."""

    regex = "|".join(_BY_ENDING)

    def convert(self, value: str) -> str:
        return value

    def to_string(self, value: str) -> str:
        return value


register_url_convertor("datasetform", _FormConvertor())

GZIP, XML, TEXT = "application/gzip", "application/xml", "text/plain"
# one that there is not is not found, whichever it is
Number = Annotated[int, Path(le=2**53, description="The number of the page, from 1.", examples=[1])]


@router.get(
    "/dataset",
    operation_id="getDataset",
    status_code=303,
    response_class=RedirectResponse,
    responses=LEADS,
)
def dataset(request: Request) -> Response:
    """Be led to the description of the catalogue as a dataset."""
    return lead(request, "/dataset", FORMS)


@router.get("/.well-known/void", include_in_schema=False)
def well_known(request: Request) -> Response:
    """Be led to the same, as data unless a page is asked for."""
    return lead(request, "/dataset", _DATA_FIRST)


@router.get(
    "/dataset.{ending:datasetform}",
    operation_id="describeDataset",
    responses=files("The dataset in VoID and DCAT.", *_BY_ENDING.values()),
)
def description(request: Request, access: Asked, ending: Ending) -> Response:
    """Get what the catalogue holds, in numbers, and where it is asked, copied and followed, as RDF."""
    version = freshness.of_catalogue(access)
    if version.is_known_to(request):
        return version.not_modified()
    described = dataset_description(access, str(request.base_url), _BY_ENDING[ending])
    return Response(described, headers=version.headers, media_type=_BY_ENDING[ending])


@router.get("/dump.{ending}.gz", operation_id="dumpRecords", responses=files("All records.", GZIP))
def dump(request: Request, access: Asked, ending: Ending) -> Response:
    """Get all records in one compressed file: `nq` (N-Quads) or `trig` (TriG), one graph a record."""
    dump_format(ending)
    version = freshness.of_catalogue(access)
    if version.is_known_to(request):
        return version.not_modified()
    name = f'attachment; filename="guardbook.{ending}.gz"'
    headers = {**version.headers, "Content-Disposition": name}
    return StreamingResponse(dump_records(access, ending), headers=headers, media_type=GZIP)


@router.get("/activity/all-changes", operation_id="listChanges", responses=files("The feed.", FEED_TYPE))
def changes(request: Request, access: Asked) -> Response:
    """Get the feed of changes (IIIF Change Discovery 1.0): how many there are, the oldest and newest page."""
    return _fed(request, access, all_changes(access, str(request.base_url)))


@router.get("/activity/page-{number}", operation_id="getPageOfChanges", responses=files("A page.", FEED_TYPE))
def changes_on_page(request: Request, access: Asked, number: Number) -> Response:
    """Get one page of the feed: what came, changed and went, the oldest first."""
    return _fed(request, access, page_of_changes(access, number, str(request.base_url)))


def _fed(request: Request, access: Asked, told: dict[str, Any]) -> Response:
    version = freshness.of_catalogue(access)
    if version.is_known_to(request):
        return version.not_modified()
    body = json.dumps(told, ensure_ascii=False)
    return Response(body, headers={**version.headers, "Content-Type": FEED_TYPE})


@router.get("/sitemap.xml", operation_id="mapSite", responses=files("The map.", XML))
def site_map(request: Request, access: Asked) -> Response:
    """Get the pages of records for search engines, or the list of the maps where they are many."""
    return StreamingResponse(map_site(access, str(request.base_url)), media_type=XML)


@router.get("/sitemap-{number}.xml", operation_id="mapPartOfSite", responses=files("The map.", XML))
def part_of_site_map(request: Request, access: Asked, number: Number) -> Response:
    """Get one of several maps of the pages."""
    return StreamingResponse(map_site(access, str(request.base_url), number), media_type=XML)


@router.get("/robots.txt", operation_id="tellRobots", responses=files("What may be fetched.", TEXT))
def robots(request: Request) -> Response:
    """Tell programs that go from page to page what to leave alone: what is asked, rather than kept."""
    left_alone = "".join(f"Disallow: {path}\n" for path in ("/api/", "/search", "/sparql"))
    told = f"User-agent: *\n{left_alone}Sitemap: {reached_at(str(request.base_url))}sitemap.xml\n"
    return Response(told, media_type=TEXT)
