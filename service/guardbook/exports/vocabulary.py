"""The ontology and the JSON-LD context as files, written from the models, the shapes and the CRM table.

`python -m guardbook.exports.vocabulary` writes `shapes/ontology.ttl` and `shapes/context.jsonld` anew; a
test holds the files to what this gives.
"""

from __future__ import annotations

import inspect
import json
from collections.abc import Iterator
from pathlib import Path

import pyoxigraph as ox

from guardbook import settings
from guardbook.completeness.forms import FieldForm, forms_of
from guardbook.exports.alignment import CRM, alignment
from guardbook.records.base import Model
from guardbook.records.context import context
from guardbook.records.fields import FieldPath, all_models, fields_of
from guardbook.records.mapping import RDF_TYPE
from guardbook.records.values import Datatype, PropertyMark, Reference, Scheme

_RDFS = "http://www.w3.org/2000/01/rdf-schema#"
_OWL = "http://www.w3.org/2002/07/owl#"
_SKOS = "http://www.w3.org/2004/02/skos/core#"
_HEAD = """\
# The classes and properties of Guardbook. Written by `python -m guardbook.exports.vocabulary` from the
# models (what there is), the shapes (names and help) and crm.toml (what it is in CIDOC CRM): mend those.
"""


def ontology() -> str:
    """Give the ontology as Turtle."""
    prefixes = {"gb": settings.NAMESPACE, "crm": CRM, "rdfs": _RDFS, "owl": _OWL, "skos": _SKOS}
    triples = [*_ontology_itself(), *_classes(), *_properties()]
    body = ox.serialize(triples, format=ox.RdfFormat.TURTLE, prefixes=prefixes)
    return _HEAD + (body or b"").decode()


def _about(subject: str, predicate: str, value: ox.NamedNode | ox.Literal) -> ox.Triple:
    return ox.Triple(ox.NamedNode(subject), ox.NamedNode(predicate), value)


def _ontology_itself() -> Iterator[ox.Triple]:
    name = settings.NAMESPACE.removesuffix("#")
    yield _about(name, RDF_TYPE.value, ox.NamedNode(_OWL + "Ontology"))
    text = "Pieces taken out of bookbindings, the volumes that held them, and the events that moved them"
    yield _about(name, _RDFS + "label", ox.Literal(text, language="en"))


def _classes() -> Iterator[ox.Triple]:
    table = alignment()
    for model in all_models():
        iri = settings.NAMESPACE + model.__name__
        yield _about(iri, RDF_TYPE.value, ox.NamedNode(_OWL + "Class"))
        yield _about(iri, _RDFS + "label", ox.Literal(_words(model.__name__), language="en"))
        yield _about(iri, _RDFS + "comment", ox.Literal(_first_sentence(model), language="en"))
        for name in table.classes.get(model.__name__, ()):
            yield _about(iri, _RDFS + "subClassOf", ox.NamedNode(CRM + name))


def _first_sentence(model: type[Model]) -> str:
    return " ".join((inspect.getdoc(model) or "").split("\n\n")[0].split())


def _words(name: str) -> str:
    return "".join(f" {letter.lower()}" if letter.isupper() else letter for letter in name).strip()


def _properties() -> Iterator[ox.Triple]:
    holders: dict[str, list[type[Model]]] = {}
    fields: dict[str, FieldPath] = {}
    for model in all_models():
        for field in fields_of(model):
            holders.setdefault(field.json_name, []).append(model)
            fields.setdefault(field.json_name, field)
    for name in sorted(fields):
        yield from _property(fields[name], holders[name])


def _property(field: FieldPath, holders: list[type[Model]]) -> Iterator[ox.Triple]:
    iri = field.predicate
    kind = "DatatypeProperty" if isinstance(field.marker, Datatype) else "ObjectProperty"
    yield _about(iri, RDF_TYPE.value, ox.NamedNode(_OWL + kind))
    form = _form(holders[0].__name__, field.json_name)
    for language, text in sorted(form.labels.items()):
        yield _about(iri, _RDFS + "label", ox.Literal(text, language=language))
    yield _about(iri, _RDFS + "comment", ox.Literal(form.help, language="en"))
    if len(holders) == 1:
        yield _about(iri, _RDFS + "domain", ox.NamedNode(settings.NAMESPACE + holders[0].__name__))
    if found := _range(field):
        yield _about(iri, _RDFS + "range", ox.NamedNode(found))
    for path in alignment().paths.get(("any", field.json_name), ()):
        if isinstance(field.marker, Reference) and len(path.steps) == 1 and path.only_on is None:
            yield _about(iri, _RDFS + "subPropertyOf", ox.NamedNode(CRM + path.steps[0][0]))


def _form(model: str, name: str) -> FieldForm:
    return next(form for form in forms_of(model) if form.name == name)


def _range(field: FieldPath) -> str | None:
    if field.part:
        return settings.NAMESPACE + field.part.__name__
    match field.marker:
        case Datatype(iri):
            return iri
        case Scheme():
            return _SKOS + "Concept"
        case PropertyMark():
            return "http://www.w3.org/1999/02/22-rdf-syntax-ns#Property"
        case _:
            return None


def files() -> dict[str, str]:
    """Give the text of each file by its name."""
    served = json.dumps({"@context": context()}, ensure_ascii=False, indent=1)
    return {"ontology.ttl": ontology(), "context.jsonld": served + "\n"}


def write(folder: Path) -> None:
    """Write the files into a shapes folder."""
    for name, text in files().items():
        (folder / name).write_text(text, encoding="utf-8")


if __name__ == "__main__":
    write(settings.current().shapes)
