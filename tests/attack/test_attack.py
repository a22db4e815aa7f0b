"""A short attack with the other tests; `python -m tests.attack` runs a long one."""

from __future__ import annotations

import pytest

from tests.attack.doors import DOORS
from tests.attack.watch import attempt

CASES = 8
"""Of each door, always the same; what failed once stands in PAST as well."""

PAST: tuple[tuple[str, int, int], ...] = (
    ("svg", 11, 14),
    ("profile-edit", 31, 355),
    ("scan", 31, 20),
)
"""Door, seed and number of cases that failed before they were mended."""


@pytest.mark.parametrize("number", range(CASES))
@pytest.mark.parametrize("door", DOORS)
def test_nothing_crashes_at_any_door(door: str, number: int) -> None:
    """Exit 0, 1 or 2, a sentence, nothing written on exit 2, no foreign file, no network."""
    outcome = attempt(door, 0, number)

    assert outcome.fault is None, outcome.detail


@pytest.mark.parametrize(("door", "seed", "number"), PAST)
def test_what_failed_once_holds(door: str, seed: int, number: int) -> None:
    """Each was a crash, a hang or a loss."""
    outcome = attempt(door, seed, number)

    assert outcome.fault is None, outcome.detail
