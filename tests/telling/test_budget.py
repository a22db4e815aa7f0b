"""Time and calling off, on a clock that the test turns."""

from __future__ import annotations

import pytest

from cutlayers.telling.budget import Budget
from cutlayers.telling.errors import Cancelled


class Clock:
    """Seconds that go on when they are told to."""

    def __init__(self) -> None:
        self.now = 100.0

    def __call__(self) -> float:
        return self.now


def test_time_runs_from_when_the_budget_is_made() -> None:
    clock = Clock()
    budget = Budget(5.0, clock=clock)

    assert budget.left == 5.0 and not budget.spent
    clock.now += 4.0
    assert budget.left == 1.0 and not budget.spent
    clock.now += 1.0
    assert budget.left == 0.0 and budget.spent
    clock.now += 60.0
    assert budget.left == 0.0 and budget.spent


def test_a_budget_may_count_from_earlier() -> None:
    clock = Clock()

    assert Budget(5.0, clock=clock, start=97.0).left == 2.0


def test_no_seconds_have_no_end_and_none_left_are_spent() -> None:
    clock = Clock()
    endless = Budget(clock=clock)
    clock.now += 1e9

    assert endless.left is None and not endless.spent
    assert Budget(0.0, clock=clock).spent


def test_work_that_is_called_off_raises_whatever_time_is_left() -> None:
    gone = False
    budget = Budget(5.0, cancel=lambda: gone, clock=Clock())
    budget.check()
    assert not budget.spent

    gone = True
    with pytest.raises(Cancelled):
        budget.check()
    with pytest.raises(Cancelled):
        _ = budget.spent
