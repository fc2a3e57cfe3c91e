"""Make the report of a volume or piece on paper: for its owner, or for a scholar."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from types import MappingProxyType

from guardbook.actions.gather_report import gather_report
from guardbook.actions.speaking_in import speaking_in
from guardbook.catalogue.access import Access
from guardbook.errors import WrongUse
from guardbook.exports.paper.label_sheet import PAPERS
from guardbook.exports.paper.matter import Matter
from guardbook.exports.paper.owner_report import owner_report
from guardbook.exports.paper.scholar_sheet import scholar_sheet
from guardbook.wording import _

READERS: Mapping[str, Callable[[Matter, str], bytes]] = MappingProxyType(
    {"owner": owner_report, "scholar": scholar_sheet}
)


def make_report(
    access: Access,
    name: str,
    reader: str = "owner",
    *,
    in_language: str | None = None,
    paper: str = "a4",
    data: Path | None = None,
) -> bytes:
    """Make a report as PDF, by an identifier in any spelling or a workshop number.

    `reader` is one of `READERS`, `in_language` one of ours (None: the one now spoken), `paper` a4 or letter.
    Raises NotFound, Gone, and WrongUse for a record that is neither volume nor piece, or what is not offered.
    """
    if reader not in READERS:
        raise WrongUse(
            message=_("There is no report for {reader}, only for {readers}.").format(
                reader=repr(reader), readers=", ".join(READERS)
            )
        )
    if paper not in PAPERS:
        raise WrongUse(
            message=_("There is no paper {paper}, only {papers}.").format(
                paper=repr(paper), papers=", ".join(PAPERS)
            )
        )
    with speaking_in(in_language):
        matter = gather_report(access, name, weighed=reader == "scholar", data=data)
        return READERS[reader](matter, paper)
