"""Packets made and taken apart for tests."""

from __future__ import annotations

import io
import zipfile
from hashlib import sha256
from pathlib import Path

from guardbook.actions.import_packet import Imported, import_packet
from guardbook.actions.make_packet import make_packet
from guardbook.catalogue.access import Access
from guardbook.catalogue.catalogue import open_catalogue
from guardbook.records.mapping import canonical

TOP = "guardbook-packet/"


def packed(access: Access, *names: str) -> bytes:
    """Make a packet of the named records, or of all."""
    output = io.BytesIO()
    make_packet(access, names or None, output)
    return output.getvalue()


def imported(access: Access, data: bytes, folder: Path, *, dry_run: bool = False) -> Imported:
    """Import a packet into a catalogue whose pictures lie in a folder."""
    file = io.BytesIO(data)
    return import_packet(
        access, file, "p.zip", who="Mira", what_for="handed over", dry_run=dry_run, data=folder
    )


def imported_anew(data: bytes, folder: Path) -> dict[str, str]:
    """Import a packet into an empty catalogue, and give the canonical form of each record."""
    with open_catalogue(None) as catalogue:
        access = catalogue.access()
        imported(access, data, folder)
        return forms(access)


def forms(access: Access) -> dict[str, str]:
    """Give the canonical form of each record."""
    return {iri: canonical(access.quads(iri)) for iri in access.iris()}


def files_of(data: bytes) -> dict[str, bytes]:
    """Give the files of a packet by their paths."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return {name.removeprefix(TOP): archive.read(name) for name in archive.namelist()}


def zipped(files: dict[str, bytes], top: str = TOP) -> bytes:
    """Put files into an archive."""
    output = io.BytesIO()
    with zipfile.ZipFile(output, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in files.items():
            archive.writestr(top + name, content)
    return output.getvalue()


def with_sums(files: dict[str, bytes]) -> dict[str, bytes]:
    """Give the files with checksums that fit them, as one who forges a packet would."""
    payload = {name: content for name, content in files.items() if name.startswith("data/")}
    told = {**files, "manifest-sha256.txt": _lines(payload)}
    size = sum(map(len, payload.values()))
    told["bag-info.txt"] = f"Payload-Oxum: {size}.{len(payload)}\n".encode()
    tags = {name: told[name] for name in ("bagit.txt", "bag-info.txt", "manifest-sha256.txt")}
    return {**told, "tagmanifest-sha256.txt": _lines(tags)}


def _lines(files: dict[str, bytes]) -> bytes:
    return "".join(f"{sha256(content).hexdigest()}  {name}\n" for name, content in files.items()).encode()
