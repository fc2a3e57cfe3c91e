"""Beside a record stands every form that it can be taken along in, and none that does not tell of it."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from guardbook.exports.formats import FORMATS
from guardbook.exports.taken_away import GROUPS, Way, ways_to_take
from guardbook.records.base import Record
from tests.catalogue.shelf import made, strip, volume


def ways(record: Record) -> Iterator[Way]:
    return (way for group in ways_to_take(record) for way in group.ways)


def test_every_format_stands_under_one_heading() -> None:
    listed = [name for _, names in GROUPS for name in names]
    assert sorted(listed) == sorted(FORMATS)


@pytest.mark.parametrize(
    ("record", "there", "not_there"),
    [
        (strip(), {"TEI", "IIIF", "CSV", "Sheet for scholars", "Packet"}, set()),
        (volume(), {"TEI", "IIIF", "Report for the owner"}, {"CSV", "XLSX"}),
        (made("institution", "library", name="Library"), {"Turtle", "CIDOC CRM", "Packet"}, {"TEI", "IIIF"}),
    ],
)
def test_a_form_is_offered_where_it_tells_of_the_record(
    record: Record, there: set[str], not_there: set[str]
) -> None:
    labels = {way.label for way in ways(record)}
    assert there <= labels
    assert not labels & not_there


def test_every_address_is_of_the_record() -> None:
    assert all(strip().short in way.address for way in ways(strip()))
    assert len({way.address for way in ways(strip())}) == len(list(ways(strip())))
