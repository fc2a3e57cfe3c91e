"""Random networks of times: sense and nonsense, with dates on some events and orders between others."""

from __future__ import annotations

from hypothesis import strategies as st

from guardbook.evidence.network import ORIGIN, Bound, Network

EVENTS = (ORIGIN, *"abcdefg")


@st.composite
def bounds(draw: st.DrawFn, *, shared: bool = False) -> tuple[Bound, ...]:
    """Draw bounds, each of a statement of its own, or, if `shared`, several of one statement."""
    pairs = st.tuples(st.sampled_from(EVENTS), st.sampled_from(EVENTS)).filter(
        lambda pair: pair[0] != pair[1]
    )
    drawn = draw(st.lists(st.tuples(pairs, st.integers(-20, 20)), min_size=1, max_size=18))
    names = st.integers(0, 5) if shared else st.none()
    return tuple(
        Bound(before, after, at_least, f"statement {draw(names) if shared else at}")
        for at, ((before, after), at_least) in enumerate(drawn)
    )


def networks(*, shared: bool = False) -> st.SearchStrategy[Network]:
    """Draw networks, of which about half hold together."""
    return bounds(shared=shared).map(Network.of)
