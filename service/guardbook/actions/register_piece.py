"""Register a piece at the bench: one form, in the order in which the hands work, and one save of it all."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field, replace
from typing import BinaryIO

from guardbook import settings
from guardbook.actions.edit_record import rows_changed, suggested, who_of
from guardbook.actions.form_conflict import Conflict, conflicts_of
from guardbook.actions.form_inputs import Inputs, faults_by_name
from guardbook.actions.form_parts import Choice
from guardbook.actions.form_reading import Read, Role, read_form, refused, role_of
from guardbook.actions.keep_pictures import kept_together
from guardbook.actions.photographs import Chosen, Photograph, photographs_in
from guardbook.actions.place_in_hand import PlaceInHand, place_in_hand
from guardbook.actions.registered_together import Together, bound, makes_separation
from guardbook.actions.registration_form import Step, begun_texts, steps_of
from guardbook.actions.save_records import save_records
from guardbook.catalogue.access import Access, Revision, Viewer
from guardbook.errors import (
    Fault,
    GuardbookError,
    InvalidRecord,
    NotAllowed,
    RevisionRequired,
    StaleRevision,
    WrongUse,
)
from guardbook.intake.form_texts import Texts, one_text
from guardbook.records import identifiers
from guardbook.records.base import Record
from guardbook.records.fragment import Fragment
from guardbook.records.host import HostVolume
from guardbook.records.image import Image
from guardbook.records.placing import Placing
from guardbook.records.separation import Separation
from guardbook.wording import _, said_later

NEW, UNKNOWN = "new", "unknown"
_MODELS: Mapping[str, type[Record]] = {
    "host": HostVolume,
    "fragment": Fragment,
    "placing": Placing,
    "separation": Separation,
}


@dataclass(frozen=True, kw_only=True)
class Registration:
    """The form of a registration: its steps, what goes with it unseen, what is wrong with it.

    `host` is `host/IDENTIFIER`, `new` or `unknown`, `host_title` what the volume is called.
    """

    host: str
    host_title: str
    piece: str
    hidden: Mapping[str, str]
    steps: tuple[Step, ...]
    suggested: Mapping[str, tuple[Choice, ...]]
    faults: tuple[Fault, ...] = ()
    conflicts: tuple[Conflict, ...] = ()
    in_hand: PlaceInHand | None = None
    who: str = ""


@dataclass(frozen=True, kw_only=True)
class SentRegistration:
    """What came of it: what was saved, the piece first, or the form again with what is to be mended."""

    saved: tuple[Revision, ...] = ()
    form: Registration | None = None
    is_wrong: bool = field(default=False)


def registration_form(access: Access, host: str) -> Registration:
    """Give the empty form for a piece of a volume: its identifier or number, `new` or `unknown`.

    The identifiers of all it will make are drawn now, so that it makes them once however often it is sent.
    Raises NotFound, Gone, WrongUse for what is no volume, and NotAllowed for the public.
    """
    _workshop_only(access)
    host = _host_named(access, host)
    identity = {f"id.{role}": f"{role}/{identifiers.new_identifier()}" for role in _MODELS}
    if host not in {NEW, UNKNOWN}:
        revision = access.record(settings.current().base + host).revision
        identity |= {"id.host": host, "from.host": str(revision)}
    texts = {name: (value,) for name, value in {"host": host, **identity}.items()}
    return _form(access, {**texts, **begun_texts(access, host)})


def send_registration(
    access: Access, texts: Texts, files: Sequence[tuple[str, str, BinaryIO]] = ()
) -> SentRegistration:
    """Save all that the form makes, in one go, with the photographs given as (input, name, content).

    The form is given again where a row is to be added or taken out, where anything is wrong, and where the
    volume was saved in between; all that was typed stays. Raises as `registration_form`, and StorageFailed.
    """
    _workshop_only(access)
    texts = {**texts, "host": (_host_named(access, one_text(texts, "host")),)}
    laid = bound(access, texts)
    roles = _roles(access, laid)
    if changed := rows_changed(texts, roles):
        return SentRegistration(form=_form(access, changed))
    photographs, faults = photographs_in(files)
    read = read_form(access, laid, roles, Together(laid, photographs))
    if not photographs:
        faults = (*faults, *_nothing_said(laid))
    if faults:
        read = replace(read, faults=(*read.faults, *faults))
    if not read.is_right:
        return SentRegistration(form=_form(access, texts, read), is_wrong=True)
    return _Sending(access, texts, roles, read, photographs).save()


@dataclass(frozen=True)
class _Sending:
    """A form that is right and ready to be saved."""

    access: Access
    texts: Texts
    roles: Sequence[Role]
    read: Read
    photographs: Sequence[Photograph]

    def save(self) -> SentRegistration:
        """Save it, unless somebody has saved one of its records since; then show both versions."""
        merged, conflicts = conflicts_of(self.access, self.texts, self.roles, self.read)
        if not conflicts:
            try:
                with suppress(StaleRevision, RevisionRequired):
                    return SentRegistration(saved=self._kept())
            except InvalidRecord as error:
                read = refused(self.read, error, self.roles, self.texts)
                return SentRegistration(form=_form(self.access, self.texts, read), is_wrong=True)
            # somebody was quicker, between the look and the save
            merged, conflicts = conflicts_of(self.access, self.texts, self.roles, self.read)
        return SentRegistration(form=_form(self.access, merged, self.read, conflicts), is_wrong=True)

    def _kept(self) -> tuple[Revision, ...]:
        kept = {record.sha256: record for record, _ in self.read.drafts if isinstance(record, Image)}
        pictures = [(kept[one.sha256], one.sha256) for one in self.photographs]
        with kept_together(Chosen(self.photographs), pictures, settings.current().data):
            words = {"who": _who(self.texts), "what_for": said_later("registered at the bench")}
            return _piece_first(save_records(self.access, self.read.drafts, sure=True, **words))


def _piece_first(saved: Iterable[Revision]) -> tuple[Revision, ...]:
    return tuple(sorted(saved, key=lambda one: "/fragment/" not in one.iri))


def _who(texts: Texts) -> str:
    """Give who saves it: whoever is named for it, or else who saw the piece."""
    return who_of(texts if one_text(texts, "who") else {"who": texts.get("fragment.seenBy", ())})


def _nothing_said(texts: Texts) -> tuple[Fault, ...]:
    """Give the fault of a form that says nothing at all of its piece."""
    said = (key for key in texts if key.startswith("fragment.") and not key.endswith((".id", ".kind")))
    if any(text not in {"", "rows"} for key in said for text in texts[key]):
        return ()
    expected = _("a title, a number or anything else that tells which piece it is")
    return (Fault(where="fragment.title", found=_("nothing"), expected=expected),)


def _workshop_only(access: Access) -> None:
    if access.viewer is not Viewer.WORKSHOP:
        raise NotAllowed(message=_("Only the machine that the catalogue runs on may change it."))


def _host_named(access: Access, text: str) -> str:
    if text in {NEW, UNKNOWN}:
        return text
    short = access.resolve(text).removeprefix(settings.current().base)
    if not short.startswith("host/"):
        fault = Fault(where="host", found=short, expected=_("a volume"))
        message = _("{record} is no volume. Choose the volume first.").format(record=short)
        raise WrongUse(message=message, faults=(fault,))
    return short


def _models(texts: Texts) -> dict[str, type[Record]]:
    """Give the models of the records that the form shows, by their roles."""
    host = one_text(texts, "host")
    shown = {
        "host": host == NEW,
        "fragment": True,
        "placing": host != UNKNOWN,
        "separation": True,
    }
    return {role: model for role, model in _MODELS.items() if shown[role]}


def _roles(access: Access, texts: Texts) -> list[Role]:
    """Give the records that the form makes or changes as it stands."""
    base = settings.current().base
    roles = []
    for role, model in _MODELS.items():
        iri = base + one_text(texts, f"id.{role}")
        is_made = role in _models(texts) and (role != "separation" or makes_separation(texts))
        is_known_host = role == "host" and one_text(texts, "host") not in {NEW, UNKNOWN}
        if is_made or is_known_host:
            started_from = one_text(texts, f"from.{role}")
            number = int(started_from) if started_from.isascii() and started_from.isdigit() else None
            roles.append(role_of(access, role, model, iri, number if access.has(iri) else None))
    return roles


def _form(
    access: Access, texts: Texts, read: Read | None = None, conflicts: tuple[Conflict, ...] = ()
) -> Registration:
    laid = bound(access, texts)
    host = one_text(texts, "host")
    faults = read.faults if read else ()
    unknown = read.unknown if read else frozenset()
    as_chosen = {**laid, "separation.stage": texts.get("separation.stage", ())}
    inputs = Inputs(access, as_chosen, faults_by_name(faults), unknown, _models(texts))
    steps = tuple(steps_of(inputs, _models(texts)))
    sections = [section for step in steps for section in step.sections]
    unseen = [name for name in texts if name == "host" or name.startswith(("id.", "from."))]
    is_known = host not in {NEW, UNKNOWN}
    return Registration(
        host=host,
        host_title=access.record(settings.current().base + host).record.display_title if is_known else "",
        piece=one_text(texts, "id.fragment"),
        hidden={name: one_text(texts, name) for name in unseen},
        steps=steps,
        suggested=suggested(access, sections),
        faults=faults,
        conflicts=conflicts,
        in_hand=_in_hand(access, laid),
        who=one_text(texts, "who"),
    )


def _in_hand(access: Access, texts: Texts) -> PlaceInHand | None:
    with suppress(GuardbookError):
        return place_in_hand(access, one_text(texts, "host"), one_text(texts, "id.fragment"))
    return None
