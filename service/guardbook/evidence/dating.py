"""Work out the dates of a volume or a piece from all that its dossier says."""

from __future__ import annotations

from collections.abc import Iterator

from guardbook.binding.contradictions import sentence
from guardbook.binding.dossier import Dossier
from guardbook.binding.replay import life_of
from guardbook.binding.stay_words import withheld_words
from guardbook.errors import NotFound
from guardbook.evidence.contradicted import Contradicted, contradicted
from guardbook.evidence.date_words import reach_words
from guardbook.evidence.dated import Case, DatedTime, Dating
from guardbook.evidence.dates_told import binding_stage
from guardbook.evidence.held import Held, held
from guardbook.evidence.limits_of import Limits, limits_of
from guardbook.evidence.meetings import never_together
from guardbook.evidence.said import Said, said_in
from guardbook.evidence.situations import Gathered, made, quoted, short, stage_name, text
from guardbook.evidence.times import Times
from guardbook.records.base import natural_order
from guardbook.records.event import Event
from guardbook.records.fragment import Fragment
from guardbook.records.host import HostVolume, Stage
from guardbook.records.placing import Placing
from guardbook.wording import _


def dating_of(dossier: Dossier, iri: str) -> Dating:
    """Work out the dates of a volume or piece of a dossier.

    Common practice, no published source, for what dates what (`shapes/dating.toml`). Raises NotFound where
    the record is neither, or is not here.
    """
    record = dossier.host(iri) or dossier.piece(iri)
    if record is None:
        told = _("There is no record of a volume or piece {record} here.")
        raise NotFound(message=told.format(record=iri))
    said = said_in(dossier)
    clashes = contradicted(said)
    found = _held(said, clashes)
    wanted = _of_volume(said, record) if isinstance(record, HostVolume) else _of_piece(said, record)
    dated = tuple(_dated(said, found.times, one) for one in wanted)
    return Dating(
        record=iri,
        name=record.display_title,
        times=dated,
        cases=tuple(_cases(dossier, said, clashes, iri)),
        contradictions=tuple(clash for clash in clashes if _is_about(dossier, clash, iri)),
        dates_nothing=tuple(sorted(_old(said.gathered, iri), key=natural_order)),
        notes=(*never_together(said.gathered), *_given_up(dossier, found, iri), *not_shown(dossier)),
    )


def not_shown(dossier: Dossier) -> tuple[str, ...]:
    """Say that there are events which this viewer is not shown, if there are."""
    return (withheld_words(dossier.withheld),) if dossier.withheld else ()


def _held(said: Said, clashes: tuple[Contradicted, ...]) -> Held:
    """Work out the times when the statements of all contradictions are left out."""
    found = held(said, _left_out(clashes))
    if found is None:
        raise AssertionError("what is left when every conflict is taken out can hold")
    return found


def _left_out(clashes: tuple[Contradicted, ...]) -> set[str]:
    return {one.key for clash in clashes for one in (*clash.statements, *clash.laws)}


def _is_about(dossier: Dossier, clash: Contradicted, iri: str) -> bool:
    """Say whether a contradiction is about this record or what happened in or to it."""
    return bool(_around(dossier, iri) & clash.records)


def _around(dossier: Dossier, iri: str) -> set[str]:
    """Give a record with what happened in or to it."""
    events = (*dossier.events_at_host(iri), *dossier.events_of_piece(iri))
    return {iri, *(event.id for event in events)}


def _given_up(dossier: Dossier, found: Held, iri: str) -> Iterator[str]:
    """Tell which rules are given up for this record, each once."""
    about = _around(dossier, iri)
    for reason, record in {one.reason: one.record for one in found.given_up if one.record in about}.items():
        yield _("The records [{record}] are against a rule, which is given up here: {rule}").format(
            record=short(record), rule=reason
        )


class _Wanted:
    """A time to be told: its name, its record, the date stated for it and the statements of that date."""

    def __init__(self, time: str, name: str, record: str, stated: str | None, own: tuple[str, ...]) -> None:
        self.time, self.name, self.record, self.stated, self.own = time, name, record, stated, own


def _dated(said: Said, times: Times, one: _Wanted) -> DatedTime:
    return DatedTime(
        time=one.time,
        record=one.record,
        name=one.name,
        stated=reach_words(one.stated) if one.stated else None,
        limits=limits_of(said, times, one.time, one.own),
    )


def _of_volume(said: Said, host: HostVolume) -> Iterator[_Wanted]:
    gathered = said.gathered
    yield _Wanted(text(host.id), _("The text block, begun"), host.id, host.text_date, ())
    bound = binding_stage(gathered, host.id)
    for stage in gathered.stages(host.id):
        stated = stage.when or (host.binding_date if stage == bound else None)
        name = stage_name(stage)
        yield _Wanted(host.id + stage.id, sentence(name), host.id, stated, own_dates(said, host, stage))
    for event in gathered.dossier.events_at_host(host.id):
        if isinstance(event, Placing) and event in gathered.events and _dates_itself(event):
            yield _event(said, event, host.id)


