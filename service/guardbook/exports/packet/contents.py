"""The files of a packet, one after the other."""

from __future__ import annotations

import csv
import io
import shutil
import textwrap
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import BinaryIO, NamedTuple

from guardbook import settings
from guardbook.exports.formats import FORMATS
from guardbook.exports.model_files import model_files
from guardbook.exports.packet.bag_writer import BagWriter
from guardbook.exports.packet.crate import LICENCE, METADATA, About, metadata
from guardbook.exports.rdf import Statements
from guardbook.exports.surroundings import Surroundings
from guardbook.intake.packet import RECORDS, REVISION_COLUMNS, REVISIONS, canonical_hash
from guardbook.records.base import Record
from guardbook.records.image import Image

# each form of the records: its path, its format, and what it is
_FORMS = (
    (RECORDS, "trig", "The records in full, one named graph a record"),
    ("records/records.jsonld", "jsonld", "The records in full, as JSON-LD with its context"),
    ("records/crm.ttl", "crm", "The records in the words of CIDOC CRM"),
    ("tei/descriptions.xml", "tei", "The pieces, volumes and carriers as manuscript descriptions"),
    ("pieces.csv", "csv", "The pieces as a table"),
    ("citations.txt", "citation", "How to cite each record"),
)
_SAID = {
    "README.txt": "What this is and how to read it",
    LICENCE: "Who holds rights in what",
    REVISIONS: "The revision and the canonical hash of each record",
    **{path: about for path, _, about in _FORMS},
}
_LICENCES = """\
Each record, and each picture, is under the licence that its own record states; where a record states none,
nothing is granted, and its keeper or rights holder is to be asked. Licences that are stated here, and by how
many records:

{licences}

Holders of rights that are named:

{holders}
"""


class Made(NamedTuple):
    """A file that is made for a packet: its path, what it is, and its bytes."""

    path: str
    said: str
    data: bytes


@dataclass(frozen=True, kw_only=True)
class Contents:
    """What goes into a packet.

    `records` gives all records anew, `statements` those of each as they are kept, `with_events` the pieces,
    each followed by its placings and separations. `pictures` gives image records, and what opens their
    files, by their paths in the packet; `made` what is made for it of some records, such as manifests and
    reports. `left_out` says what is not here, though one might look for it.
    """

    records: Callable[[], Iterator[Record]]
    statements: Callable[[], Statements]
    with_events: Callable[[], Iterator[Record]]
    around: Surroundings
    pictures: Mapping[str, tuple[Image, Callable[[], BinaryIO]]]
    made: Callable[[], Iterator[Made]]
    left_out: tuple[str, ...]
    viewer: str


def write_contents(contents: Contents, bag: BagWriter) -> int:
    """Write every file and make a bag of it; give the number of records."""
    tally = _write_records(contents, bag)
    for path, (_, opened) in contents.pictures.items():
        with bag.file(path) as file, opened() as picture:
            shutil.copyfileobj(picture, file)
    said = dict(_SAID)
    for made in contents.made():
        said[made.path] = made.said
        with bag.file(made.path) as file:
            file.write(made.data)
    _write_model(bag)
    _write_licences(tally, bag)
    about = _about(contents, tally.records, said)
    with bag.file("README.txt") as file:
        file.write(_readme(contents, about, tally.records).encode())
    with bag.file(METADATA) as file:
        file.write(metadata(about, bag.files))
    bag.finish(_info(contents, about))
    return tally.records


def _about(contents: Contents, count: int, said: Mapping[str, str]) -> About:
    name = settings.current().name
    return About(
        title=f"{name}: fragments of bookbindings and the volumes that held them",
        description=f"{count} records and {len(contents.pictures)} pictures from the catalogue {name}.",
        day=contents.around.today,
        said=said,
        pictures={path: image for path, (image, _) in contents.pictures.items()},
    )


@dataclass
class _Tally:
    """What was met on the way through all records."""

    records: int = 0
    licences: Counter[str] = field(default_factory=Counter)
    holders: Counter[str] = field(default_factory=Counter)

    def add(self, record: Record) -> None:
        """Note a record."""
        self.records += 1
        self.licences.update(filter(None, [getattr(record, "licence", None)]))
        self.holders.update(filter(None, [getattr(record, "rights_holder", None)]))


def _write_records(contents: Contents, bag: BagWriter) -> _Tally:
    for path, form, _ in _FORMS:
        chosen = FORMATS[form]
        with bag.file(path) as file:
            if chosen.write_statements:
                chosen.write_statements(contents.statements(), file)
            else:
                records = (
                    contents.with_events() if chosen.kinds and chosen.with_events else contents.records()
                )
                chosen.write(records, file, contents.around)
    with bag.file(REVISIONS) as file:
        return _write_revisions(contents, file)


def _write_revisions(contents: Contents, file: BinaryIO) -> _Tally:
    text = io.TextIOWrapper(file, encoding="utf-8", newline="", write_through=True)
    table = csv.writer(text)
    table.writerow(REVISION_COLUMNS)
    tally = _Tally()
    for record in contents.records():
        tally.add(record)
        kept = contents.around.kept(record.id)
        told = (kept.revision, _moment(kept.when)) if kept else ("", "")
        table.writerow((record.id, *told, canonical_hash(record)))
    text.detach()
    return tally


def _moment(when: datetime) -> str:
    return when.isoformat(timespec="seconds")


def _write_model(bag: BagWriter) -> None:
    for path, source in model_files():
        with bag.file(path) as file:
            file.write(source.read_bytes())


def _write_licences(tally: _Tally, bag: BagWriter) -> None:
    told = _LICENCES.format(licences=_counted(tally.licences), holders=_counted(tally.holders))
    with bag.file(LICENCE) as file:
        file.write(told.encode())


def _counted(found: Counter[str]) -> str:
    lines = (f"  {' '.join(text.split())} ({number})" for text, number in sorted(found.items()))
    return "\n".join(lines) or "  none"


def _readme(contents: Contents, about: About, count: int) -> str:
    here = settings.current()
    words = Path(__file__).with_name("readme.txt").read_text(encoding="utf-8")
    return words.format(
        title=about.title,
        rule="=" * len(about.title),
        records=count,
        images=len(contents.pictures),
        day=about.day.isoformat(),
        name=here.name,
        base=here.base,
        viewer=contents.viewer,
        left_out=_listed(contents.left_out),
    )


def _listed(left_out: Iterable[str]) -> str:
    # an identifier stays in one piece, so that it can be searched for
    filler = textwrap.TextWrapper(110, initial_indent="- ", subsequent_indent="  ", break_on_hyphens=False)
    lines = [filler.fill(one) for one in left_out]
    return "\n".join(["What is not here", "", *lines]) if lines else "Nothing was left out."


def _info(contents: Contents, about: About) -> dict[str, str]:
    return {
        "Source-Organization": settings.current().name,
        "External-Identifier": settings.current().base,
        "External-Description": about.description,
        "Bagging-Date": about.day.isoformat(),
        "Bag-Group-Identifier": f"as {contents.viewer} may see it",
    }
