"""Places that stay equally far apart, whatever whole numbers are chosen."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutlayers.guide.alike import Extent, Ties, tied


def rows(values: list[float], *pairs: tuple[int, int]) -> list[Extent]:
    return [Extent(low, high, values[high] - values[low]) for low, high in pairs]


def steps(ties: Ties, chosen: dict[int, int]) -> list[int]:
    return [sum(c * chosen[a] for a, c in each.items()) for each in ties.sums]


def exact(ties: Ties) -> list[float]:
    return [sum(c * ties.values[a] for a, c in each.items()) for each in ties.sums]


@given(st.permutations(range(4)), st.lists(st.integers(1, 90), min_size=8, max_size=8))
def test_four_equal_walls_stay_equal(order: list[int], numbers: list[int]) -> None:
    """In whichever order the equalities are met, and whatever is chosen: a square tube."""
    values = [0.0, 51.1, 102.2, 153.3, 204.4]
    walls = rows(values, *((i, i + 1) for i in range(4)))
    ties = tied(values, [0], [walls[i] for i in order], [0.0, 9.0, 9.0, 9.0, 1.0], 1e-6)
    at = steps(ties, dict(zip(ties.values, numbers, strict=False)))

    assert len({b - a for a, b in itertools.pairwise(at)}) == 1
    assert exact(ties) == pytest.approx(values)


@pytest.mark.parametrize("weight", [[9.0, 1.0, 9.0], [9.0, 9.0, 1.0]])
def test_a_middle_lies_on_a_division(weight: list[float]) -> None:
    """Two halves of a panel stay halves, and the panel becomes an even number of divisions,
    whichever of its folds is the longer."""
    values = [0.0, 20.5, 41.0]
    ties = tied(values, [0], rows(values, (0, 1), (1, 2)), weight, 1e-6)

    (amount,) = ties.values
    assert steps(ties, {amount: 7}) == [0, 7, 14]


def test_rounding_does_not_add_up_in_a_panel() -> None:
    """Five equal cells along a panel of 75 mm would make it 72.5 or 77.5 on half millimetres, were
    they kept equal; it stays 75."""
    values = [0.0, 15.2, 30.4, 45.6, 60.8, 75.0, 76.0]
    cells = rows(values, *((i, i + 1) for i in range(4)))
    ties = tied(values, [0], [*cells, *rows(values, (0, 4))], [9.0] * 7, 1e-6)

    assert len(ties.values) > 3


def test_long_rows_are_rounded_each_by_itself() -> None:
    """Twenty equal cells would add up twenty roundings; past eight they are let go."""
    values = [10.3 * i for i in range(21)]
    ties = tied(values, [0], rows(values, *((i, i + 1) for i in range(20))), [9.0] * 21, 1e-6)

    assert len(ties.values) > 1
    assert max(abs(c) for each in ties.sums for c in each.values()) <= 8
