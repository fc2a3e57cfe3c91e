"""Draw a volume as it was at one of its stages."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from guardbook.actions.binding_dossier import dossier_of_hosts, host_called
from guardbook.binding.dossier import Dossier
from guardbook.binding.drawing.letters import letters_of_host
from guardbook.binding.drawing.look import Look, Picture
from guardbook.binding.drawing.png import png_of
from guardbook.binding.drawing.which import DrawingName, draw, drawings_of, most_telling, telling_of, there_is
from guardbook.binding.scene import Scene, scene_of
from guardbook.binding.scene_facts import stages_come_about
from guardbook.catalogue.access import Access
from guardbook.records.image import Image


@dataclass(frozen=True)
class StageDrawn:
    """A drawing of a volume at a stage: its scene, what it is called, and what others there are.

    It is drawn when it is first asked for, since some want the scene alone.
    """

    scene: Scene
    key: str
    others: tuple[DrawingName, ...]
    look: Look
    cut_at: float | None = None

    @cached_property
    def svg(self) -> str:
        """Give it as SVG."""
        return draw(self.scene, self.key, self.look, self.cut_at)

    def narrow(self, id_prefix: str | None = None) -> str:
        """Draw the same for a screen as narrow as a phone's."""
        look = replace(self.look, narrow=True, name=id_prefix)
        return draw(self.scene, self.key, look, self.cut_at)

    def png(self, width_px: int = 1200) -> bytes:
        """Give it as PNG. Raises WrongUse for a width that cannot be made."""
        return png_of(self.svg, width_px)


def draw_stage(
    access: Access,
    name: str,
    stage: int | None = None,
    drawing: str | None = None,
    *,
    like: str | None = None,
    cut_at: float | None = None,
    narrow: bool = False,
    link: Callable[[str], str] | None = None,
    with_pictures: bool = False,
    id_prefix: str | None = None,
    marked: str | None = None,
) -> StageDrawn:
    """Draw the volume of an identifier or a workshop number at a stage by number (None: as it stands).

    `drawing` is one of the keys that `StageDrawn.others` names (None: `like` where there is one of it, else
    the plane with most pieces), `cut_at` the height of a cut in mm from the tail. `narrow` is for a screen as
    narrow as a phone's. `link` gives the address of a piece by its IRI; `with_pictures` refers to the
    pictures of pieces where they have addresses; `id_prefix` begins the ids, where several drawings stand in
    one page. `marked` is a piece (IRI) to outline boldly; without a `drawing` the plane that shows most of it
    is drawn. A piece has the same letter at all stages. Raises NotFound, Gone, NothingToDraw where no plane
    is known, and WrongUse for a record that is no volume, a stage or a drawing that there is not.
    """
    host = host_called(access, name)
    dossier = dossier_of_hosts(access, [host])
    chosen = stages_come_about(dossier, host.id)[-1] if stage is None else stage
    scene = scene_of(dossier, host.id, chosen)
    look = Look(
        narrow=narrow,
        letters=letters_of_host(dossier, host.id),
        link=link,
        pictures=pictures_in(dossier) if with_pictures else {},
        name=id_prefix,
        marked=marked,
    )
    others = drawings_of(scene)
    alike = next((one.key for one in others if one.key == like), None)
    key = drawing or alike or (marked and telling_of(scene, marked)) or most_telling(scene)
    return StageDrawn(scene, there_is(scene, key), others, look, cut_at)


def pictures_in(dossier: Dossier) -> Mapping[str, Picture]:
    """Give the pictures of a dossier that can be referred to: those with an address and a size in pixels."""
    images = (record for record in dossier.records.values() if isinstance(record, Image))
    return {
        image.id: Picture(image.address, image.pixel_width, image.pixel_height)
        for image in images
        if image.address and image.pixel_width and image.pixel_height
    }
