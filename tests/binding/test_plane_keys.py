"""What a plane is called in an address or a command."""

from __future__ import annotations

import pytest

from guardbook.binding.plane_keys import plane_called
from guardbook.binding.planes import PlaneName
from guardbook.errors import WrongUse


def test_a_key_says_all_that_tells_a_plane_from_others_of_its_kind() -> None:
    assert plane_called("leaf-12-recto") == PlaneName("leaf", leaf=12, leaf_side="recto")
    assert plane_called("board-inside-upper") == PlaneName("board-inside", side="upper")


@pytest.mark.parametrize(
    "key",
    ["cover", "fold", "fold-0", "fold-x", "fold-3-4", "board-inside-left", "leaf-3", "", "cover-outside-3"],
)
def test_a_plane_that_there_is_not_is_answered_with_the_names_there_are(key: str) -> None:
    with pytest.raises(WrongUse, match="cover-outside, cover-inside, textblock-spine, fold-3, leaf-12-recto"):
        plane_called(key)
