"""The table of record kinds: the word in the address, and the model."""

from __future__ import annotations

from types import MappingProxyType

from guardbook.records.agent import Agent, Institution
from guardbook.records.alteration import Alteration
from guardbook.records.base import Record
from guardbook.records.carrier import Carrier
from guardbook.records.decision import Decision
from guardbook.records.fragment import Fragment
from guardbook.records.host import HostVolume
from guardbook.records.image import Image
from guardbook.records.move import Move
from guardbook.records.placing import Placing
from guardbook.records.reading import Reading
from guardbook.records.separation import Separation

KINDS: MappingProxyType[str, type[Record]] = MappingProxyType(
    {
        model.kind: model
        for model in (
            Fragment,
            HostVolume,
            Carrier,
            Placing,
            Separation,
            Alteration,
            Move,
            Image,
            Reading,
            Decision,
            Agent,
            Institution,
        )
    }
)
EVENT_KINDS = ("placing", "separation", "alteration", "move")