def own_dates(said: Said, host: HostVolume, stage: Stage) -> tuple[str, ...]:
    """Give the statements that only repeat the date of a stage: its own, those of what is original to it."""
    time = host.id + stage.id
    keys = [f"date {time}"]
    if stage == binding_stage(said.gathered, host.id):
        keys.append(f"date {host.id} bindingDate")
    keys += [
        f"date {event.id}"
        for event in said.gathered.dossier.events_at_host(host.id)
        if isinstance(event, Placing) and event.stage == time and _may_be_original(event)
    ]
    return tuple(keys)


def _may_be_original(placing: Placing) -> bool:
    """Say whether the date of a placing may be that of the assembly, and so no proof of it."""
    return placing.original_to_assembly != "no" and not (placing.undoes or placing.return_kind)


def _dates_itself(placing: Placing) -> bool:
    return placing.original_to_assembly != "yes" and not (placing.undoes or placing.return_kind)


def _of_piece(said: Said, piece: Fragment) -> Iterator[_Wanted]:
    yield _Wanted(made(piece.id), _("Made"), piece.id, piece.date_made, ())
    for step in life_of(said.gathered.dossier, piece.id).steps:
        yield _event(said, step.event, piece.id)


def _event(said: Said, event: Event, about: str) -> _Wanted:
    """Name an event by what it is and the piece and volume it joins, less the one that is asked about."""
    named = (getattr(event, name, None) for name in ("piece", "host"))
    others = [said.gathered.dossier.name(iri) for iri in named if iri and iri != about]
    called = {
        "placing": _("Placing [{record}]"),
        "separation": _("Separation [{record}]"),
        "alteration": _("Alteration [{record}]"),
        "move": _("Move [{record}]"),
    }
    name = ", ".join([called[event.kind].format(record=event.short), *map(quoted, others)])
    return _Wanted(event.id, name, event.id, event.when, _own_dates_of(said, event))


def _own_dates_of(said: Said, event: Event) -> tuple[str, ...]:
    """Give the statements that only repeat the date of an event: its own, and those of its stage."""
    own = (f"date {event.id}",)
    if not isinstance(event, Placing) or _dates_itself(event) or event.undoes or event.return_kind:
        return own
    host = said.gathered.dossier.host(event.host)
    stage = next((s for s in said.gathered.stages(event.host) if event.host + s.id == event.stage), None)
    return (*own, *own_dates(said, host, stage)) if host and stage else own


def _cases(dossier: Dossier, said: Said, clashes: tuple[Contradicted, ...], iri: str) -> Iterator[Case]:
    """Give both cases for each placing of which it is open whether its piece is original, if they differ."""
    for placing in said.gathered.events:
        if not isinstance(placing, Placing) or iri not in {placing.host, placing.piece}:
            continue
        host = dossier.host(placing.host)
        stage = next(
            (s for s in said.gathered.stages(placing.host) if placing.host + s.id == placing.stage), None
        )
        if host is None or stage is None or not _is_open(placing):
            continue
        yes, no = (_case(dossier, {placing.id: answer}, clashes, (host, stage)) for answer in (True, False))
        if (yes and yes.proved()) != (no and no.proved()):
            yield Case(
                placing=placing.id,
                piece=placing.piece,
                name=f"{quoted(dossier.name(placing.piece))} [{placing.short}]",
                time=host.id + stage.id,
                time_name=stage_name(stage),
                if_original=yes,
                otherwise=no,
            )


def _is_open(placing: Placing) -> bool:
    return placing.original_to_assembly in {None, "uncertain"} and _dates_itself(placing)


def _case(
    dossier: Dossier,
    answers: dict[str, bool],
    clashes: tuple[Contradicted, ...],
    place: tuple[HostVolume, Stage],
) -> Limits | None:
    said = said_in(dossier, answers)
    found = held(said, _left_out(clashes))
    if found is None:
        return None
    host, stage = place
    own = (*own_dates(said, host, stage), *(f"date {iri}" for iri in answers))
    return limits_of(said, found.times, host.id + stage.id, own)


def _old(gathered: Gathered, iri: str) -> Iterator[str]:
    for event in gathered.dossier.events_at_host(iri):
        if isinstance(event, Placing) and not event.undoes and gathered.old_waste(event.piece, iri):
            piece = gathered.dossier.piece(event.piece)
            date = f" ({reach_words(piece.date_made)})" if piece and piece.date_made else ""
            yield f"{quoted(gathered.dossier.name(event.piece))}{date} [{short(event.piece)}]"
