"""Photographs that were chosen in a form, and the records they make."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, BinaryIO

from guardbook import settings
from guardbook.actions.image_file import FOLDER
from guardbook.errors import Fault
from guardbook.imaging.recognised import Recognised, recognised
from guardbook.intake.form_texts import Texts, one_text
from guardbook.records import identifiers, terms
from guardbook.wording import _, language

PREFIX = "photographs"
_A_PIECE_BYTES = 1024 * 1024


@dataclass(frozen=True, kw_only=True)
class Photograph:
    """One file: the input it was chosen in, the name it had, its content, what it is, its checksum."""

    name: str
    file_name: str
    content: BinaryIO
    kind: Recognised
    sha256: str

    @property
    def moment(self) -> str:
        """Give the moment that the input stands for."""
        return self.name.removeprefix(f"{PREFIX}.")

    def iri(self, piece: str) -> str:
        """Give its IRI; the same photograph of the same piece always has the same one."""
        identifier = identifiers.identifier_from(f"{piece} {self.sha256}")
        return f"{settings.current().base}image/{identifier}"

    def file(self, piece: str) -> str:
        """Give where its file lies in the folder of the catalogue."""
        return f"{FOLDER}/{self.iri(piece).rpartition('/')[2]}{self.kind.ending}"


def photographs_in(
    files: Sequence[tuple[str, str, BinaryIO]],
) -> tuple[tuple[Photograph, ...], tuple[Fault, ...]]:
    """Look at files, given as (input, name, content); those that are no photographs are faults."""
    found: dict[str, Photograph] = {}
    faults = []
    for name, file_name, content in files:
        if kind := recognised(content):
            one = Photograph(
                name=name, file_name=file_name, content=content, kind=kind, sha256=_sha256(content)
            )
            if found.setdefault(one.sha256, one).moment != one.moment:
                faults.append(_of_two_moments(one, found[one.sha256]))
        else:
            expected, mend = _("a picture in JPEG, PNG, TIFF or WebP"), _("Choose another file.")
            faults.append(Fault(where=name, found=repr(file_name), expected=expected, mend=mend))
    return tuple(found.values()), tuple(faults)


def _of_two_moments(one: Photograph, other: Photograph) -> Fault:
    moment = terms.label("moment", other.moment, language())
    return Fault(
        where=one.name,
        found=_("{file}, which was chosen under '{moment}' too").format(
            file=repr(one.file_name), moment=moment
        ),
        expected=_("a photograph of this moment"),
        mend=_("Choose another file, or leave it in one of the two."),
    )


def _sha256(content: BinaryIO) -> str:
    content.seek(0)
    digest = hashlib.sha256()
    while piece := content.read(_A_PIECE_BYTES):
        digest.update(piece)
    content.seek(0)
    return digest.hexdigest()


def document_of(
    one: Photograph, piece: Mapping[str, Any], texts: Texts, shows: Sequence[str]
) -> dict[str, Any]:
    """Give the record of a photograph: what the form says of all of its moment, and what its file says."""
    said = {
        "technique": one_text(texts, f"{one.name}.technique"),
        "scaleBarInView": {"true": True, "false": False}.get(one_text(texts, f"{one.name}.scale")),
    }
    title = str(piece.get("title") or piece["id"].removeprefix(settings.current().base))
    return {
        "id": one.iri(piece["id"]),
        "type": "Image",
        "title": f"{title}: {terms.label('moment', one.moment, language())}",
        "depicts": list(shows),
        "file": one.file(piece["id"]),
        "sha256": one.sha256,
        "mediaType": one.kind.media_type,
        "pixelWidth": one.kind.width_px,
        "pixelHeight": one.kind.height_px,
        "moment": one.moment,
        "privateNote": one.file_name,
        **{name: value for name, value in said.items() if value not in (None, "")},
    }


@dataclass(frozen=True)
class Chosen:
    """The files of photographs by their checksums, to be read piece by piece."""

    photographs: Sequence[Photograph]

    def pieces(self, path: str) -> Iterator[bytes]:
        """Give the content of a photograph piece by piece."""
        content = next(one.content for one in self.photographs if one.sha256 == path)
        content.seek(0)
        while piece := content.read(_A_PIECE_BYTES):
            yield piece
