"""Places that stay equally far apart, whatever whole numbers are chosen."""

from __future__ import annotations

import itertools
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutlayers.guide.alike import Extent, Ties, tied


def rows(values: list[float], *pairs: tuple[int, int]) -> list[Extent]:
    return [Extent(low, high, values[high] - values[low]) for low, high in pairs]


def steps(ties: Ties, chosen: dict[int, int]) -> list[Fraction]:
    return [sum((c * chosen[a] for a, c in each.items()), Fraction(0)) for each in ties.sums]


def exact(ties: Ties) -> list[float]:
    return [sum(float(c) * ties.values[a] for a, c in each.items()) for each in ties.sums]


@given(st.permutations(range(4)), st.lists(st.integers(1, 90), min_size=8, max_size=8))
def test_four_equal_walls_stay_equal(order: list[int], numbers: list[int]) -> None:
    """In whichever order the equalities are met, and whatever is chosen: a square tube."""
    values = [0.0, 51.1, 102.2, 153.3, 204.4]
    walls = rows(values, *((i, i + 1) for i in range(4)))
    ties = tied(values, [0], [walls[i] for i in order], [0.0, 9.0, 9.0, 9.0, 1.0], 1e-6)
    at = steps(ties, dict(zip(ties.values, numbers, strict=False)))

    assert len({b - a for a, b in itertools.pairwise(at)}) == 1
    assert all(place.denominator == 1 for place in at)
    assert exact(ties) == pytest.approx(values)


def test_a_middle_may_fall_half_way() -> None:
    """Two halves of a panel stay halves without making the panel even."""
    values = [0.0, 20.5, 41.0]
    ties = tied(values, [0], rows(values, (0, 1), (1, 2)), [9.0, 1.0, 9.0], 1e-6)

    assert steps(ties, {2: 7}) == [0, Fraction(7, 2), 7]


def test_a_fold_of_weight_never_falls_half_way() -> None:
    """Where the middle carries the longer fold, the panel becomes even instead."""
    values = [0.0, 20.5, 41.0]
    ties = tied(values, [0], rows(values, (0, 1), (1, 2)), [9.0, 9.0, 1.0], 1e-6)
    (amount,) = ties.values

    assert [place.denominator for place in steps(ties, {amount: 7})] == [1, 1, 1]


def test_amounts_are_chosen_anew_where_no_place_can_give_way() -> None:
    """Three widths of one panel are two of another: both become multiples of a new amount."""
    values = [0.0, 30.0, 60.0, 90.0, 45.0]
    pairs = rows(values, (0, 1), (1, 2), (2, 3), (0, 4))
    pairs.append(Extent(4, 3, 45.0))
    ties = tied(values, [0], pairs, [9.0] * 5, 1e-6)

    assert len(ties.values) == 1
    at = steps(ties, dict.fromkeys(ties.values, 5))
    assert at[3] - at[2] == at[2] - at[1] == at[1] and 2 * at[4] == at[3]
    assert exact(ties) == pytest.approx(values)


def test_long_rows_are_rounded_each_by_itself() -> None:
    """Twenty equal cells would add up twenty roundings; past eight they are let go."""
    values = [10.3 * i for i in range(21)]
    ties = tied(values, [0], rows(values, *((i, i + 1) for i in range(20))), [9.0] * 21, 1e-6)

    assert len(ties.values) > 1
    assert max(abs(c) for each in ties.sums for c in each.values()) <= 8
