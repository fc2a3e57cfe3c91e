"""Draw a piece by itself, face by face, as its record measures it."""

from __future__ import annotations

from collections.abc import Callable

from guardbook.actions.binding_dossier import pictures_of
from guardbook.binding.drawing.look import Look
from guardbook.binding.drawing.piece import can_be_drawn, draw_piece, faces_to_draw
from guardbook.catalogue.access import Access
from guardbook.errors import WrongUse
from guardbook.records.fragment import Fragment
from guardbook.records.image import Image
from guardbook.wording import _


def draw_piece_faces(
    access: Access,
    name: str,
    *,
    narrow: bool = False,
    link: Callable[[str], str] | None = None,
    id_prefix: str = "face",
) -> tuple[str, ...]:
    """Draw the faces of the piece of an identifier or a workshop number, each as SVG, the front first.

    The back is drawn where something is known of it alone; nothing where neither an outline nor a size is
    recorded. `narrow`, `link` and `id_prefix` are as in `draw_stage`. Raises NotFound, Gone, and WrongUse for
    a record that is no piece.
    """
    record = access.record(access.resolve(name)).record
    if not isinstance(record, Fragment):
        raise WrongUse(
            message=_("{record} is no piece. Name a piece to see it by itself.").format(record=record.short)
        )
    if not can_be_drawn(record):
        return ()
    images = [image for image in pictures_of(access, [record.id]) if isinstance(image, Image)]
    return tuple(
        draw_piece(
            record,
            images,
            Look(narrow=narrow, link=link, name=f"{id_prefix}-{'front' if front else 'back'}"),
            front=front,
        )
        for front in faces_to_draw(record, images)
    )
