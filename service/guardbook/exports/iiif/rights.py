"""Who holds the rights, under which licence, and who took the pictures, in the words of IIIF."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any

from guardbook.binding.dossier import Dossier
from guardbook.records.agent import Agent
from guardbook.records.image import Image

_CREATIVE_COMMONS = re.compile(
    r"https?://(?:www\.)?creativecommons\.org/((?:licenses|publicdomain)/[a-z-]+/\d\.\d)(?:/.*)?"
)
_RIGHTS_STATEMENTS = re.compile(
    r"https?://(?:www\.)?rightsstatements\.org/(?:vocab|page)/([A-Za-z-]+/\d\.\d)(?:/.*)?"
)


def rights_of(licence: str | None) -> str | None:
    """Give a licence as `rights` may have it; None for one that is neither of those IIIF allows.

    Source: IIIF Presentation 3.0, `rights`: the machine's URIs of both begin with http.

    >>> rights_of("https://creativecommons.org/licenses/by/4.0/deed.ca")
    'http://creativecommons.org/licenses/by/4.0/'
    """
    if found := _CREATIVE_COMMONS.fullmatch(licence or ""):
        return f"http://creativecommons.org/{found[1]}/"
    if found := _RIGHTS_STATEMENTS.fullmatch(licence or ""):
        return f"http://rightsstatements.org/vocab/{found[1]}/"
    return None


def statement(holders: Iterable[str | None], pictures: Iterable[Image], dossier: Dossier) -> Any:
    """Give the required statement: each holder of rights once, and who made the pictures; None for nobody."""
    makers = [dossier.records.get(image.by or "") for image in pictures]
    names = dict.fromkeys(maker.display_title for maker in makers if isinstance(maker, Agent))
    said = list(dict.fromkeys(filter(None, holders)))
    said += [f"Pictures made by {', '.join(names)}"] if names else []
    return {"label": {"en": ["Rights"]}, "value": {"en": said}} if said else None
