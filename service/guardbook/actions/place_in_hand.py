"""Take up the place of a piece in a volume, to say it for the first time or to correct it."""

from __future__ import annotations

from dataclasses import dataclass

from guardbook.actions.binding_dossier import dossier_of_hosts, host_called
from guardbook.binding.dossier import Dossier
from guardbook.binding.outlines import Shape, shape_of
from guardbook.binding.replay import life_of
from guardbook.binding.scene_facts import stages_come_about
from guardbook.binding.stays import Stay
from guardbook.catalogue.access import Access
from guardbook.errors import Fault, WrongUse
from guardbook.records.fragment import Fragment
from guardbook.records.host import HostVolume
from guardbook.records.placing import Placing
from guardbook.wording import _, pgettext


@dataclass(frozen=True, kw_only=True)
class PlaceInHand:
    """A piece, the volume it lay or lies in, and the placing that says so (None: none does yet).

    `revision` is that of the placing, `piece_revision` that of the piece, `stage` the number of the stage
    that is looked at, `shape` the size the piece then had. `others` are all placings of the piece in this
    volume that can be corrected.
    """

    host: HostVolume
    piece: Fragment
    piece_revision: int
    placing: Placing | None
    revision: int | None
    stage: int
    shape: Shape
    others: tuple[Placing, ...] = ()


def place_in_hand(
    access: Access, host_name: str, piece_name: str, placing_name: str = "", stage: int | None = None
) -> PlaceInHand:
    """Take up a placing of a piece in a volume: the one named, else the one that holds at the stage, or none.

    Without a stage it is looked at as the placing left it, or where there is none as the volume stands.
    Raises NotFound, Gone, and WrongUse for names of something else, of a placing of another piece, or a stage
    that the volume does not have.
    """
    host = host_called(access, host_name)
    if not piece_name:
        raise WrongUse(
            message=_("Name the piece that is to be placed, by its identifier or workshop number.")
        )
    kept = access.record(access.resolve(piece_name))
    piece = kept.record
    if not isinstance(piece, Fragment):
        message = _("{record} is no piece. Name the piece that is to be placed.")
        raise WrongUse(message=message.format(record=piece.short))
    dossier = dossier_of_hosts(access, [host])
    others = tuple(_placings(dossier, host.id, piece.id))
    placing = _named(access, placing_name, others) if placing_name else _holding(dossier, host, piece, stage)
    chosen = _known(host, stage) if stage else _stage_of(dossier, host, placing)
    return PlaceInHand(
        host=host,
        piece=piece,
        piece_revision=kept.revision,
        placing=placing,
        revision=access.record(placing.id).revision if placing else None,
        stage=chosen,
        shape=_shape(dossier, host, piece, chosen),
        others=others,
    )


def _known(host: HostVolume, stage: int) -> int:
    numbers = sorted(one.number for one in host.stages) or [1]
    if stage not in numbers:
        known = ", ".join(map(str, numbers))
        message = _("{volume} has no stage {stage}. Its stages are: {stages}.")
        raise WrongUse(message=message.format(volume=host.display_title, stage=stage, stages=known))
    return stage


def _placings(dossier: Dossier, host: str, piece: str) -> list[Placing]:
    events = dossier.events_of_piece(piece)
    return [event for event in events if isinstance(event, Placing) and event.host == host]


def _named(access: Access, name: str, others: tuple[Placing, ...]) -> Placing:
    iri = access.resolve(name)
    found = next((one for one in others if one.id == iri), None)
    if found is None:
        known = ", ".join(one.short for one in others) or pgettext("placings", "none")
        expected = _("a placing of this piece here: {placings}").format(placings=known)
        fault = Fault(where="placing", found=name, expected=expected)
        raise WrongUse(message=_("That is no placing of this piece in this volume."), faults=(fault,))
    return found


def _stays(dossier: Dossier, host: HostVolume, piece: Fragment) -> list[Stay]:
    return [stay for stay in life_of(dossier, piece.id).stays if stay.host == host.id]


def _holding(dossier: Dossier, host: HostVolume, piece: Fragment, stage: int | None) -> Placing | None:
    """Give what put the piece where it lay at a stage; without a stage where it last lay."""
    stays = [stay for stay in _stays(dossier, host, piece) if stage is None or stay.holds_at(stage)]
    return stays[-1].placing if stays else None


def _stage_of(dossier: Dossier, host: HostVolume, placing: Placing | None) -> int:
    numbers = {f"{host.id}{stage.id}": stage.number for stage in host.stages}
    led_to = numbers.get(placing.stage or "") if placing else None
    return led_to or stages_come_about(dossier, host.id)[-1]


def _shape(dossier: Dossier, host: HostVolume, piece: Fragment, stage: int) -> Shape:
    """Give the size of the piece at the stage: it may have been trimmed since, or before."""
    lyings = (stay.lying_at(stage) for stay in _stays(dossier, host, piece))
    return next((lying.shape for lying in lyings if lying), shape_of(piece))
