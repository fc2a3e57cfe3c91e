"""Which of the uses of a piece a hole or fold was made in, and on which face it is."""

from __future__ import annotations

from typing import Any

import pytest

from guardbook.binding.replay import life_of
from guardbook.binding.traces import is_on_front, traces_on
from guardbook.binding.transforms import SAME, of_frame
from guardbook.binding.uses import standing_of, uses_of
from guardbook.records.base import Record
from tests.binding.bench import at, dossier, iri, piece, placing, separation, volume
from tests.binding.stage_set import book, hole, item, line

FIRST, SECOND = volume("First", "1500", "1550"), volume("Second", "1560", "1700", "2020")
LAID = at("-100", "0", "cover-outside")


def cover(*series: dict[str, str]) -> Any:
    named = [{"id": f"#series-{n}", **one} for n, one in enumerate(series, start=1)]
    holes = [hole(n, str(10 * n), "5", inSeries=f"#series-{n}") for n in range(1, len(series) + 1)]
    return piece("Cover", "300", "200", series=named, features=holes)


def used_twice(*series: dict[str, str]) -> tuple[Record, ...]:
    return (
        FIRST,
        SECOND,
        cover(*series),
        placing("one", "Cover", "First", 1, LAID, function="cover"),
        separation("off", "Cover", "First", 2),
        placing("two", "Cover", "Second", 1, LAID, function="cover"),
    )


def standings(records: tuple[Record, ...], host: str, at_stage: int = 1) -> list[str | None]:
    known = dossier(*records)
    life = life_of(known, iri("fragment", "Cover"))
    stay = next(s for s in life.stays if s.host == iri("host", host) and s.holds_at(at_stage))
    made = known.piece(life.piece)
    assert made
    standing = standing_of(made, life, stay)
    return [standing(one) for one in made.series]


def test_holes_of_the_volume_before_are_earlier_and_of_the_volume_after_later() -> None:
    records = used_twice({"use": "first-use", "host": FIRST.id}, {"use": "second-use", "host": SECOND.id})
    assert standings(records, "First") == ["now", "later"]
    assert standings(records, "Second") == ["earlier", "now"]


def test_where_the_volume_of_a_series_is_not_known_the_name_of_its_use_tells() -> None:
    records = used_twice(
        {"use": "second-use", "host": SECOND.id},
        {"use": "first-use"},
        {"use": "later-use"},
        {"use": "carrier"},
    )
    assert standings(records, "Second") == ["now", "earlier", "later", "earlier"]
    assert standings(records, "First") == ["later", None, None, None]
    assert standings(used_twice({"use": "unknown"}), "Second") == [None]


def test_a_hole_that_was_not_made_yet_is_not_seen_at_the_stage() -> None:
    records = used_twice({"use": "first-use", "host": FIRST.id}, {"use": "second-use", "host": SECOND.id})
    first, second = (
        [
            trace.id.rpartition("#")[2]
            for trace in item(book(*records, name=name), "Cover", "cover-outside").features
        ]
        for name in ("First", "Second")
    )
    assert (first, second) == (["feature-1"], ["feature-1", "feature-2"])


def test_one_book_sewn_twice_in_the_same_cover_has_two_uses_of_it() -> None:
    moved = at("-97", "0", "cover-outside")
    records = (
        SECOND,
        cover({"use": "first-use", "host": SECOND.id}, {"use": "second-use", "host": SECOND.id}),
        placing("one", "Cover", "Second", 1, LAID),
        separation("off", "Cover", "Second", 2),
        placing(
            "two",
            "Cover",
            "Second",
            2,
            moved,
            undoes=iri("separation", "off"),
            returnKind="put-back-in-place",
        ),
    )
    assert standings(records, "Second", 1) == ["now", "later"]
    assert standings(records, "Second", 3) == ["earlier", "now"]


def test_a_cover_put_back_just_as_it_lay_is_still_in_the_same_use() -> None:
    records = (
        SECOND,
        cover({"use": "first-use", "host": SECOND.id}),
        placing("one", "Cover", "Second", 1, LAID),
        separation("off", "Cover", "Second", 2, separationKind="lifted-and-returned"),
        placing(
            "two", "Cover", "Second", 3, LAID, undoes=iri("separation", "off"), returnKind="put-back-in-place"
        ),
    )
    life = life_of(dossier(*records), iri("fragment", "Cover"))
    assert [len(use) for use in uses_of(life.stays)] == [2]
    assert standings(records, "Second", 3) == ["now"]


@pytest.mark.parametrize(
    ("face", "front_face", "on_front"),
    [
        ("front", None, True),
        ("back", "recto", False),
        ("recto", "recto", True),
        ("verso", "recto", False),
        ("hair", "flesh", False),
        ("hair", "recto", None),
        ("unknown", "recto", None),
        (None, "recto", None),
        ("recto", None, None),
    ],
)
def test_the_front_of_a_piece_is_told_from_its_back_by_any_names(
    face: str | None, front_face: str | None, on_front: bool | None
) -> None:
    assert is_on_front(face, front_face) is on_front


def test_a_stain_covers_an_area_a_fold_is_a_line_and_a_hole_without_a_place_is_nowhere() -> None:
    marks = [
        line(1, ("0", "0"), ("20", "4"), "stain"),
        line(2, ("5", "0"), ("5", "40")),
        hole(3, "5", "9"),
        {"id": "#feature-4", "featureKind": "tear", "y": "3"} | {"featureKind": "wormhole"},
    ]
    found = traces_on(piece("Strip", features=marks), SAME, front_towards_viewer=None)
    assert [len(trace.points) for trace in found] == [4, 2, 1]
    assert found[0].points == ((0, 0), (20, 0), (20, 4), (0, 4))


def test_traces_are_turned_and_mirrored_with_their_piece() -> None:
    strip = piece("Strip", features=[hole(1, "5", "9")])
    (trace,) = traces_on(strip, of_frame(100, 0, rotation=90, mirrored_width=20), front_towards_viewer=False)
    assert trace.points == ((91, 15),)
