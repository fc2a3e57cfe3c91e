"""What becomes of a piece after it was lifted or put back: in a volume, to go there, kept out, or open."""

from __future__ import annotations

from guardbook.binding.dossier import Dossier
from guardbook.binding.ordering import is_planned
from guardbook.binding.replay import NEEDS_NO_PLACING, life_of
from guardbook.records.placing import Placing
from guardbook.records.separation import Separation

IS_BACK, GOES_BACK, STAYS_OUT, OPEN = "is-back", "goes-back", "stays-out", "open"
_BACK = frozenset({None, "put-back-in-place", "put-back-elsewhere"})


def fate_of(dossier: Dossier, event: Separation | Placing) -> str:
    """Say what becomes of the piece of a removal or return, planned or done.

    Only what is recorded settles it; while nothing is, it is open, for a piece that is out may go back.
    """
    if isinstance(event, Placing):
        if event.return_kind not in _BACK:
            return STAYS_OUT
        return GOES_BACK if is_planned(event) else IS_BACK
    if not is_planned(event) and _is_in_a_volume(dossier, event.piece):
        return IS_BACK
    return _after(event, _return_of(dossier, event))


def _is_in_a_volume(dossier: Dossier, piece: str) -> bool:
    stays = life_of(dossier, piece).stays
    return bool(stays) and stays[-1].placing is not None and stays[-1].leaving is None


def _return_of(dossier: Dossier, event: Separation) -> Placing | None:
    """Give the return of a removal, the one that was made rather than one that is planned."""
    found = [
        one
        for one in dossier.events_of_piece(event.piece)
        if isinstance(one, Placing) and one.undoes == event.id
    ]
    return min(found, key=is_planned, default=None)


def _after(event: Separation, back: Placing | None) -> str:
    if back is not None:
        return GOES_BACK if back.return_kind in _BACK else STAYS_OUT
    if event.separation_kind == "lifted-and-returned":
        return GOES_BACK
    kept = (event.went_to, event.housing, event.shelfmark, event.box_location)
    return STAYS_OUT if any(kept) or event.separation_kind in NEEDS_NO_PLACING else OPEN
