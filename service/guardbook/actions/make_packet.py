"""Make a packet: one file for deposit or for handing over, readable without this program."""

from __future__ import annotations

import json
import zipfile
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path
from typing import BinaryIO

from guardbook.actions.export_records import records_with_events, surroundings
from guardbook.actions.image_file import ImageFile, file_for
from guardbook.actions.left_out_of_packet import left_out_of_packet
from guardbook.actions.make_report import make_report
from guardbook.actions.manifest_of import manifest_of_any
from guardbook.catalogue.access import Access, Kept, Viewer
from guardbook.catalogue.references import references_of
from guardbook.errors import Busy, NotFound, WrongUse
from guardbook.exports.packet.bag_writer import BagWriter
from guardbook.exports.packet.contents import Contents, Made, write_contents
from guardbook.exports.surroundings import Surroundings
from guardbook.intake.packet import place_in_packet
from guardbook.records.base import Record
from guardbook.records.image import Image
from guardbook.records.mapping import to_quads

Pictures = dict[str, tuple[Image, Callable[[], BinaryIO]]]
_READERS = {"owner": "report for the owner", "scholar": "sheet for scholars"}
_VIEWERS = {Viewer.PUBLIC: "the public", Viewer.WORKSHOP: "the workshop"}


@dataclass(frozen=True, kw_only=True)
class Packed:
    """What was packed: how many records and pictures, and what was left out."""

    records: int
    pictures: int
    left_out: tuple[str, ...]


def make_packet(
    access: Access,
    names: Sequence[str] | None,
    output: BinaryIO,
    *,
    with_reports: bool | None = None,
    data: Path | None = None,
) -> Packed:
    """Write the named records (all of them for None) and all that they hang on to `output`.

    With a piece go its events, images, readings and decisions, its volumes and carriers; with a volume all
    its pieces. What this viewer may not see is left out. Names may be identifiers in any spelling or
    workshop numbers. Reports on paper are made of the named volumes and pieces, or `with_reports` of all, in
    the language now spoken; `data` is the folder of the catalogue (None: the usual one). Raises NotFound and
    Gone, WrongUse for no names, Busy where somebody saved meanwhile.
    """
    if names is not None and not names:
        raise WrongUse(message="Say which records to pack, or ask for all of them.")
    sequence = access.sequence
    iris = sorted(access.iris() if names is None else _with_all_they_hang_on(access, names))
    named = [access.resolve(name) for name in names or ()]
    reported = iris if with_reports else named if with_reports is None else []
    pictures, not_given = _pictures(access, iris, data)
    left_out = (*left_out_of_packet(access, iris), *not_given)
    described = {image.id: image for image, _ in pictures.values()}
    contents = Contents(
        records=lambda: (described.get(record.id, record) for record in _records(access, iris)),
        statements=lambda: (
            to_quads(described[iri]) if iri in described else access.quads(iri) for iri in iris
        ),
        with_events=lambda: records_with_events(access, (iri for iri in iris if "/fragment/" in iri)),
        around=_with_pictures_as_given(surroundings(access), described),
        pictures=pictures,
        made=lambda: _made(access, iris, reported, data),
        left_out=left_out,
        viewer=_VIEWERS[access.viewer],
    )
    with zipfile.ZipFile(output, "w") as archive:
        count = write_contents(contents, BagWriter(archive))
    if access.sequence != sequence:
        raise Busy(message="Somebody saved while the packet was made, so it is not whole: make it again.")
    return Packed(records=count, pictures=len(pictures), left_out=left_out)


def _records(access: Access, iris: Iterable[str]) -> Iterator[Record]:
    return (access.record(iri).record for iri in iris)


def _with_all_they_hang_on(access: Access, names: Sequence[str]) -> set[str]:
    """Give the records, what is told of them and of the pieces met so, and whatever all these name."""
    chosen = {access.resolve(name) for name in names}
    told = chosen.union(*(access.about(iri) for iri in chosen))
    named = {iri for iri in told | _named_by(access, told) if "/fragment/" in iri}
    found = told.union(named, *(access.about(iri) for iri in named))
    waiting = found
    while waiting:
        waiting = _named_by(access, waiting) - found
        found |= waiting
    return found


def _named_by(access: Access, iris: Iterable[str]) -> set[str]:
    named = (one.target for record in _records(access, iris) for one in references_of(record))
    return {target for target in named if access.has(target)}


def _pictures(access: Access, iris: Iterable[str], data: Path | None) -> tuple[Pictures, tuple[str, ...]]:
    """Give the pictures by their paths in the packet, and what keeps others from being there."""
    found: Pictures = {}
    left_out = []
    for record in _records(access, iris):
        if not isinstance(record, Image) or not record.file:
            continue
        picture, named = (
            file_for(access.viewer, record, data),
            f"{record.short}: its file {record.file!r} is not",
        )
        if picture is None:
            left_out.append(f"{named} kept here, or not of a kind that the public is given")
        elif not picture.is_the_one_described:
            left_out.append(f"{named} the one that its record describes")
        elif (image := _described(picture)) is None:
            left_out.append(f"{named} one that can be read")
        else:
            found[place_in_packet(record.file)] = (image, picture.opened)
    return found, tuple(left_out)


def _made(access: Access, iris: Iterable[str], reported: Iterable[str], data: Path | None) -> Iterator[Made]:
    """Make the manifests of volumes, carriers and pieces that are reported on, and the reports."""
    shown = {iri for iri in iris if _kind(iri) in {"host", "carrier"}}
    for iri in sorted({*shown, *(iri for iri in reported if _kind(iri) == "fragment")}):
        with suppress(NotFound):
            laid_out = json.dumps(manifest_of_any(access, iri), ensure_ascii=False).encode()
            said = f"{access.record(iri).record.display_title}, laid out for viewers of pictures"
            yield Made(f"iiif/{_file_name(iri)}.json", said, laid_out)
    for iri in sorted(iri for iri in reported if _kind(iri) in {"host", "fragment"}):
        for reader, said in _READERS.items():
            paper = make_report(access, iri, reader, data=data)
            title = access.record(iri).record.display_title
            yield Made(f"papers/{_file_name(iri)}-{reader}.pdf", f"{title}: {said}", paper)


def _kind(iri: str) -> str:
    return iri.rsplit("/", 2)[-2]


def _file_name(iri: str) -> str:
    return "-".join(iri.rsplit("/", 2)[-2:])


def _described(picture: ImageFile) -> Image | None:
    try:
        return picture.described
    except NotFound:
        return None


def _with_pictures_as_given(around: Surroundings, described: Mapping[str, Image]) -> Surroundings:
    """Let records of pictures have the checksum of the file that is in the packet."""

    def kept(iri: str) -> Kept | None:
        found = around.kept(iri)
        return replace(found, record=described.get(iri, found.record)) if found else None

    return replace(around, kept=kept)
