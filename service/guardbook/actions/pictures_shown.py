"""The pictures of a piece or a volume, as a page can show them."""

from __future__ import annotations

from dataclasses import dataclass

from guardbook.actions.image_file import file_for
from guardbook.catalogue.access import Access
from guardbook.records import terms
from guardbook.records.image import Image
from guardbook.wording import _, language


@dataclass(frozen=True, kw_only=True)
class PictureShown:
    """A picture: its record, its title, what it shows in a few words, its size in pixels where that is known.

    `is_here` where its file is kept here and can be shown in a page; `address` where it is kept elsewhere.
    """

    iri: str
    title: str
    words: str
    width: int | None
    height: int | None
    is_here: bool
    address: str | None


def pictures_shown(access: Access, iri: str) -> tuple[PictureShown, ...]:
    """Give the pictures that depict a piece or volume and that this viewer may see, those kept here first."""
    named = (access.record(other).record for other in access.about(iri))
    found = [picture_shown(access, one) for one in named if isinstance(one, Image) and iri in one.depicts]
    return tuple(sorted(found, key=lambda one: (not one.is_here, one.title, one.iri)))


def picture_shown(access: Access, image: Image) -> PictureShown:
    """Give one picture as this viewer is shown it."""
    kept = file_for(access.viewer, image)
    return PictureShown(
        iri=image.id,
        title=image.display_title,
        words=_words(image),
        width=image.pixel_width,
        height=image.pixel_height,
        is_here=kept is not None and kept.media_type.startswith("image/"),
        address=image.address,
    )


def _words(image: Image) -> str:
    said = [
        terms.label(scheme, slug, language())
        for scheme, slug in (
            ("piece-face", image.face),
            ("moment", image.moment),
            ("technique", image.technique),
        )
        if slug
    ]
    dated = [image.when] if image.when else []
    more = [] if image.scale_bar_in_view is None or image.scale_bar_in_view else [_("no scale in view")]
    return ", ".join([*said, *dated, *more])
