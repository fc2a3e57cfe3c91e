"""Many hands at once lose nothing: not in the ledger, not in the graph."""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from guardbook.catalogue.access import Access, Viewer
from guardbook.catalogue.catalogue import open_catalogue
from guardbook.errors import NotFound, StaleRevision
from guardbook.records.carrier import Carrier
from tests.catalogue.shelf import changed, made, placing, save, strip, volume

HANDS, TIMES = 4, 25


def together(work: Callable[[int], object]) -> None:
    """Let all hands do the same, and raise what any of them raised."""
    with ThreadPoolExecutor(HANDS) as pool:
        for done in [pool.submit(work, hand) for hand in range(HANDS)]:
            done.result()


@pytest.mark.parametrize("in_memory", [True, False], ids=["memory", "folder"])
def test_no_save_of_many_hands_is_lost(tmp_path: Path, *, in_memory: bool) -> None:
    host = volume()
    with open_catalogue(None if in_memory else tmp_path) as catalogue:
        access = catalogue.access()
        save(access, host)

        def work(hand: int) -> None:
            for time in range(TIMES):
                piece = strip(f"piece {hand} {time}", workshopNumber=f"W {hand}-{time}")
                save(access, piece, placing(piece, host))
                save(access, changed(piece, note="looked at again"), from_revision=1)

        together(work)
        assert access.sequence == 1 + HANDS * TIMES * 3
        assert len(access.about(host.id)) == HANDS * TIMES
        assert access.find("looked at again").total == HANDS * TIMES
        assert access.verify() == ()


def test_a_count_kept_by_many_hands_comes_out_right(tmp_path: Path) -> None:
    """Each hand counts up from what it read; whoever comes second is refused, reads again, and counts on."""
    carrier = made("carrier", "leaf", lines=0)
    with open_catalogue(tmp_path) as catalogue:
        access = catalogue.access()
        save(access, carrier)

        def work(hand: int) -> None:
            for _ in range(TIMES):
                while not counted_up(access, carrier.id, hand):
                    pass

        together(work)
        kept = access.record(carrier.id)
        assert isinstance(kept.record, Carrier)
        assert kept.record.lines == HANDS * TIMES
        assert kept.revision == HANDS * TIMES + 1
        assert access.verify() == ()


def counted_up(access: Access, iri: str, hand: int) -> bool:
    """Count up, and say so of whose hand it was: the same record saved by two is kept once."""
    kept = access.record(iri)
    assert isinstance(kept.record, Carrier)
    counted = changed(kept.record, lines=(kept.record.lines or 0) + 1, note=f"hand {hand}")
    try:
        save(access, counted, from_revision=kept.revision)
    except StaleRevision:
        return False
    return True


def test_who_reads_meanwhile_sees_a_record_whole_and_never_a_secret(tmp_path: Path) -> None:
    piece = strip(note="written by Berta Quiroga")
    owner = made("agent", "owner", name="Berta Quiroga")
    with open_catalogue(tmp_path) as catalogue:
        access, public = catalogue.access(), catalogue.access(Viewer.PUBLIC)
        save(access, owner, piece)

        def work(hand: int) -> None:
            for time in range(TIMES):
                if hand == 0:
                    kept = access.record(piece.id)
                    save(access, changed(kept.record, condition=f"{time}"), from_revision=kept.revision)
                elif hand == 1:
                    save(access, strip(f"piece {time}", note="also Berta Quiroga's"))
                else:
                    assert "Quiroga" not in str(public.record(piece.id))
                    assert public.find("quiroga").total == 0
                    assert all("Quiroga" not in hit.snippet for hit in public.find("also").hits)
                    with pytest.raises(NotFound):
                        public.record(owner.id)

        together(work)
        assert access.verify() == ()
