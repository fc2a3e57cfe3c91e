"""Weights and scores: the ranking, and exactly which weight would change it."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from guardbook.evidence.weighing import Change, Weighing, complete

OPTIONS, CRITERIA = ("stay", "lift", "part"), ("access", "evidence", "risk")

numbers = st.fractions(0, 9, max_denominator=4)
weighings = st.builds(
    Weighing,
    st.fixed_dictionaries(dict.fromkeys(CRITERIA, numbers)),
    st.fixed_dictionaries(dict.fromkeys(OPTIONS, st.fixed_dictionaries(dict.fromkeys(CRITERIA, numbers)))),
)


def reweighed(weighing: Weighing, change: Change, to: Fraction) -> Weighing:
    """Give the same scores with another weight of the criterion of a change."""
    return Weighing({**weighing.weights, change.criterion: to}, weighing.scores)


def place(weighing: Weighing, option: str) -> int:
    return next(at for at, names in enumerate(weighing.ranking()) if option in names)


def simple(**weights: int) -> Weighing:
    """Weigh two options, of which one is safe and the other gives access."""
    scores = {"stay": {"access": 0, "risk": 5}, "lift": {"access": 4, "risk": 2}}
    return Weighing(
        {name: Fraction(weight) for name, weight in weights.items()},
        {option: {name: Fraction(value) for name, value in row.items()} for option, row in scores.items()},
    )


def test_the_better_option_by_the_weights_comes_first() -> None:
    assert simple(access=1, risk=2).ranking() == (("stay",), ("lift",))
    assert simple(access=3, risk=2).ranking() == (("lift",), ("stay",))


def test_the_change_that_would_turn_the_ranking_is_told_exactly() -> None:
    """Worked out by hand: 2*5 = 4a + 2*2 gives a = 3/2; 5r = 4 + 2r gives r = 4/3."""
    found = {change.criterion: change for change in simple(access=1, risk=2).changes()}
    assert found["access"].to == Fraction(3, 2)
    assert found["access"].by == Fraction(1, 2)
    assert found["risk"].to == Fraction(4, 3)
    assert all(change.first for change in found.values())


def test_equal_worth_stands_together() -> None:
    assert simple(access=3, risk=4).ranking() == (("stay", "lift"),)


def test_no_weight_is_ever_asked_to_go_below_nothing() -> None:
    assert [change.to for change in simple(access=0, risk=1).changes()] == [Fraction(3, 4), Fraction()]


@given(weighings)
def test_at_a_change_two_options_are_of_equal_worth_and_beyond_it_the_other_is_ahead(
    weighing: Weighing,
) -> None:
    for change in weighing.changes():
        there = reweighed(weighing, change, change.to)
        assert there.sum_of(change.ahead) == there.sum_of(change.behind)
        assert weighing.sum_of(change.ahead) > weighing.sum_of(change.behind)
        beyond = change.to + change.by / 1000
        if beyond >= 0:
            after = reweighed(weighing, change, beyond)
            assert after.sum_of(change.behind) > after.sum_of(change.ahead)


@given(weighings, st.fractions(0, 1, max_denominator=64))
def test_before_the_nearest_change_the_order_stays(weighing: Weighing, share: Fraction) -> None:
    untied = len(weighing.ranking()) == len(OPTIONS)
    for criterion in CRITERIA:
        for sign in (1, -1):
            there = [c for c in weighing.changes() if c.criterion == criterion and c.by * sign > 0]
            if there and untied and share < 1:
                nearest = min(there, key=lambda change: abs(change.by))
                on_the_way = reweighed(weighing, nearest, nearest.weight + nearest.by * share)
                assert on_the_way.ranking() == weighing.ranking()


@given(weighings)
def test_a_change_for_the_first_place_brings_a_new_option_to_it(weighing: Weighing) -> None:
    for change in weighing.changes():
        there = reweighed(weighing, change, change.to)
        assert change.first == (place(weighing, change.behind) > 0 and place(there, change.behind) == 0)


@given(weighings, st.fractions(1, 9, max_denominator=3))
def test_only_the_proportions_of_weights_matter(weighing: Weighing, times: Fraction) -> None:
    larger = Weighing({name: weight * times for name, weight in weighing.weights.items()}, weighing.scores)
    assert larger.ranking() == weighing.ranking()
    assert [larger.worth(option) for option in OPTIONS] == [weighing.worth(option) for option in OPTIONS]


def test_a_criterion_without_a_score_for_every_option_is_left_out_and_named() -> None:
    weights = {"access": Fraction(1), "risk": Fraction(2)}
    scores = {("stay", "risk"): Fraction(5), ("lift", "risk"): Fraction(2), ("stay", "access"): Fraction(1)}
    weighing, left_out = complete(weights, scores, ["stay", "lift"])
    assert (list(weighing.weights), left_out) == (["risk"], ("access",))
