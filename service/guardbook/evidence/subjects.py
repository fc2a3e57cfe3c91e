"""What a reading can be about: a binding, one of its covers, a piece, or two pieces that lay together."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations, permutations

from guardbook.binding.dossier import Dossier
from guardbook.binding.host_states import lives_at_host, states_of
from guardbook.binding.planes import PlaneName
from guardbook.binding.scene import Scene, scene_of
from guardbook.binding.scene_parts import SceneFeature, SceneItem
from guardbook.binding.scene_planes import ScenePlane
from guardbook.evidence.situations import quoted
from guardbook.records.fragment import Fragment
from guardbook.records.host import HostVolume
from guardbook.wording import _

OUTSIDE = PlaneName("cover-outside")
COVERS = frozenset({"cover", "covering"})
OVERLAP_MM2 = 1.0


@dataclass(frozen=True, kw_only=True)
class Binding:
    """A volume at the last stage at which its cover is in place (or the last of all), and that cover."""

    dossier: Dossier
    host: HostVolume
    scene: Scene
    plane: ScenePlane | None = None
    cover: SceneItem | None = None

    about = "binding"

    @property
    def name(self) -> str:
        """Name the cover, or the volume where it has none."""
        host = quoted(self.host.display_title)
        if self.cover is None:
            return host
        return _("{cover} on {volume}").format(cover=quoted(self.cover.name), volume=host)

    @property
    def records(self) -> tuple[str, ...]:
        """Give the records it is about."""
        return (self.host.id, *([self.cover.piece] if self.cover else []))


@dataclass(frozen=True, kw_only=True)
class Side:
    """The upper or the lower half of the cover of a binding."""

    binding: Binding
    side: str

    about = "side"

    @property
    def name(self) -> str:
        """Name this cover of the two."""
        told = (
            _("the upper cover of {binding}") if self.side == "upper" else _("the lower cover of {binding}")
        )
        return told.format(binding=self.binding.name)

    @property
    def records(self) -> tuple[str, ...]:
        """Give the records it is about."""
        return self.binding.records

    @property
    def other(self) -> Side:
        """Give the other cover."""
        return Side(binding=self.binding, side={"upper": "lower", "lower": "upper"}[self.side])


@dataclass(frozen=True, kw_only=True)
class Piece:
    """A piece by itself."""

    dossier: Dossier
    piece: Fragment

    about = "piece"

    @property
    def name(self) -> str:
        """Name the piece."""
        return quoted(self.piece.display_title)

    @property
    def records(self) -> tuple[str, ...]:
        """Give the record it is about."""
        return (self.piece.id,)


@dataclass(frozen=True, kw_only=True)
class Together:
    """Two pieces that lie on each other on one plane of a volume at a stage."""

    dossier: Dossier
    one: SceneItem
    two: SceneItem
    where: str

    about = "together"

    @property
    def name(self) -> str:
        """Name both."""
        return _("{one} and {two}, {where}").format(
            one=quoted(self.one.name), two=quoted(self.two.name), where=self.where
        )

    @property
    def records(self) -> tuple[str, ...]:
        """Give the records it is about."""
        return self.one.piece, self.two.piece


@dataclass(frozen=True, kw_only=True)
class Written:
    """Two pieces with writing, wherever they are, that may come from one book."""

    dossier: Dossier
    one: Fragment
    two: Fragment

    about = "written"

    @property
    def name(self) -> str:
        """Name both."""
        return _("{one} and {two}").format(
            one=quoted(self.one.display_title), two=quoted(self.two.display_title)
        )

    @property
    def records(self) -> tuple[str, ...]:
        """Give the records it is about."""
        return self.one.id, self.two.id


Subject = Binding | Side | Piece | Together | Written


def subjects_of_host(dossier: Dossier, host: HostVolume) -> Iterator[Subject]:
    """Give all that readings of a volume can be about: its binding, its two covers, its pieces."""
    binding = binding_of(dossier, host)
    yield binding
    for side in ("upper", "lower"):
        yield Side(binding=binding, side=side)
    for life in lives_at_host(dossier, host.id):
        if any(stay.host == host.id for stay in life.stays) and (piece := dossier.piece(life.piece)):
            yield Piece(dossier=dossier, piece=piece)
    yield from together_in(dossier, host)


def subjects_of_piece(dossier: Dossier, piece: Fragment) -> Iterator[Subject]:
    """Give all that readings of a piece can be about: itself, the bindings it covers, what lay on it."""
    yield Piece(dossier=dossier, piece=piece)
    for record in dossier.records.values():
        match record:
            case HostVolume() if any(
                e in dossier.events_of_piece(piece.id) for e in dossier.events_at_host(record.id)
            ):
                binding = binding_of(dossier, record)
                if binding.cover and binding.cover.piece == piece.id:
                    yield binding
                    yield from (Side(binding=binding, side=side) for side in ("upper", "lower"))
                yield from (pair for pair in together_in(dossier, record) if piece.id in pair.records)
            case Fragment() if record.id != piece.id and record.line_pitch and piece.line_pitch:
                yield Written(dossier=dossier, one=piece, two=record)


def binding_of(dossier: Dossier, host: HostVolume) -> Binding:
    """Set a volume out at the last stage at which its cover is in place, or the last that has come about."""
    scenes = [scene_of(dossier, host.id, number) for number in reversed(_stages(dossier, host))]
    for scene in scenes:
        plane = scene.plane(OUTSIDE)
        cover = next((i for i in plane.items if i.is_sheet and i.function in COVERS), None) if plane else None
        if cover:
            return Binding(dossier=dossier, host=host, scene=scene, plane=plane, cover=cover)
    return Binding(dossier=dossier, host=host, scene=scenes[0])


def together_in(dossier: Dossier, host: HostVolume) -> Iterator[Together]:
    """Give every two pieces that lie on each other, once each, at the first stage at which they do."""
    found: set[frozenset[str]] = set()
    for number in _stages(dossier, host):
        for plane in scene_of(dossier, host.id, number).planes:
            for one, two in combinations([item for item in plane.items if wormholes(item)], 2):
                pair = frozenset({one.piece, two.piece})
                if len(pair) == 2 and pair not in found and overlap(one, two) > OVERLAP_MM2:
                    found.add(pair)
                    yield Together(dossier=dossier, one=one, two=two, where=plane.plane.phrase)
            yield from _holed_on_plain(dossier, plane, found)


def _holed_on_plain(dossier: Dossier, plane: ScenePlane, found: set[frozenset[str]]) -> Iterator[Together]:
    """Give pieces with wormholes that lie on others whose traces are recorded, and have none."""
    for one, two in permutations(plane.items, 2):
        pair = frozenset({one.piece, two.piece})
        if not wormholes(one) or wormholes(two) or not two.features or len(pair) < 2 or pair in found:
            continue
        if overlap(one, two) > OVERLAP_MM2:
            found.add(pair)
            yield Together(dossier=dossier, one=one, two=two, where=plane.plane.phrase)


def overlap(one: SceneItem, two: SceneItem) -> float:
    """Give the area in mm2 that two pieces share on their plane; 0 where an outline is not known."""
    if one.outline is None or two.outline is None or not (one.measured and two.measured):
        return 0.0
    return float(one.outline.intersection(two.outline).area)


def wormholes(item: SceneItem) -> list[SceneFeature]:
    """Give the wormholes of a piece in place."""
    return [trace for trace in item.features if trace.kind == "wormhole" and len(trace.points) == 1]


def _stages(dossier: Dossier, host: HostVolume) -> list[int]:
    states = states_of(dossier, host.id, lives_at_host(dossier, host.id))
    reached = [state.number for state in states if not state.is_planned]
    return reached or [states[0].number]
