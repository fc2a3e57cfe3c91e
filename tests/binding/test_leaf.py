"""Pieces of one leaf set out in its own frame, with what is missing."""

from __future__ import annotations

import json
from typing import Any

import pytest

from guardbook.binding.leaf import rejoined
from guardbook.binding.leaf_parts import Rejoined, RejoinedLeaf
from guardbook.errors import NotFound
from guardbook.records.base import Record
from guardbook.records.carrier import Carrier
from tests.binding.bench import at, dossier, iri, made, piece, placing, volume
from tests.binding.stage_set import bounds, picture

SIZE: dict[str, Any] = {"height": "280", "width": "200"}
PSALTER: Carrier = made(Carrier, "Psalter", **SIZE, writtenWidth="130", columns=1, lines=24, linePitch="8.5")


def cut(
    name: str,
    x: str | None,
    y: str | None,
    height: str = "40",
    width: str = "60",
    *,
    text: str | None = None,
    **place: Any,
) -> Any:
    where = {"carrier": PSALTER.id, "carrierLeaf": "1", "leafSide": "recto", **place}
    where |= {key: value for key, value in (("x", x), ("y", y)) if value is not None}
    said = {"readingText": text} if text else {}
    return piece(name, height, width, carrierPlaces=[where], frontFace="recto", **said)


def leaf(*records: Record, carrier: Carrier = PSALTER, text: str | None = None) -> RejoinedLeaf:
    (found,) = all_of(*records, carrier=carrier, text=text).leaves
    return found


def all_of(*records: Record, carrier: Carrier = PSALTER, text: str | None = None) -> Rejoined:
    known = carrier.model_copy(update={"known_text": text})
    return rejoined(dossier(known, *records), carrier.id)


def test_pieces_lie_on_their_leaf_by_their_measured_places() -> None:
    found = leaf(cut("Upper", "20", "200"), cut("Lower", "20", "100", rotation="90"))
    assert {one.name: bounds(one) for one in found.pieces} == {
        "Upper": (20, 200, 80, 240),
        "Lower": (-20, 100, 20, 160),
    }
    assert (found.left, found.bottom, found.right, found.top, found.size_from) == (0, 0, 200, 280, "stated")


def test_what_is_missing_is_outlined_and_the_known_share_told() -> None:
    found = leaf(cut("Upper", "0", "180", "100", "200"), cut("Lower", "0", "0", "100", "200"))
    assert [part.bounds for part in found.missing] == [(0, 100, 200, 180)]
    assert found.known_share == pytest.approx(200 / 280)


def test_pieces_that_meet_leave_no_missing_sliver() -> None:
    found = leaf(cut("Upper", "0", "140.3", "139.7", "200"), cut("Lower", "0", "0", "140", "200"))
    assert found.missing == ()


def test_a_place_told_on_the_verso_is_turned_over_onto_the_recto() -> None:
    (one,) = leaf(cut("Strip", "20", "100", leafSide="verso", mirrored=False)).pieces
    assert bounds(one) == (120, 100, 180, 140)
    assert (one.leaf_side, one.front_towards_viewer) == ("verso", False)


def test_without_a_width_the_verso_is_a_leaf_of_its_own() -> None:
    bare: Carrier = made(Carrier, "Psalter")
    found = all_of(cut("Front", "0", "0"), cut("Back", "0", "0", leafSide="verso"), carrier=bare).leaves
    assert [(one.side, one.size_from, one.right, one.top) for one in found] == [
        ("recto", "pieces", 60, 40),
        ("verso", "pieces", 60, 40),
    ]


def test_a_piece_whose_place_is_not_known_is_listed_without_an_outline() -> None:
    found = leaf(cut("Strip", None, None, firstLine=3, lastLine=5), cut("Other", "0", "0"))
    assert [one.name for one in found.unplaced] == ["Strip"]
    assert found.unplaced[0].words == "recto, lines 3 to 5"


def test_a_piece_of_the_carrier_whose_leaf_is_not_said_belongs_to_no_leaf() -> None:
    stray = piece("Stray", carrierPlaces=[{"carrier": PSALTER.id}])
    found = all_of(stray, cut("Strip", "0", "0"))
    assert [one.name for one in found.unplaced] == ["Stray"]
    assert [[one.name for one in leaf.pieces] for leaf in found.leaves] == [["Strip"]]


