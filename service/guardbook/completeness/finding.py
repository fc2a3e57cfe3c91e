"""One validation result, in the words of SHACL (W3C Recommendation 2017, section 3.6.2)."""

from __future__ import annotations

from dataclasses import dataclass

from guardbook.completeness.paths import Path
from guardbook.completeness.shape_files import SHACL

VIOLATION = SHACL + "Violation"
WARNING = SHACL + "Warning"


@dataclass(frozen=True, kw_only=True)
class Finding:
    """One validation result: the node, the path, how grave it is, which constraint of which shape failed.

    `limit` is what the shape says of the constraint, such as the 1 of `sh:minCount 1`.
    """

    focus: str
    path: Path | None
    severity: str
    component: str
    shape: str = ""
    limit: str = ""
    value: str | None = None
    messages: tuple[str, ...] = ()

    @property
    def parameter(self) -> str:
        """Give the parameter the component is named after: `MinCountConstraintComponent` is `minCount`."""
        name = self.component.rpartition("#")[2].removesuffix("ConstraintComponent")
        return name[:1].lower() + name[1:]
