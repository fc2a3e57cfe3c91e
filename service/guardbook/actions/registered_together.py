"""What a registration makes beside what is typed: what its records are of, a new stage, its photographs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from guardbook import settings
from guardbook.actions.photographs import Photograph, document_of
from guardbook.catalogue.access import Access
from guardbook.intake.form_texts import Texts, one_text, rows_in
from guardbook.records.host import HostVolume

Document = dict[str, Any]
NEW_STAGE = "new:after-treatment"
# the field of a separation that names the photographs of a moment
_IMAGES = {"in-place": "imagesBefore", "during-lifting": "imagesDuring", "after-lifting": "imagesAfter"}
# what stands in the form before anything is said of a separation
_SAYS_NOTHING = frozenset({"separation.stage", "separation.piece", "separation.host", "separation.undoes"})


def makes_separation(texts: Texts) -> bool:
    """Tell whether anything is said of a separation, beside what the form says by itself."""
    said = (key for key in texts if key.startswith("separation.") and key not in _SAYS_NOTHING)
    return any(text.strip() for key in said for text in texts[key])


def bound(access: Access, texts: Texts) -> dict[str, tuple[str, ...]]:
    """Give the texts with what the form says by itself: which piece, volume and placing its events are of."""
    host = one_text(texts, "host")
    laid = {**texts, "separation.piece": texts["id.fragment"]}
    if host == "unknown":
        return laid
    placing = {"placing.piece": texts["id.fragment"], "placing.host": texts["id.host"]}
    separation = {"separation.host": texts["id.host"], "separation.undoes": texts["id.placing"]}
    if one_text(texts, "separation.stage") == NEW_STAGE:
        stage = f"{one_text(texts, 'id.host')}#stage-{next_stage(access, texts)}"
        separation["separation.stage"] = (stage,)
    return {**laid, **placing, **separation}


def next_stage(access: Access, texts: Texts) -> int:
    """Give the number of the stage after the last, as the volume was when the form was begun."""
    iri = settings.current().base + one_text(texts, "id.host")
    if one_text(texts, "host") == "new" or not access.has(iri):
        rows = [f"host.stages.{at}" for at in rows_in(texts, "host.stages")]
        return _after([one_text(texts, f"{row}.{key}") for row in rows for key in ("number", "id")])
    started_from, kept = one_text(texts, "from.host"), access.record(iri)
    if started_from.isdecimal() and 1 <= int(started_from) < kept.revision:
        kept = access.at_revision(iri, int(started_from))
    stages = kept.record.stages if isinstance(kept.record, HostVolume) else ()
    return _after([*(str(stage.number) for stage in stages), *(stage.id for stage in stages)])


def _after(named: Sequence[str]) -> int:
    """Give the number after the highest among numbers and names such as `#stage-2`."""
    numbers = [text.removeprefix("#stage-") for text in named]
    return 1 + max((int(text) for text in numbers if text.isdecimal()), default=0)


@dataclass(frozen=True)
class Together:
    """Completes the documents of a registration by each other, and adds those of the photographs."""

    texts: Texts
    photographs: Sequence[Photograph]

    def __call__(self, documents: dict[str, Document]) -> Iterator[Document]:
        """Change the documents, by role, and give those of the photographs."""
        self._stage(documents)
        for one in self.photographs:
            image = document_of(one, documents["fragment"], self.texts, self._shows(documents, one.moment))
            yield {**image, **self._made(documents, one.moment)}
            separation = documents.get("separation")
            if separation and (name := _IMAGES.get(one.moment)):
                separation[name] = [*separation.get(name, ()), image["id"]]

    def _stage(self, documents: dict[str, Document]) -> None:
        """Add the stage that the separation leads to, where it is a new one."""
        separation, host = documents.get("separation"), documents.get("host")
        _, sign, name = str(separation.get("stage", "")).rpartition("#") if separation else ("", "", "")
        if not sign or host is None or separation is None:
            return
        known = {str(stage["id"]).rpartition("#")[2] for stage in host.get("stages", ())}
        if name not in known and one_text(self.texts, "separation.stage").endswith(f"#{name}"):
            number = int(name.removeprefix("stage-"))
            stage = {"id": f"#{name}", "number": number, "stageKind": "after-treatment"}
            when = {"when": separation["when"]} if "when" in separation else {}
            host["stages"] = [*host.get("stages", ()), {**stage, **when}]

    def _shows(self, documents: dict[str, Document], moment: str) -> list[str]:
        piece, host = documents["fragment"]["id"], documents.get("placing", {}).get("host")
        return [piece, host] if host and moment == "in-place" else [piece]

    def _made(self, documents: dict[str, Document], moment: str) -> Document:
        """Say who took the photographs and when: whoever looked at the piece, or lifted it."""
        piece, separation = documents["fragment"], documents.get("separation", {})
        by, when = piece.get("seenBy"), piece.get("seenWhen")
        if moment != "in-place":
            by, when = next(iter(separation.get("by", ())), by), separation.get("when", when)
        return {name: value for name, value in {"by": by, "when": when}.items() if value}
