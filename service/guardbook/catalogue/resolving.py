"""From what a person writes to a record: an address, an identifier in any spelling, a workshop number."""

from __future__ import annotations

import sqlite3

from guardbook import settings
from guardbook.catalogue.audiences import Audience
from guardbook.catalogue.folding import squeezed
from guardbook.catalogue.workshop_numbers import number_key
from guardbook.errors import NotFound, WrongUse
from guardbook.records import identifiers
from guardbook.records.kinds import KINDS
from guardbook.wording import _, either

_BY_IDENTIFIER = "SELECT iri FROM heads WHERE identifier = ? AND (public OR NOT ?) ORDER BY id"
_BY_NUMBER = "SELECT iri FROM heads WHERE number_key = ? AND (public OR NOT ?)"
# fewer stand in nearly every number or shelfmark, and are near to none
_FEWEST_SIGNS = 3
_KNOWN = "SELECT identifier FROM heads WHERE NOT tombstone AND (public OR NOT ?)"
_NEAR = """
    SELECT heads.kind || '/' || identifier AS short FROM codes JOIN heads ON heads.id = codes.rowid / 2
    WHERE code LIKE ? AND codes.rowid % 2 = ? AND (public OR ? = 0) ORDER BY heads.id LIMIT 5
"""


def resolve(connection: sqlite3.Connection, text: str, audience: Audience) -> str:
    """Give the IRI of the record that is meant, among those this audience may see, also one taken out.

    Raises NotFound, naming near ones, and WrongUse where the check symbol is wrong or two are meant.
    """
    written = text.strip()
    short = written.removeprefix(settings.current().base).strip("/")
    kind, slash, identifier = short.rpartition("/")
    if not slash or kind in KINDS:
        found = _identified(connection, kind, identifier, audience)
        if len(found) == 1:
            return found[0]
        if found:
            told = _("{written} may be {records}. Write its kind too.")
            raise WrongUse(message=told.format(written=repr(written), records=either(found)))
    if holder := numbered(connection, written, audience):
        return holder
    _refuse_mistyped(connection, written, identifier, audience)
    raise not_found(connection, written, audience)


def numbered(connection: sqlite3.Connection, number: str, audience: Audience) -> str | None:
    """Give the record that has this workshop number, in whatever spelling, or None."""
    row = connection.execute(_BY_NUMBER, (number_key(number), audience)).fetchone()
    return str(row["iri"]) if row else None


def _identified(connection: sqlite3.Connection, kind: str, identifier: str, audience: Audience) -> list[str]:
    spelled = identifiers.normal_form(identifier)
    if not identifiers.is_valid(spelled):
        return []
    rows = connection.execute(_BY_IDENTIFIER, (spelled, audience))
    wanted = f"{settings.current().base}{kind}/"
    return [row["iri"] for row in rows if not kind or row["iri"].startswith(wanted)]


def _refuse_mistyped(
    connection: sqlite3.Connection, written: str, identifier: str, audience: Audience
) -> None:
    """Explain a wrong check symbol, where the text has the form of an identifier."""
    plain = identifiers.normal_form(identifier)
    digits, _hyphen, symbol = plain.partition("-")
    looks_like_one = len(symbol) == 1 and all(digit in identifiers.DIGITS for digit in digits)
    if looks_like_one and not identifiers.is_valid(plain):
        faults = identifiers.faults_in(identifier, _("the identifier"), _known(connection, audience))
        raise WrongUse(message=_("{written} is mistyped.").format(written=repr(written)), faults=faults)


def _known(connection: sqlite3.Connection, audience: Audience) -> frozenset[str]:
    return frozenset(row["identifier"] for row in connection.execute(_KNOWN, (audience,)))


def not_found(connection: sqlite3.Connection, written: str, audience: Audience) -> NotFound:
    """Make the error that names what may have been meant."""
    identifier = written.rpartition("/")[2]
    known = _known(connection, audience)
    near = [name for name in identifiers.likely_meant(identifier, known) if name in known]
    code = squeezed(written)
    if not near and len(code) >= _FEWEST_SIGNS:
        rows = connection.execute(_NEAR, (f"%{code}%", int(audience), int(audience)))
        near = [row["short"] for row in rows]
    told = (
        _("No record answers to {written}. Did you mean {near}?")
        if near
        else _("No record answers to {written}. Search by words or a part of its shelfmark.")
    )
    message = told.format(written=repr(written), near=either(near))
    return NotFound(message=message, details={"near": near})
