"""Which stage of a volume a person means by its number, its kind or its name."""

from __future__ import annotations

from collections.abc import Sequence

from guardbook.catalogue.access import Access
from guardbook.records import terms
from guardbook.records.host import HostVolume, Stage
from guardbook.wording import _, pgettext


def one_stage(stages: Sequence[Stage], wanted: str) -> Stage:
    """Give the one stage that is meant. Raises ValueError naming those there are."""
    kind = terms.slug_for("stage-kind", wanted)
    found = [
        stage
        for stage in stages
        if wanted in (str(stage.number), stage.id[1:])
        or stage.stage_kind == kind
        or terms.folded(stage.name or "") == terms.folded(wanted)
    ]
    if len(found) != 1:
        known = ", ".join(f"{stage.number} {stage.stage_kind}" for stage in stages) or pgettext(
            "stages", "none"
        )
        raise ValueError(_("one stage of the volume. It has: {stages}.").format(stages=known))
    return found[0]


def stage_meant(access: Access, wanted: str, hosts: Sequence[str]) -> str:
    """Give the IRI of the stage that is meant among those of some volumes. Raises ValueError."""
    known = [host for host in hosts if access.has(host)]
    if len(known) != 1:
        raise ValueError(_("a stage of one volume. Name the volume first, and save."))
    record = access.record(known[0]).record
    return known[0] + one_stage(record.stages if isinstance(record, HostVolume) else (), wanted).id
