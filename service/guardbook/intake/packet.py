"""What a packet holds: its records, each held to its canonical hash, and the files of its pictures."""

from __future__ import annotations

import csv
import hashlib
import io
import re
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import PurePosixPath

import pyoxigraph as ox

from guardbook import settings
from guardbook.catalogue.chain import body_hash
from guardbook.errors import Fault, InvalidRecord
from guardbook.intake.bag import Bag
from guardbook.intake.safe_zip import unreadable
from guardbook.records.base import Record
from guardbook.records.image import Image
from guardbook.records.mapping import canonical, from_quads, to_quads

RECORDS = "records/records.trig"
REVISIONS = "records/revisions.csv"
REVISION_COLUMNS = ("record", "revision", "saved", "sha256")
IMAGES = "images/"
_PLAIN_NAME = re.compile(r"images/[A-Za-z0-9_-][A-Za-z0-9._ -]*(?:/[A-Za-z0-9_-][A-Za-z0-9._ -]*)*")
_OTHER_HOME = "Start this catalogue with GUARDBOOK_BASE set to where the packet comes from."


@dataclass(frozen=True)
class Packet:
    """The records of a packet, and where in the bag the file of each picture lies, by its record's IRI."""

    records: tuple[Record, ...]
    pictures: tuple[tuple[Image, str], ...]


def canonical_hash(record: Record) -> str:
    """Give the SHA-256 of a record's canonical form (RDFC-1.0), as the ledger has it."""
    return body_hash(canonical(to_quads(record)))


def place_in_packet(file: str) -> str:
    """Give where the file of a picture lies in a packet: where its record says, if every system takes that.

    >>> place_in_packet("images/strip 2.jpg")
    'images/strip 2.jpg'
    """
    if _PLAIN_NAME.fullmatch(file) and len(file) < 200 and not file.endswith((".", " ")):
        return file
    ending = PurePosixPath(file).suffix
    ending = ending if re.fullmatch(r"\.[A-Za-z0-9]{1,8}", ending) else ""
    return f"{IMAGES}{hashlib.sha256(file.encode()).hexdigest()}{ending}"


def read_packet(bag: Bag, name: str) -> Packet:
    """Read the records and pictures. Raises UnreadableFile with every fault, and reads nothing half."""
    needed = (path for path in (RECORDS, REVISIONS) if path not in bag.files)
    faults = [Fault(where=f"{name}, {path}", found="nothing", expected="a file") for path in needed]
    if faults:
        raise unreadable(name, faults)
    records = tuple(_records(bag.read(RECORDS), f"{name}, {RECORDS}", faults))
    faults = faults or list(_unlike(records, bag.read(REVISIONS), f"{name}, {REVISIONS}"))
    pictures = tuple(_pictures(records, bag))
    faults += _other_files(pictures, bag, name)
    if faults:
        raise unreadable(name, faults)
    return Packet(records, pictures)


def _records(data: bytes, where: str, faults: list[Fault]) -> Iterator[Record]:
    graphs: dict[str, list[ox.Quad]] = defaultdict(list)
    try:
        for quad in ox.parse(input=data, format=ox.RdfFormat.TRIG):
            graphs[getattr(quad.graph_name, "value", "")].append(quad)
    except (SyntaxError, ValueError) as error:
        faults.append(Fault(where=where, found=str(error), expected="TriG without syntax errors"))
        return
    base = settings.current().base
    if strange := [iri for iri in graphs if not iri.startswith(base)]:
        found = f"records such as <{strange[0]}>"
        faults.append(Fault(where=where, found=found, expected=f"records under {base}", mend=_OTHER_HOME))
        return
    for iri, quads in graphs.items():
        try:
            yield from_quads(quads)
        except InvalidRecord as error:
            whole = Fault(where=f"{where}, {iri}", found=error.message, expected="a record")
            faults += error.faults or [whole]


def _unlike(records: tuple[Record, ...], listed: bytes, where: str) -> Iterator[Fault]:
    """Give the records whose canonical hash is not as listed, those not listed, and those not there."""
    rows = csv.DictReader(io.StringIO(listed.decode("utf-8-sig", errors="replace")))
    stated = {row.get("record") or "": row.get("sha256") for row in rows}
    found = {record.id: canonical_hash(record) for record in records}
    for iri in dict.fromkeys((*stated, *found)):
        if stated.get(iri) != found.get(iri):
            told = f"SHA-256 {found[iri]}" if iri in found else "no such record"
            wanted = f"SHA-256 {stated[iri]}" if iri in stated else "only records that are listed"
            yield Fault(where=f"{where}, {iri}", found=told, expected=wanted)


def _other_files(pictures: tuple[tuple[Image, str], ...], bag: Bag, name: str) -> Iterator[Fault]:
    for image, path in pictures:
        found = bag.checksums[path]
        if image.sha256 not in {None, found}:
            expected = f"SHA-256 {image.sha256}, as {image.short} says"
            yield Fault(where=f"{name}, {path}", found=f"SHA-256 {found}", expected=expected)


def _pictures(records: tuple[Record, ...], bag: Bag) -> Iterator[tuple[Image, str]]:
    for record in records:
        if isinstance(record, Image) and record.file and (path := place_in_packet(record.file)) in bag.files:
            yield record, path
