"""How a plane of a volume is named in an address or a command: `cover-inside`, `fold-3`, `leaf-12-recto`."""

from __future__ import annotations

from guardbook.binding.planes import PLANES, PlaneName
from guardbook.errors import WrongUse
from guardbook.records import terms
from guardbook.wording import _

# an example of each kind, for a person who has to name one
_EXAMPLES = {"gathering": "3", "leaf": "12", "leaf_side": "recto", "side": "upper"}


def plane_key(plane: PlaneName) -> str:
    """Name a plane in one word.

    >>> plane_key(PlaneName("fold", gathering=3))
    'fold-3'
    """
    parts = [getattr(plane, name) for name in plane.axes.named_by]
    return "-".join(str(part) for part in (plane.plane, *parts) if part is not None)


def plane_called(key: str) -> PlaneName:
    """Give the plane of a name, as `plane_key` writes it. Raises WrongUse, telling the names there are."""
    slug = max((slug for slug in PLANES if key == slug or key.startswith(f"{slug}-")), key=len, default=None)
    if slug is None:
        raise _unknown(key)
    names = PLANES[slug].named_by
    parts = key[len(slug) + 1 :].split("-") if len(key) > len(slug) else []
    if len(parts) != len(names):
        raise _unknown(key)
    values = {name: _value(name, part) for name, part in zip(names, parts, strict=True)}
    if None in values.values():
        raise _unknown(key)
    return PlaneName(slug, **values)  # type: ignore[arg-type]  # each value is what its name takes


def _value(name: str, part: str) -> int | str | None:
    if name in {"gathering", "leaf"}:
        return int(part) if part.isascii() and part.isdigit() and int(part) else None
    scheme = {"leaf_side": "leaf-side", "side": "side"}[name]
    return part if part in terms.of_scheme(scheme) else None


def _unknown(key: str) -> WrongUse:
    known = ("-".join([axes.slug, *(_EXAMPLES[name] for name in axes.named_by)]) for axes in PLANES.values())
    told = _("There is no plane called {name}. Planes are called: {names}.")
    return WrongUse(message=told.format(name=repr(key), names=", ".join(known)))