def test_leaves_follow_each_other_as_they_are_numbered() -> None:
    found = all_of(cut("A", "0", "0", carrierLeaf="10"), cut("B", "0", "0", carrierLeaf="9"))
    assert [leaf.leaf for leaf in found.leaves] == ["9", "10"]


def test_two_pieces_that_claim_the_same_part_of_a_leaf_are_reported() -> None:
    (found,) = leaf(cut("One", "0", "0"), cut("Two", "50", "30")).overlaps
    assert found.area_mm2 == 100
    assert found.words.startswith("One and Two claim the same 10.0 x 10.0 mm of the leaf.")
    assert leaf(cut("One", "0", "0"), cut("Two", "59", "0")).overlaps == ()


def test_each_piece_tells_the_volumes_it_came_out_of() -> None:
    book = volume("Book", "1510", shelfmark="B 7")
    put = placing("put", "Strip", "Book", 1, at("0", "0"))
    (one,) = leaf(book, cut("Strip", "0", "0"), put).pieces
    assert [(host.name, host.shelfmark, host.stage_words) for host in one.hosts] == [("Book", "B 7", "bound")]


def test_the_picture_of_a_piece_lies_where_the_piece_was_cut() -> None:
    shot = picture("shot", "Strip", face="recto", pixelsPerMm="10", pixelWidth=600, pixelHeight=400)
    (one,) = leaf(cut("Strip", "20", "100", mirrored=False), shot).pieces
    assert one.image == shot.id
    assert one.image_way
    assert one.image_way.point(0, 400) == pytest.approx((20, 100))


# Psalm 1 (Vulgate), in lines of 40 letters or so
LINES = (
    "Beatus vir qui non abiit in consilio impiorum", "et in via peccatorum non stetit, et in cathedra",
    "pestilentiae non sedit; sed in lege Domini", "voluntas ejus, et in lege ejus meditabitur die",
    "ac nocte. Et erit tamquam lignum quod plantatum", "est secus decursus aquarum, quod fructum suum",
    "dabit in tempore suo: et folium ejus non defluet;", "et omnia quaecumque faciet prosperabuntur. Non",
    "sic impii, non sic; sed tamquam pulvis quem", "projicit ventus a facie terrae. Ideo non resurgent",
)  # fmt: skip


def test_the_missing_lines_of_a_known_text_are_estimated_by_every_method_there_is() -> None:
    upper = cut("Upper", "30", "200", "34", "140", text="\n".join(LINES[:3]), firstLine=1, lastLine=3)
    lower = cut("Lower", "30", "140", "26", "140", text="\n".join(LINES[7:]))
    (found,) = leaf(upper, lower, text=" ".join(LINES)).missing_lines
    methods = {count.method: count for count in found.counts}
    assert set(methods) == {"pitch", "text"}
    assert methods["pitch"].lines == pytest.approx(4)
    assert methods["text"].lines == pytest.approx(4, abs=0.5)
    assert methods["text"].low is not None
    assert methods["text"].high is not None
    assert methods["text"].low <= 4 <= methods["text"].high
    assert found.agree


def test_without_the_text_only_the_gap_is_measured() -> None:
    upper = cut("Upper", "30", "200", text="\n".join(LINES[:3]))
    lower = cut("Lower", "30", "140", "26", text="\n".join(LINES[7:]))
    (found,) = leaf(upper, lower).missing_lines
    assert [count.method for count in found.counts] == ["pitch"]


def test_the_line_pitch_is_that_of_the_pieces_before_that_of_the_carrier() -> None:
    measured = piece("Strip", linePitch="9.0", carrierPlaces=[{"carrier": PSALTER.id, "carrierLeaf": "1"}])
    assert (leaf(measured).line_pitch, leaf(cut("Strip", "0", "0")).line_pitch) == (9.0, 8.5)


def test_a_carrier_without_pieces_has_no_leaves_and_one_that_is_not_there_is_told() -> None:
    assert all_of().leaves == ()
    with pytest.raises(NotFound, match="no record of the carrier"):
        rejoined(dossier(PSALTER), iri("carrier", "Other"))


def test_a_rejoined_carrier_is_plain_data() -> None:
    told = json.loads(json.dumps(all_of(cut("Strip", "20", "100")).as_json()))
    (one,) = told["leaves"]
    assert (one["leaf"], one["side"], one["knownShare"]) == ("1", "recto", 0.043)
    assert one["pieces"][0]["outline"].startswith("POLYGON ((80 100")
    assert one["missing"][0].startswith("POLYGON")
