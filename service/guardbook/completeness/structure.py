"""Whether a record says only what can be said: the shapes of `shapes/structure/`, answered as faults."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator

import pyoxigraph as ox

from guardbook import settings
from guardbook.completeness.engine import findings
from guardbook.completeness.finding import VIOLATION, Finding
from guardbook.completeness.literals import IllTyped, sorted_out
from guardbook.completeness.shape_files import STRUCTURE
from guardbook.completeness.terms_in_rdflib import to_graph
from guardbook.errors import Fault
from guardbook.wording import _, said_later

_EXPECTED = {
    "datatype": said_later("a literal of type {type}"),
    "nodeKind": said_later("an IRI"),
    "class": said_later("a part of this record that is a {limit}"),
    "pattern": said_later("text of the form {pattern}"),
    "in": said_later("one of the values of the list"),
    "minCount": said_later("{limit} or more values"),
    "maxCount": said_later("{limit} or fewer values"),
    "minInclusive": said_later("{limit} or more"),
    "maxInclusive": said_later("{limit} or less"),
    "minExclusive": said_later("more than {limit}"),
    "maxExclusive": said_later("less than {limit}"),
}
_AS_THE_SHAPE_SAYS = said_later("what the shape asks for")
_OF_THE_WRONG_KIND = frozenset({"datatype", "nodeKind", "class", "pattern"})


def structure_faults(quads: Iterable[ox.Quad]) -> tuple[Fault, ...]:
    """Check one or more records against the shapes of their structure.

    Gives every fault at once: what cannot be, and, as doubts, what may be right but is so rare that the
    person is asked. A value of the wrong kind is not also called too large.
    """
    good, ill = sorted_out(quads)
    found: dict[tuple[str, str, str | None], list[Finding]] = defaultdict(list)
    reported = {(one.subject, one.predicate) for one in ill}
    for finding in findings(to_graph(good), STRUCTURE):
        field = str(finding.path.iri) if finding.path else ""
        if (finding.focus, field) not in reported:
            found[finding.focus, field, finding.value].append(finding)
    faults = [_ill_typed(one) for one in ill]
    faults += [_fault(finding) for group in found.values() for finding in _gravest(group)]
    return tuple(sorted(faults, key=lambda fault: (fault.doubt, fault.where, fault.expected)))


def _gravest(group: list[Finding]) -> Iterator[Finding]:
    """Leave out what follows from something graver about the same value."""
    wrong_kind = [finding for finding in group if finding.parameter in _OF_THE_WRONG_KIND]
    certain = [finding for finding in group if finding.severity == VIOLATION]
    yield from wrong_kind[:1] or certain or group


def _ill_typed(one: IllTyped) -> Fault:
    return Fault(where=place(one.subject, one.predicate), found=repr(one.value), expected=one.expected)


def _fault(finding: Finding) -> Fault:
    doubt = finding.severity != VIOLATION
    said_by_shape = doubt or finding.parameter not in _EXPECTED
    template, limit = _EXPECTED.get(finding.parameter, _AS_THE_SHAPE_SAYS), shortened(finding.limit)
    return Fault(
        where=place(finding.focus, str(finding.path or "").strip("<>")),
        found=_("nothing") if finding.value is None else finding.value,
        expected=_(template).format(limit=limit, type=limit, pattern=limit),
        mend=" ".join(map(_, filter(None, finding.messages))) if said_by_shape else "",
        doubt=doubt,
    )


def place(subject: str, predicate: str) -> str:
    """Name a field of a record or part in messages: `fragment/7K3QM2-J#feature-2 diameter`."""
    return f"{shortened(subject)} {shortened(predicate)}".strip()


def shortened(iri: str) -> str:
    """Leave out the start of an IRI that everybody knows."""
    for start in (settings.current().base, settings.NAMESPACE, "http://www.w3.org/2001/XMLSchema#"):
        iri = iri.removeprefix(start)
    return iri
