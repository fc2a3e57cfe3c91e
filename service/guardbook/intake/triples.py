"""Records in RDF: Turtle, TriG, N-Triples, N-Quads, RDF/XML and JSON-LD, read by pyoxigraph.

The triples are sorted by the record they speak of (its IRI before `#`), whatever graph they stood in.
Blank nodes are given hash IRIs of the record they hang from. Nothing is ever fetched from the network.
"""

from __future__ import annotations

import json
import re
from collections import Counter, defaultdict, deque
from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache
from typing import Any

import pyoxigraph as ox

from guardbook import settings
from guardbook.errors import Fault, InvalidRecord, UnreadableFile
from guardbook.intake.drafts import Findings, WholeDraft, shown
from guardbook.records.context import context
from guardbook.records.documents import context_address
from guardbook.records.fields import all_models, fields_of
from guardbook.records.kinds import KINDS
from guardbook.records.mapping import CLASS_OF_KIND, RDF_TYPE, from_quads
from guardbook.wording import _

FORMATS = {
    "ttl": ox.RdfFormat.TURTLE,
    "trig": ox.RdfFormat.TRIG,
    "nt": ox.RdfFormat.N_TRIPLES,
    "nq": ox.RdfFormat.N_QUADS,
    "rdf": ox.RdfFormat.RDF_XML,
    "xml": ox.RdfFormat.RDF_XML,
    "jsonld": ox.RdfFormat.JSON_LD,
}
_REVISION = settings.NAMESPACE + "revision"
_LIST_ENDS = {RDF_TYPE.value.replace("type", "first"), RDF_TYPE.value.replace("type", "rest")}

Grouped = dict[str, list[ox.Quad]]
Resource = ox.NamedNode | ox.BlankNode


def drafts_of(data: bytes, name: str, ending: str, findings: Findings) -> Iterator[WholeDraft]:
    """Give the records that the triples of a file describe; what is wrong goes to the findings.

    Raises UnreadableFile with line and column for a syntax error.
    """
    quads = _quads(data, name, ending, findings)
    for iri, own in _by_record(_without_blank_nodes(quads, name, findings), name, findings).items():
        if findings.full:
            only = _("{name} was read to {where} only: mend what is wrong so far first")
            findings.note(only.format(name=name, where=iri))
            return
        revision, rest = _revision(own, f"{name}, {iri}", findings)
        try:
            record = from_quads(_typed(rest, iri))
        except InvalidRecord as error:
            findings.broken.add(iri)
            findings.faults += [replace(fault, where=f"{name}, {fault.where}") for fault in error.faults]
        else:
            yield WholeDraft(record=record, where=f"{name}, {record.short}", revision=revision)


def _quads(data: bytes, name: str, ending: str, findings: Findings) -> list[ox.Quad]:
    base = settings.current().base
    source = _with_own_context(data) if ending == "jsonld" else data
    try:
        quads = list(ox.parse(input=source, format=FORMATS[ending], base_iri=base))
    except (SyntaxError, ValueError) as error:
        raise _unreadable(name, error) from error
    for quad in quads:
        if isinstance(quad.graph_name, ox.NamedNode):
            subject = quad.subject.value if isinstance(quad.subject, ox.NamedNode) else ""
            if subject and subject.partition("#")[0] != quad.graph_name.value:
                sentence = _("Names of graphs were not kept; each record is its own graph")
                findings.note(sentence, quad.graph_name.value)
    return quads


def _unreadable(name: str, error: SyntaxError | ValueError) -> UnreadableFile:
    line, column = getattr(error, "lineno", None), getattr(error, "offset", None)
    found = re.sub(r"^Parser error at line .*?: | \(line \d+\)$", "", str(error))
    mend = ""
    if "LoadDocumentCallback" in found:
        found = _("a context that would have to be loaded from the network")
        expected = _("a context within the file")
        mend = _("Write the context into the file in place of its address, or use {address}.")
        mend = mend.format(address=context_address())
    else:
        expected = _("RDF without syntax errors")
    where = f"{name}, line {line}, column {column}" if line else name
    fault = Fault(where=where, found=found, expected=expected, mend=mend)
    return UnreadableFile(message=_("{name} cannot be read.").format(name=name), faults=(fault,))


def _with_own_context(data: bytes) -> bytes:
    """Put our own context in place of its address, so that it need not be fetched from ourselves."""
    if context_address().encode() not in data:
        return data
    try:
        document = json.loads(data)
    except (ValueError, RecursionError):
        return data
    for item in document if isinstance(document, list) else [document]:
        if isinstance(item, dict) and "@context" in item:
            stated = item["@context"]
            many = [
                context() if one == context_address() else one
                for one in (stated if isinstance(stated, list) else [stated])
            ]
            item["@context"] = many
    return json.dumps(document).encode()


