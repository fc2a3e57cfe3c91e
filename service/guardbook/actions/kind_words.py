"""What records, and parts of them, are called, in the language of the reader."""

from __future__ import annotations

import re
from collections.abc import Mapping

from guardbook.records.base import Model
from guardbook.wording import _


def kind_in_words(model: type[Model]) -> str:
    """Give the name of a model in words: HostVolume is `Host volume`."""
    name = model.__name__
    return _named().get(name) or " ".join(re.findall("[A-Z][a-z]*", name)).capitalize()


def _named() -> Mapping[str, str]:
    return {
        "Fragment": _("Fragment"),
        "HostVolume": _("Host volume"),
        "Carrier": _("Carrier"),
        "Placing": _("Placing"),
        "Separation": _("Separation"),
        "Alteration": _("Alteration"),
        "Move": _("Move"),
        "Image": _("Image"),
        "Reading": _("Reading"),
        "Decision": _("Decision"),
        "Agent": _("Agent"),
        "Institution": _("Institution"),
        "Answer": _("Answer"),
        "Feature": _("Feature"),
        "Series": _("Series"),
        "CarrierPlace": _("Carrier place"),
        "Stage": _("Stage"),
        "Plane": _("Plane"),
        "Station": _("Station"),
        "Gathering": _("Gathering"),
        "Registration": _("Registration"),
        "Position": _("Position"),
        "TiePoint": _("Tie point"),
        "Observation": _("Observation"),
        "Alternative": _("Alternative"),
        "Option": _("Option"),
        "Criterion": _("Criterion"),
        "Score": _("Score"),
    }


def kinds_in_words(model: type[Model]) -> str:
    """Give what many records of a kind are called, for headings and lists."""
    return _many().get(model.__name__) or kind_in_words(model)


def _many() -> Mapping[str, str]:
    return {
        "Fragment": _("Pieces"),
        "HostVolume": _("Volumes"),
        "Carrier": _("Cut-up books and documents"),
        "Placing": _("Placings"),
        "Separation": _("Separations"),
        "Alteration": _("Alterations"),
        "Move": _("Moves"),
        "Image": _("Images"),
        "Reading": _("Readings"),
        "Decision": _("Decisions"),
        "Agent": _("People"),
        "Institution": _("Institutions"),
    }
