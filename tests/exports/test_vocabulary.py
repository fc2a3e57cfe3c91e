"""The ontology and context files are what the models, shapes and CRM table say today."""

from __future__ import annotations

import pyoxigraph as ox
import pytest

from guardbook import settings
from guardbook.exports.vocabulary import files
from guardbook.records.fields import all_models, fields_of


@pytest.mark.parametrize("name", sorted(files()))
def test_the_file_is_current(name: str) -> None:
    """Where this fails: run `python -m guardbook.exports.vocabulary` and look at what changed."""
    assert (settings.current().shapes / name).read_text(encoding="utf-8") == files()[name]


def test_every_class_and_property_is_named_and_explained() -> None:
    path = settings.current().shapes / "ontology.ttl"
    said: dict[str, set[str]] = {}
    for quad in ox.parse(path=str(path), format=ox.RdfFormat.TURTLE):
        if isinstance(quad.subject, ox.NamedNode):
            said.setdefault(quad.subject.value, set()).add(quad.predicate.value.rpartition("#")[2])
    wanted = {settings.NAMESPACE + model.__name__ for model in all_models()}
    wanted |= {field.predicate for model in all_models() for field in fields_of(model)}
    assert [iri for iri in sorted(wanted) if not {"label", "comment"} <= said.get(iri, set())] == []
