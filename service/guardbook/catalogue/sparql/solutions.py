"""Solutions of a SELECT, written one by one, so that they can be cut at a limit.

Sources: SPARQL 1.1 Query Results JSON, CSV and TSV Formats; SPARQL Query Results XML Format. A triple as a
term is written as SPARQL 1.2 does.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable, Iterable, Sequence
from types import MappingProxyType
from typing import Any, BinaryIO
from xml.sax.saxutils import escape, quoteattr

import pyoxigraph as ox

Term = ox.NamedNode | ox.BlankNode | ox.Literal | ox.Triple
Row = Sequence[Term | None]
Writer = Callable[[Sequence[str], Iterable[Row], BinaryIO], None]

_STRING = "http://www.w3.org/2001/XMLSchema#string"


def write_json(names: Sequence[str], rows: Iterable[Row], output: BinaryIO) -> None:
    """Write JSON."""
    output.write(b'{"head":{"vars":' + json.dumps(names).encode() + b'},"results":{"bindings":[')
    for number, row in enumerate(rows):
        bound = {name: _in_json(term) for name, term in zip(names, row, strict=True) if term is not None}
        output.write((b",\n" if number else b"\n") + json.dumps(bound, ensure_ascii=False).encode())
    output.write(b"]}}\n")


def _in_json(term: Term) -> dict[str, Any]:
    match term:
        case ox.NamedNode():
            return {"type": "uri", "value": term.value}
        case ox.BlankNode():
            return {"type": "bnode", "value": term.value}
        case ox.Literal():
            typed = {"datatype": term.datatype.value} if term.datatype.value != _STRING else {}
            kind = {"xml:lang": term.language} if term.language else typed
            return {"type": "literal", "value": term.value, **kind}
        case _:
            parts = {"subject": term.subject, "predicate": term.predicate, "object": term.object}
            return {"type": "triple", "value": {name: _in_json(part) for name, part in parts.items()}}


def write_xml(names: Sequence[str], rows: Iterable[Row], output: BinaryIO) -> None:
    """Write XML."""
    head = "".join(f"<variable name={quoteattr(name)}/>" for name in names)
    output.write(
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<sparql xmlns="http://www.w3.org/2005/sparql-results#"><head>{head}</head><results>'.encode()
    )
    for row in rows:
        bound = "".join(
            f"<binding name={quoteattr(name)}>{_in_xml(term)}</binding>"
            for name, term in zip(names, row, strict=True)
            if term is not None
        )
        output.write(f"\n<result>{bound}</result>".encode())
    output.write(b"</results></sparql>\n")


def _in_xml(term: Term) -> str:
    match term:
        case ox.NamedNode():
            return f"<uri>{escape(term.value)}</uri>"
        case ox.BlankNode():
            return f"<bnode>{escape(term.value)}</bnode>"
        case ox.Literal():
            kind = f" datatype={quoteattr(term.datatype.value)}" if term.datatype.value != _STRING else ""
            kind = f" xml:lang={quoteattr(term.language)}" if term.language else kind
            return f"<literal{kind}>{escape(term.value, {chr(13): '&#xD;'})}</literal>"
        case _:
            inner = (
                f"<subject>{_in_xml(term.subject)}</subject><predicate>{_in_xml(term.predicate)}</predicate>"
            )
            return f"<triple>{inner}<object>{_in_xml(term.object)}</object></triple>"


def write_csv(names: Sequence[str], rows: Iterable[Row], output: BinaryIO) -> None:
    """Write CSV: values without their types."""
    text = io.TextIOWrapper(output, encoding="utf-8", newline="")
    table = csv.writer(text)
    table.writerow(names)
    table.writerows([_plain(term) for term in row] for row in rows)
    text.flush()
    text.detach()


def _plain(term: Term | None) -> str:
    match term:
        case None:
            return ""
        case ox.NamedNode() | ox.Literal():
            return term.value
        case ox.BlankNode():
            return str(term)
        case _:
            return " ".join(map(_plain, (term.subject, term.predicate, term.object)))


def write_tsv(names: Sequence[str], rows: Iterable[Row], output: BinaryIO) -> None:
    """Write TSV: terms as in Turtle."""
    output.write(("\t".join(f"?{name}" for name in names) + "\n").encode())
    lines = ("\t".join("" if term is None else _in_turtle(term) for term in row) for row in rows)
    output.writelines(f"{line}\n".encode() for line in lines)


def _in_turtle(term: Term) -> str:
    if isinstance(term, ox.Triple):
        return f"<<( {' '.join(map(_in_turtle, (term.subject, term.predicate, term.object)))} )>>"
    return str(term).replace("\t", r"\t")


WRITERS: MappingProxyType[str, Writer] = MappingProxyType(
    {"json": write_json, "xml": write_xml, "csv": write_csv, "tsv": write_tsv}
)
