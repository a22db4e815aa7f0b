"""Our own nets come back from drawings by a careless hand: a little of `round_trips.py`, whose
whole table takes a quarter of an hour."""

from __future__ import annotations

from itertools import cycle
from typing import get_args

import pytest

from cutlayers.construction.styles import styles_by_name
from tests.bringing.careless import SLIPS, Told, Written, careless
from tests.bringing.round_trips import Case, example, outcome

TOLD: tuple[Told, ...] = ("layers", "colours", "dashes", "colours", "dashes")

SOME = [
    Case(style, slips, told, written)
    for style, slips, told, written in zip(
        styles_by_name(), cycle(("all of it", *SLIPS)), cycle(TOLD), cycle(get_args(Written))
    )
]


@pytest.mark.parametrize("case", SOME, ids=str)
def test_panels_and_hinges_come_back(case: Case) -> None:
    """Each style once, every slip, every way of telling lines apart, and every file several
    times: areas within 0.1 %, the same hinges."""
    assert outcome(case, example(styles_by_name()[case.style])) == ""


@pytest.mark.parametrize("slips", ["as drawn", "gaps"])
def test_a_box_comes_back_where_nothing_is_told(slips: str) -> None:
    """By where its lines stand alone."""
    for written in get_args(Written):
        case = Case("tuck-carton", slips, "nothing", written)
        assert outcome(case, example(styles_by_name()["tuck-carton"])) == ""


@pytest.mark.parametrize("style", ["gable-carton", "gusset-bag", "house-box", "platonic-solid"])
def test_creases_end_at_relieved_corners(style: str) -> None:
    """Corners with small holes and steps in them, at which creases run past or stop short by up to
    1.5 mm."""
    case = Case(style, "loose creases", "colours", "dxf mm")
    assert outcome(case, example(styles_by_name()[style])) == ""


def test_the_hand_is_as_careless_each_time() -> None:
    """The same seed gives the same bytes, another one others."""
    nets = example(styles_by_name()["tray"])
    first, again, other = (
        careless(nets, seed, "all of it", "layers", "svg mm").content for seed in (1, 1, 2)
    )

    assert first == again
    assert first != other
