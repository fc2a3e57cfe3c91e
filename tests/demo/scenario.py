"""The demonstration by kinds, and the few questions that many of its tests ask."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import TypeVar

from guardbook.records.base import Record
from guardbook.records.carrier import Carrier
from guardbook.records.fragment import Fragment
from guardbook.records.host import HostVolume, Station
from guardbook.records.placing import Placing
from guardbook.records.separation import Separation

R = TypeVar("R", bound=Record)
Rows = dict[float, list[float]]


@dataclass(frozen=True)
class Use:
    """One use of a cover: how it was placed, in which volume, and its rows of lacing holes.

    A row is the x of its holes and their y, in mm in the piece's own frame.
    """

    placing: Placing
    host: HostVolume
    rows: Rows


@dataclass(frozen=True)
class Scenario:
    """All records, and those of each kind."""

    records: tuple[Record, ...]

    def of(self, kind: type[R]) -> list[R]:
        """Give the records of one kind."""
        return [record for record in self.records if isinstance(record, kind)]

    @cached_property
    def by_iri(self) -> dict[str, Record]:
        """Give every record by its IRI."""
        return {record.id: record for record in self.records}

    def piece(self, iri: str) -> Fragment:
        """Give a piece."""
        found = self.by_iri[iri]
        assert isinstance(found, Fragment)
        return found

    def host(self, iri: str) -> HostVolume:
        """Give a volume."""
        found = self.by_iri[iri]
        assert isinstance(found, HostVolume)
        return found

    def placings(self, piece: Fragment) -> list[Placing]:
        """Give the placings of a piece, in the order in which they are told."""
        return [placing for placing in self.of(Placing) if placing.piece == piece.id]

    def separations(self, kind: str) -> list[Separation]:
        """Give the separations of one kind."""
        return [event for event in self.of(Separation) if event.separation_kind == kind]

    def hosts_of(self, carrier: Carrier) -> set[str]:
        """Give the volumes in which pieces of a carrier ever were."""
        return {placing.host for piece in self.cut_from(carrier) for placing in self.placings(piece)}

    def cut_from(self, carrier: Carrier) -> list[Fragment]:
        """Give the known pieces of a carrier."""
        pieces = self.of(Fragment)
        return [p for p in pieces if carrier.id in {place.carrier for place in p.carrier_places}]

    def re_used_covers(self) -> list[Fragment]:
        """Give the covers with lacing holes of a first and of a second use."""
        return [piece for piece in self.of(Fragment) if set(_laced(piece)) == {"first-use", "second-use"}]

    def uses(self, cover: Fragment) -> Iterator[Use]:
        """Give the first and the second use of a cover; both may have been on one volume."""
        seen: list[str] = []
        for _, series in sorted(_laced(cover).items()):
            host = next(one.host for one in cover.series if one.id == series) or ""
            placings = [placing for placing in self.placings(cover) if placing.host == host]
            yield Use(placings[seen.count(host)], self.host(host), _rows(cover, series))
            seen.append(host)


def supports_at(host: HostVolume, stage: str | None) -> list[float]:
    """Give the sewing supports of a volume at a stage, in mm from the tail."""
    stations = [s for s in host.stations if s.station_kind == "sewing-support" and _serves(s, stage or "")]
    return sorted(float(station.y) for station in stations)


def _serves(station: Station, stage: str) -> bool:
    return (station.from_stage or stage) <= stage <= (station.to_stage or stage)


def _laced(piece: Fragment) -> dict[str, str]:
    """Give the series of lacing holes of a piece that belong to a known volume, by their use."""
    laced = {feature.in_series for feature in piece.features if feature.feature_kind == "lacing-hole"}
    return {one.use: one.id for one in piece.series if one.use and one.host and one.id in laced}


def _rows(piece: Fragment, series: str) -> Rows:
    rows: Rows = {}
    for hole in piece.features:
        if hole.feature_kind == "lacing-hole" and hole.in_series == series and hole.x and hole.y:
            rows.setdefault(float(hole.x), []).append(float(hole.y))
    return {x: sorted(heights) for x, heights in sorted(rows.items())}
