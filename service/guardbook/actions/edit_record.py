"""Edit a record, or add one, by a form that is made from the shapes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field

from guardbook import settings
from guardbook.actions.form_conflict import Conflict, conflicts_of
from guardbook.actions.form_inputs import Inputs, faults_by_name
from guardbook.actions.form_parts import Choice, Section
from guardbook.actions.form_reading import (
    Read,
    Role,
    lists_in,
    read_form,
    refused,
    role_of,
    with_row,
    without_row,
)
from guardbook.actions.form_sections import sections_of
from guardbook.actions.form_suggestions import suggestions, with_names
from guardbook.actions.kind_words import kind_in_words
from guardbook.actions.place_in_hand import PlaceInHand, place_in_hand
from guardbook.actions.save_records import save_records
from guardbook.catalogue.access import Access, Revision, Viewer
from guardbook.errors import (
    Fault,
    GuardbookError,
    InvalidRecord,
    NotAllowed,
    NotFound,
    RevisionRequired,
    StaleRevision,
)
from guardbook.intake.form_texts import Texts, one_text, texts_of
from guardbook.records import identifiers
from guardbook.records.fields import fields_of
from guardbook.records.kinds import KINDS
from guardbook.records.placing import Placing
from guardbook.wording import _, said_later


@dataclass(frozen=True, kw_only=True)
class Form:
    """A form to show: sections, what goes with it unseen, what is wrong, what was saved in between.

    `suggested` are the lists of records that inputs suggest, by name; `in_hand` is the place of a piece,
    where the form is about one that can be drawn.
    """

    title: str
    kind: str
    iri: str
    is_new: bool
    hidden: Mapping[str, str]
    sections: tuple[Section, ...]
    suggested: Mapping[str, tuple[Choice, ...]]
    faults: tuple[Fault, ...] = ()
    conflicts: tuple[Conflict, ...] = ()
    who: str = ""
    what_for: str = ""
    in_hand: PlaceInHand | None = None


@dataclass(frozen=True, kw_only=True)
class Sent:
    """What came of a form that was sent: what was saved, or the form again with what is to be mended."""

    saved: tuple[Revision, ...] = ()
    form: Form | None = None
    is_wrong: bool = field(default=False)


def form_to_edit(access: Access, name: str) -> Form:
    """Give the form of a record as it is kept. Raises NotFound, Gone, and NotAllowed for the public."""
    _workshop_only(access)
    kept = access.record(access.resolve(name))
    role = role_of(access, kept.record.kind, type(kept.record), kept.record.id, kept.revision)
    texts = with_names(access, _texts(role), role.model, role.name)
    return _form(access, {**texts, f"from.{role.name}": (str(kept.revision),)}, role)


def form_to_add(access: Access, kind: str, given: Texts | None = None) -> Form:
    """Give the empty form of a kind, with an identifier of its own so that it cannot be sent twice.

    `given` are texts to begin with, by name of field. Raises NotFound, and NotAllowed for the public.
    """
    _workshop_only(access)
    role = _new_role(access, kind, {})
    begun = {f"{kind}.{name}": some for name, some in (given or {}).items()}
    return _form(access, {**_texts(role), **begun}, role)


def send_form(access: Access, texts: Texts, *, name: str = "", kind: str = "") -> Sent:
    """Save what a form says of the record of a `name`, or of a new one of a `kind`; or give it again.

    It is given again where a row is to be added or taken out, where anything is wrong, and where the record
    was saved in between; all that was typed stays. Raises NotFound, Gone, NotAllowed and StorageFailed.
    """
    _workshop_only(access)
    role = _sent_role(access, texts, name, kind)
    if changed := rows_changed(texts, [role]):
        return Sent(form=_form(access, changed, role))
    read = read_form(access, texts, [role])
    if not read.is_right:
        return Sent(form=_form(access, texts, role, read), is_wrong=True)
    merged, conflicts = conflicts_of(access, texts, [role], read)
    if conflicts:
        return Sent(form=_form(access, merged, role, read, conflicts), is_wrong=True)
    try:
        saved = save_records(access, read.drafts, who=who_of(texts), what_for=_what_for(texts), sure=True)
    except InvalidRecord as error:
        return Sent(form=_form(access, texts, role, refused(read, error, [role], texts)), is_wrong=True)
    except (StaleRevision, RevisionRequired):
        # somebody was quicker, between the look and the save
        merged, conflicts = conflicts_of(access, texts, [role], read)
        return Sent(form=_form(access, merged, role, read, conflicts), is_wrong=True)
    return Sent(saved=saved)


def rows_changed(texts: Texts, roles: Sequence[Role]) -> dict[str, tuple[str, ...]] | None:
    """Give the texts with a row added or taken out, where a button for it was pressed."""
    if row := one_text(texts, "remove"):
        return {key: some for key, some in without_row(texts, row).items() if key != "remove"}
    name = one_text(texts, "add")
    for role in roles:
        if name in lists_in(texts, role.name):
            model = next(path.part for path in fields_of(role.model) if name.endswith(f".{path.json_name}"))
            added = with_row(texts, name, model.prefix if model else "part")
            return {key: some for key, some in added.items() if key != "add"}
    return None


def who_of(texts: Texts) -> str:
    """Give who saves the form."""
    return one_text(texts, "who") or "the workshop"


def _what_for(texts: Texts) -> str:
    return one_text(texts, "what_for") or said_later("entered in a form")


def _workshop_only(access: Access) -> None:
    if access.viewer is not Viewer.WORKSHOP:
        raise NotAllowed(message=_("Only the machine that the catalogue runs on may change it."))


def _new_role(access: Access, kind: str, texts: Texts) -> Role:
    if kind not in KINDS:
        raise NotFound(
            message=_("There is no kind of record {kind}. The kinds are: {kinds}.").format(
                kind=repr(kind), kinds=", ".join(KINDS)
            )
        )
    identifier = one_text(texts, f"id.{kind}").rpartition("/")[2]
    name = identifier if identifiers.is_valid(identifier) else identifiers.new_identifier()
    iri = f"{settings.current().base}{kind}/{name}"
    return role_of(access, kind, KINDS[kind], iri, _started_from(texts, kind) if access.has(iri) else None)


def _sent_role(access: Access, texts: Texts, name: str, kind: str) -> Role:
    if kind:
        return _new_role(access, kind, texts)
    kept = access.record(access.resolve(name)).record
    return role_of(access, kept.kind, type(kept), kept.id, _started_from(texts, kept.kind) or 1)


def _started_from(texts: Texts, role: str) -> int | None:
    text = one_text(texts, f"from.{role}")
    return int(text) if text.isascii() and text.isdigit() else None


def _texts(role: Role) -> dict[str, tuple[str, ...]]:
    return texts_of(role.base, role.model, role.name)


def _form(
    access: Access,
    texts: Texts,
    role: Role,
    read: Read | None = None,
    conflicts: tuple[Conflict, ...] = (),
) -> Form:
    short = role.iri.removeprefix(settings.current().base)
    hidden = {f"id.{role.name}": short}
    if started_from := one_text(texts, f"from.{role.name}"):
        hidden[f"from.{role.name}"] = started_from
    faults = read.faults if read else ()
    inputs = Inputs(
        access,
        {**texts, **{key: (value,) for key, value in hidden.items()}},
        faults_by_name(faults),
        read.unknown if read else frozenset(),
        {role.name: role.model},
    )
    sections = tuple(sections_of(inputs, role.model, role.name))
    is_here = access.has(role.iri)
    return Form(
        title=access.record(role.iri).record.display_title if is_here else kind_in_words(role.model),
        kind=role.model.kind,
        iri=role.iri,
        is_new=role.is_new,
        hidden=hidden,
        sections=sections,
        suggested=suggested(access, sections),
        faults=faults,
        conflicts=conflicts,
        who=one_text(texts, "who"),
        what_for=one_text(texts, "what_for"),
        in_hand=_in_hand(access, inputs.texts, role) if role.model is Placing else None,
    )


def _in_hand(access: Access, texts: Texts, role: Role) -> PlaceInHand | None:
    """Take up the place that a placing is about; nothing where volume or piece is not said yet."""
    host, piece = (one_text(texts, f"{role.name}.{name}") for name in ("host", "piece"))
    with suppress(GuardbookError):
        if host and piece:
            return place_in_hand(access, host, piece, role.iri if access.has(role.iri) else "")
    return None


def suggested(access: Access, sections: Sequence[Section]) -> dict[str, tuple[Choice, ...]]:
    """Give the lists of records that the inputs of some sections suggest, by name."""
    names = {one.suggests for section in sections for one in section.inputs(blank=True)}
    return {name: suggestions(access, name.split("-")) for name in sorted(names - {""})}