def _without_blank_nodes(quads: list[ox.Quad], name: str, findings: Findings) -> list[ox.Quad]:
    """Give every blank node a hash IRI of the record it hangs from; name those that hang from none."""
    names = _names(quads, name, findings)
    named = []
    for quad in quads:
        subject, node = (names.get(one, one) for one in (quad.subject, quad.object))
        if isinstance(subject, ox.Triple) or isinstance(node, ox.Triple):
            found = _("a triple within a triple ({predicate})").format(predicate=quad.predicate)
            findings.fault(name, found, _("plain triples"), _("Say it of a record or of a part of one."))
        elif isinstance(subject, ox.NamedNode) and isinstance(node, (ox.NamedNode, ox.Literal)):
            named.append(ox.Quad(subject, quad.predicate, node))
    orphans = Counter(
        quad.subject for quad in quads if isinstance(quad.subject, ox.BlankNode) and quad.subject not in names
    )
    for orphan in orphans:
        _orphan(orphan, quads, name, findings)
    return named


def _orphan(orphan: Any, quads: list[ox.Quad], name: str, findings: Findings) -> None:
    says = [quad for quad in quads if quad.subject == orphan]
    text = "; ".join(f"{quad.predicate.value.rpartition('#')[2]} {quad.object}" for quad in says[:3])
    found = shown(_("a blank node with {text}").format(text=text))
    mend = _("Give it an IRI such as <fragment/7K3QM2-J>, or link it from the record it is a part of.")
    findings.fault(name, found, _("a blank node that a record refers to"), mend)


def _names(quads: list[ox.Quad], name: str, findings: Findings) -> dict[Any, ox.NamedNode]:
    """Name blank nodes after the property that leads to them: `#feature-1` and so on, in order."""
    taken = {
        one.value for quad in quads for one in (quad.subject, quad.object) if isinstance(one, ox.NamedNode)
    }
    leading: dict[Any, list[tuple[str, ox.BlankNode]]] = defaultdict(list)
    for quad in quads:
        if isinstance(quad.object, ox.BlankNode):
            leading[quad.subject].append((quad.predicate.value, quad.object))
    names: dict[Any, ox.NamedNode] = {}
    waiting: deque[tuple[Resource, str]] = deque(
        (one, one.value.partition("#")[0]) for one in leading if isinstance(one, ox.NamedNode)
    )
    while waiting:
        subject, record = waiting.popleft()
        for predicate, blank in leading[subject]:
            if predicate in _LIST_ENDS:
                expected = _("the property once for each value")
                findings.fault(f"{name}, {record}", _("an RDF list"), expected)
            if blank in names:
                if names[blank].value.partition("#")[0] != record:
                    found = _("a blank node of another record too")
                    findings.fault(f"{name}, {record}", found, _("a part of its own"))
                continue
            names[blank] = _free_name(record, predicate, taken)
            findings.note(_("Blank nodes were given names"), names[blank].value)
            waiting.append((blank, record))
    return names


def _free_name(record: str, predicate: str, taken: set[str]) -> ox.NamedNode:
    prefix = _prefixes().get(predicate, "part")
    number = 1
    while (iri := f"{record}#{prefix}-{number}") in taken:
        number += 1
    taken.add(iri)
    return ox.NamedNode(iri)


@lru_cache(maxsize=1)
def _prefixes() -> dict[str, str]:
    return {
        field.predicate: field.part.prefix
        for model in all_models()
        for field in fields_of(model)
        if field.part
    }


def _by_record(quads: list[ox.Quad], name: str, findings: Findings) -> Grouped:
    base = settings.current().base
    grouped: Grouped = {}
    outside: dict[str, None] = {}
    for quad in quads:
        iri = quad.subject.value.partition("#")[0] if isinstance(quad.subject, ox.NamedNode) else ""
        kind = iri.removeprefix(base).partition("/")[0]
        if iri.startswith(base) and kind in KINDS:
            grouped.setdefault(iri, []).append(quad)
        else:
            outside[iri] = None
    for iri in outside:
        expected = _("the IRI of a record under {base} (of one of the kinds {kinds})")
        expected = expected.format(base=base, kinds=", ".join(KINDS))
        findings.fault(name, f"<{iri}>", expected, _("Statements about other things are not kept here."))
    return grouped


def _typed(quads: list[ox.Quad], iri: str) -> list[ox.Quad]:
    """Add the record's type, which its IRI says too, where it is not stated."""
    record = ox.NamedNode(iri)
    if any(quad.subject == record and quad.predicate == RDF_TYPE for quad in quads):
        return quads
    kind = iri.removeprefix(settings.current().base).partition("/")[0]
    return [*quads, ox.Quad(record, RDF_TYPE, ox.NamedNode(CLASS_OF_KIND[kind]))]


def _revision(quads: list[ox.Quad], where: str, findings: Findings) -> tuple[int | None, list[ox.Quad]]:
    """Take out the revision that the writer started from."""
    stated = [quad.object for quad in quads if quad.predicate.value == _REVISION]
    rest = [quad for quad in quads if quad.predicate.value != _REVISION]
    if not stated:
        return None, rest
    value = stated[0].value if isinstance(stated[0], ox.Literal) else ""
    if len(stated) == 1 and re.fullmatch(r"[1-9][0-9]{0,9}", value):
        return int(value), rest
    expected = _("the whole number of the revision you started from")
    findings.fault(f"{where} revision", shown(str(stated[0])), expected)
    return None, rest
