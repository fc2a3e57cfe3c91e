"""Hypothesis strategies that make any record from its own model, so that no kind is forgotten."""

from __future__ import annotations

import random
from typing import Any

from hypothesis import strategies as st

from guardbook.records.base import Model, Part, Record
from guardbook.records.fields import FieldPath, fields_of
from guardbook.records.identifiers import DIGITS, check_symbol
from guardbook.records.kinds import KINDS
from guardbook.records.terms import all_concepts
from guardbook.records.values import EDTF, WKT, XSD, Datatype, PropertyMark, Reference, Scheme, WithinRecord

DATES = (
    "1712",
    "1560~",
    "15XX",
    "1510/1520",
    "../1600",
    "1984-1X",
    "1712-03-05",
    "[1510,1512]",
    "1985/",
    "-0044",
)

identifiers = (
    st.text(DIGITS, min_size=6, max_size=6)
    .map(lambda digits: f"{digits}-{check_symbol(digits)}")
    .filter(lambda text: text[-1].isalnum())
)
texts = st.text(
    st.characters(exclude_categories=("Cs", "Cc"), exclude_characters="\ufffe\uffff"), min_size=1, max_size=30
).filter(lambda text: bool(text.strip()))
decimals = st.integers(0, 6).flatmap(lambda places: st.decimals(0, 360, places=places)).map(abs)
part_names = st.text("abc0123456789-_.", min_size=1, max_size=6).map(lambda text: f"#p{text}")

Pool = dict[str, list[Any]]


def _pool(draw: st.DrawFn) -> Pool:
    """Draw the literals of one record: what hypothesis likes best goes into texts and numbers."""
    return {
        XSD + "string": draw(st.lists(texts, min_size=1, max_size=4)),
        XSD + "decimal": draw(st.lists(decimals.filter(lambda number: number > 0), min_size=1, max_size=4)),
        XSD + "integer": draw(st.lists(st.integers(1, 10_000), min_size=1, max_size=4)),
        XSD + "anyURI": ["https://rights.example/by", "http://pictures.example/a%20b?c=d"],
        XSD + "language": ["la", "ca", "fr-x-old"],
        XSD + "boolean": [True, False],
        EDTF: list(DATES),
        WKT: ["POLYGON ((0 0, 40.5 0, 40.5 120, 0 120, 0 0))"],
        "identifier": draw(st.lists(identifiers, min_size=1, max_size=3)),
        "part": draw(st.lists(part_names, max_size=3, unique=True)),
    }


def _value(field: FieldPath, pool: Pool, chance: random.Random) -> Any:
    match field.marker:
        case Datatype(iri):
            return f"{chance.getrandbits(256):064x}" if field.name == "sha256" else chance.choice(pool[iri])
        case Scheme(name):
            return chance.choice(sorted(all_concepts()[name]))
        case Reference(kinds, part):
            tail = "" if part is None else f"#{part}-1"
            return f"{chance.choice(kinds)}/{chance.choice(pool['identifier'])}{tail}"
        case WithinRecord(part):
            return f"#{part}-1"
        case PropertyMark():
            return "height"
        case _:
            raise AssertionError(f"no value for {field}")


def _body(model: type[Model], pool: Pool, chance: random.Random) -> dict[str, Any]:
    body: dict[str, Any] = {}
    for field in fields_of(model):
        if not field.required and chance.random() < 0.6:
            continue
        if field.part:
            body[field.name] = [_part(field.part, pool, chance) for _ in range(chance.randint(1, 3))]
        elif field.many:
            body[field.name] = [_value(field, pool, chance) for _ in range(chance.randint(1, 3))]
        else:
            body[field.name] = _value(field, pool, chance)
    return body


def _part(model: type[Part], pool: Pool, chance: random.Random) -> dict[str, Any]:
    name = pool["part"].pop() if pool["part"] else f"#{model.prefix}-{chance.getrandbits(40)}"
    return {"id": name, **_body(model, pool, chance)}


@st.composite
def records(draw: st.DrawFn, kind: str | None = None) -> Record:
    """Make a record of one kind, or of any: hypothesis draws the literals, chance fills the fields."""
    model = KINDS[kind or draw(st.sampled_from(sorted(KINDS)))]
    pool = _pool(draw)
    chance = random.Random(draw(st.integers(0, 2**32)))
    name = f"{model.kind}/{pool['identifier'][0]}"
    return model.model_validate({"id": name, **_body(model, pool, chance)})
