"""One record of another catalogue, read from its document with suspicion."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import pyoxigraph as ox

from guardbook import settings
from guardbook.errors import Fault, InvalidRecord, UnreadableFile
from guardbook.records.mapping import CLASS_OF_KIND, RDF_TYPE, canonical
from guardbook.wording import _

MOST_TRIPLES = 50_000
_KIND_OF_CLASS = {name: kind for kind, name in CLASS_OF_KIND.items()}


@dataclass(frozen=True)
class ForeignRecord:
    """What is kept of it: kind and title for lists, its canonical N-Quads, all its words for searching."""

    iri: str
    kind: str
    title: str
    body: str
    licence: str | None
    words: str


def read_foreign(document: bytes, media_type: str, iri: str) -> ForeignRecord:
    """Read the record `iri` from a document in an RDF format.

    Raises UnreadableFile where it cannot be read, InvalidRecord with every fault where it says anything of
    what is not this record, or is no record of a kind that is known here.
    """
    if not _is_iri(iri):
        fault = Fault(where=_("its address"), found=repr(iri), expected=_("an IRI without a part"))
        raise InvalidRecord(message=_("A record was not taken."), faults=(fault,))
    form = ox.RdfFormat.from_media_type(media_type)
    if form is None:
        told = (
            _("{record} was sent as {type}, expected RDF.")
            if media_type
            else _("{record} was sent as no media type, expected RDF.")
        )
        raise UnreadableFile(message=told.format(record=iri, type=media_type))
    try:
        quads = list(_up_to_limit(ox.parse(input=document, format=form)))
    except (SyntaxError, ValueError) as error:
        told = _("{file} cannot be read: {reason}")
        raise UnreadableFile(message=told.format(file=iri, reason=error)) from error
    faults = list(dict.fromkeys(_faults(quads, iri)))
    kinds = [kind for quad in quads if (kind := _kind(quad, iri))]
    if len(set(kinds)) != 1:
        found = ", ".join(kinds) or _("none that is known")
        known = _("one of {names}").format(names=", ".join(_KIND_OF_CLASS.values()))
        faults.append(Fault(where=_("its type"), found=found, expected=known))
    if faults:
        message = _("{record} was not taken.").format(record=iri)
        raise InvalidRecord(message=message, faults=tuple(faults[:20]))
    return _record(quads, iri, kinds[0])


def _is_iri(text: str) -> bool:
    try:
        return "#" not in ox.NamedNode(text).value
    except ValueError:
        return False


def _up_to_limit(quads: Iterable[ox.Quad]) -> Iterator[ox.Quad]:
    for number, quad in enumerate(quads, start=1):
        if number > MOST_TRIPLES:
            raise ValueError(_("more than {count} statements").format(count=MOST_TRIPLES))
        yield quad


def _faults(quads: Iterable[ox.Quad], iri: str) -> Iterator[Fault]:
    for quad in quads:
        subject = quad.subject.value if isinstance(quad.subject, ox.NamedNode) else str(quad.subject)
        if subject.partition("#")[0] != iri or isinstance(quad.subject, ox.BlankNode):
            about = _("one about {record}")
            found, expected = about.format(record=subject), about.format(record=iri)
            yield Fault(where=_("a statement"), found=found, expected=expected)
        if not isinstance(quad.graph_name, ox.DefaultGraph) and quad.graph_name != ox.NamedNode(iri):
            yield Fault(where=_("a graph"), found=str(quad.graph_name), expected=f"<{iri}>")
        if not isinstance(quad.object, (ox.NamedNode, ox.Literal)):
            yield Fault(where=subject, found=_("a blank node"), expected=_("an IRI or a value"))


def _kind(quad: ox.Quad, iri: str) -> str | None:
    is_type = quad.subject == ox.NamedNode(iri) and quad.predicate == RDF_TYPE
    return (
        _KIND_OF_CLASS.get(quad.object.value) if is_type and isinstance(quad.object, ox.NamedNode) else None
    )


def _record(quads: Iterable[ox.Quad], iri: str, kind: str) -> ForeignRecord:
    named = ox.NamedNode(iri)
    said = {
        quad.predicate.value.removeprefix(settings.NAMESPACE): quad.object.value
        for quad in quads
        if quad.subject == named and isinstance(quad.object, ox.Literal)
    }
    return ForeignRecord(
        iri=iri,
        kind=kind,
        title=said.get("title") or said.get("name") or iri.rpartition("/")[2],
        body=canonical(ox.Quad(quad.subject, quad.predicate, quad.object, named) for quad in quads),
        licence=said.get("licence"),
        words=" ".join(quad.object.value for quad in quads if isinstance(quad.object, ox.Literal)),
    )
