"""Hand records on in one of the formats."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import BinaryIO

from guardbook.actions.manifest_of import can_be_laid_out, manifest_of_any
from guardbook.catalogue.access import Access
from guardbook.errors import WrongUse
from guardbook.exports.formats import Format, format_named
from guardbook.exports.surroundings import Surroundings
from guardbook.records.base import Record
from guardbook.records.kinds import EVENT_KINDS
from guardbook.wording import LANGUAGES, _, either


def export_records(
    access: Access,
    names: Sequence[str] | None,
    format_name: str,
    output: BinaryIO,
    *,
    language: str = "en",
    with_events: bool = False,
    at: str | None = None,
) -> Format:
    """Write the named records (all of them for None) to `output`, and give the format.

    Names may be identifiers in any spelling or workshop numbers; `language` is that of labels, where the
    format has any. `with_events` takes along what happened to each record; `at` is where this instance is
    reached (None: the base of its IRIs). Raises NotFound, before anything is written, where one of them is
    of no record; WrongUse for an unknown format or language, for no names,
    or where the format tells of none of them.
    """
    chosen = format_named(format_name)
    if language not in LANGUAGES:
        raise WrongUse(
            message=_("There are no labels in {language}, only in {languages}.").format(
                language=repr(language), languages=", ".join(LANGUAGES)
            )
        )
    if names is not None and not names:
        raise WrongUse(message=_("Say which records to export, or ask for all of them."))
    iris = access.iris() if names is None else iter(dict.fromkeys(access.resolve(name) for name in names))
    told = _told_of(iris, chosen, named=names is not None) if chosen.kinds else iris
    # where all records are asked for, their events are among them
    by_itself = chosen.with_events and (names is not None or bool(chosen.kinds))
    wanted = by_itself or (with_events and not chosen.kinds)
    if chosen.write_statements and not wanted:
        chosen.write_statements((access.quads(iri) for iri in told), output)
        return chosen
    chosen.write(
        records_with_events(access, told) if wanted else _records(access, told),
        output,
        surroundings(access, language, at=at),
    )
    return chosen


def surroundings(access: Access, language: str = "en", *, at: str | None = None) -> Surroundings:
    """Give what a format may ask of the catalogue, as far as this viewer sees it."""

    def linked(iri: str, field: str) -> tuple[str, ...]:
        return access.linked(iri, field) if access.has(iri) else ()

    return Surroundings(
        kept=access.seen,
        linked=linked,
        manifest=lambda iri: manifest_of_any(access, iri, at=at),
        can_be_laid_out=lambda iri: can_be_laid_out(access, iri),
        at=at,
        language=language,
    )


def _told_of(iris: Iterable[str], chosen: Format, *, named: bool) -> Iterator[str]:
    """Give the records that a format tells of. Raises WrongUse where records were named and none is one."""
    if not named:
        return (iri for iri in iris if _kind(iri) in chosen.kinds)
    fitting = [iri for iri in iris if _kind(iri) in chosen.kinds]
    if not fitting:
        raise WrongUse(
            message=_("{format} tells of records of kind {kinds} only; none of these is one.").format(
                format=chosen.name, kinds=either(sorted(chosen.kinds))
            )
        )
    return iter(fitting)


def _kind(iri: str) -> str:
    return iri.rsplit("/", 2)[-2]


def records_with_events(access: Access, iris: Iterable[str]) -> Iterator[Record]:
    """Give each record with the events that name it after it, in the order of their dates; none twice."""
    given: set[str] = set()
    for iri in iris:
        events = [access.record(other).record for other in access.about(iri) if _kind(other) in EVENT_KINDS]
        for record in (access.record(iri).record, *sorted(events, key=_by_date)):
            if record.id not in given:
                given.add(record.id)
                yield record


def _by_date(event: Record) -> tuple[str, str, str]:
    return (getattr(event, "when", None) or "", event.kind, event.id)


def _records(access: Access, iris: Iterable[str]) -> Iterator[Record]:
    return (access.record(iri).record for iri in iris)
