"""Every trial's estimate against simulated readings whose truth is known."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest

from cutlayers.geometry.strokes import Operation
from cutlayers.trials import KINDS, trial
from cutlayers.trials.ladder import setting_rungs, step_of
from cutlayers.trials.model import Readings, Setup
from cutlayers.trials.statistics import student_95
from tests.trials.machines import SETUPS

SIMULATIONS = 1000
Rng = np.random.Generator
Simulation = Callable[[Rng, Setup], tuple[Readings, dict[str, float]]]


def read(rng: Rng, truth: float, noise: float, finest: float) -> float:
    """A length as a person reads it: with an error, rounded to what the ruler shows."""
    return round((truth + rng.normal(0.0, noise)) / finest) * finest


def first_rung(rng: Rng, truth: float, rungs: tuple[float, ...], noise: float) -> float:
    """The lowest rung that is enough, by a judgement that errs."""
    wanted = truth + rng.normal(0.0, noise)
    return next((rung for rung in rungs if rung >= wanted), rungs[-1])


def last_rung(rng: Rng, truth: float, rungs: tuple[float, ...], noise: float) -> float:
    """The highest rung that is not too much."""
    wanted = truth + rng.normal(0.0, noise)
    return next((rung for rung in reversed(rungs) if rung <= wanted), rungs[0])


def kerf(rng: Rng, _setup: Setup) -> tuple[Readings, dict[str, float]]:
    """Gaps are cuts × kerf: 11, 21 and 11 parallel cuts, counted on the sheet."""
    truth = rng.uniform(0.08, 0.4)
    gaps = {
        name: tuple(read(rng, cuts * truth, 0.12, 0.05) for _ in range(2))
        for name, cuts in (("A", 11), ("B", 21), ("C", 11))
    }
    return gaps, {"kerf": truth}


def offset(rng: Rng, _setup: Setup) -> tuple[Readings, dict[str, float]]:
    """People pick the star nearest to the truth, and err by half a step."""
    truth = rng.uniform(0.15, 0.4)
    picks = tuple(max(0.0, read(rng, truth, 0.025, 0.05)) for _ in range(3))
    return {"offset": picks}, {"offset": truth}


def window(
    rng: Rng, rungs: tuple[float, ...], names: tuple[str, str], key: str
) -> tuple[Readings, dict[str, float]]:
    """A lower and an upper threshold; the value to use is the middle."""
    step = step_of(rungs)
    low = rng.uniform(rungs[1], rungs[2])
    high = rng.uniform(rungs[-3], rungs[-2])
    noise = 0.4 * step
    readings = {
        names[0]: tuple(first_rung(rng, low, rungs, noise) for _ in range(3)),
        names[1]: tuple(last_rung(rng, high, rungs, noise) for _ in range(3)),
    }
    return readings, {key: (low + high) / 2}


def settings(rng: Rng, setup: Setup) -> tuple[Readings, dict[str, float]]:
    """Cutting begins at one force, harm at another."""
    _name, rungs = setting_rungs(setup, Operation.CUT, 8)
    return window(rng, rungs, ("first", "last"), "force")


def perforation(rng: Rng, _setup: Setup) -> tuple[Readings, dict[str, float]]:
    """Ties hold from one width on and tear up to another."""
    rungs = tuple(round(0.4 + 0.2 * index, 1) for index in range(8))
    return window(rng, rungs, ("holds", "tears"), "tie")


def score(rng: Rng, setup: Setup) -> tuple[Readings, dict[str, float]]:
    """The four kinds of fold each find the best rung, with half a step of error."""
    _name, rungs = setting_rungs(setup, Operation.SCORE, 6)
    step = step_of(rungs)
    truth = rng.uniform(rungs[1], rungs[-2])

    def pick() -> float:
        wanted = truth + rng.normal(0.0, 0.5 * step)
        return min(rungs, key=lambda rung: abs(rung - wanted))

    return {way: (pick(),) for way in ("MA", "VA", "MX", "VX")}, {"force": truth}


FOLDED_WIDTHS = (20.0, 23.1, 26.2, 29.3, 32.4)
"""mm between the creases of the strips, as the sheet says."""


def folded(rng: Rng, caliper: float, share: float, noise: float, finest: float) -> Readings:
    """Ten strips of one card, folded up, and measured outside with a tool that errs and rounds: the
    legs stand (1 − share) of the caliper outside of the creases, at both ends."""
    outside = 2 * (1 - share) * caliper
    strips = {
        f"{group}{number}": (read(rng, width + outside, noise, finest),)
        for group in "AX"
        for number, width in enumerate(FOLDED_WIDTHS, start=1)
    }
    return {"S": tuple(read(rng, 10 * caliper, noise, finest) for _ in range(2)), **strips}


def fold(rng: Rng, _setup: Setup) -> tuple[Readings, dict[str, float]]:
    """Card of any thickness and fold, by whoever has calipers or a ruler."""
    caliper, share = rng.uniform(0.4, 2.0), rng.uniform(0.1, 0.8)
    tool = (0.08, 0.05) if rng.random() < 0.5 else (0.15, 0.5)
    return folded(rng, caliper, share, *tool), {"take_up": share}


def pen(rng: Rng, _setup: Setup) -> tuple[Readings, dict[str, float]]:
    """A block is solid up to the width of the line."""
    rungs = tuple(round(0.2 + 0.1 * index, 1) for index in range(12))
    truth = rng.uniform(0.4, 1.0)
    return {"solid": tuple(last_rung(rng, truth, rungs, 0.05) for _ in range(3))}, {
        "line_width": truth
    }


def register(rng: Rng, setup: Setup) -> tuple[Readings, dict[str, float]]:
    """Crosses land shifted, turned about the card's middle and a little larger."""
    from cutlayers.trials.register import _places  # where the sheet's scales stand

    places = _places(setup)
    cx = sum(x for x, _ in places.values()) / len(places)
    cy = sum(y for _, y in places.values()) / len(places)
    dx, dy = rng.uniform(-1, 1, 2)
    turn, scale = rng.normal(0.0, 0.002), rng.normal(0.0, 0.002)
    readings = {}
    for name, (x, y) in places.items():
        u, v = x - cx, y - cy
        readings[f"x{name}"] = (read(rng, dx - turn * v + scale * u, 0.12, 0.1),)
        readings[f"y{name}"] = (read(rng, dy + turn * u + scale * v, 0.12, 0.1),)
    return readings, {"shift_x": dx, "shift_y": dy}


def squareness(rng: Rng, setup: Setup) -> tuple[Readings, dict[str, float]]:
    """The corners of a rectangle where the machine really puts them; distances between them."""
    from cutlayers.trials.squareness import _sides

    wide, high = _sides(setup)
    a, b = 1 + rng.normal(0.0, 0.004, 2)
    skew = rng.normal(0.0, 0.2)
    lean = math.radians(skew)
    corner = {1: (0.0, 0.0), 2: (a * wide, 0.0)}
    up = (b * high * math.sin(lean), b * high * math.cos(lean))
    corner[3] = up
    corner[4] = (a * wide + up[0], up[1])
    ends = {
        "bottom": (1, 2),
        "top": (3, 4),
        "left": (1, 3),
        "right": (2, 4),
        "rising": (1, 4),
        "falling": (2, 3),
    }
    readings = {
        name: tuple(read(rng, math.dist(corner[one], corner[other]), 0.2, 0.1) for _ in range(2))
        for name, (one, other) in ends.items()
    }
    return readings, {"x_scale": a, "y_scale": b, "skew_deg": skew}


SIMULATED: dict[str, Simulation] = {
    "kerf": kerf,
    "offset": offset,
    "settings": settings,
    "score": score,
    "fold": fold,
    "perforation": perforation,
    "register": register,
    "pen": pen,
    "squareness": squareness,
}


def test_every_trial_is_simulated() -> None:
    """A new trial must be put to the test."""
    assert list(SIMULATED) == list(KINDS)


@pytest.mark.parametrize("kind", SIMULATED)
def test_intervals_hold_the_truth(kind: str) -> None:
    """The 95 % interval holds the truth in 90 to 99 of 100 simulations, and the mean error is far
    less than the interval."""
    rng = np.random.default_rng(20260301)
    found, setup = trial(kind), SETUPS[kind]
    hits: dict[str, int] = {}
    errors: dict[str, list[float]] = {}
    halves: dict[str, list[float]] = {}
    for _ in range(SIMULATIONS):
        readings, truth = SIMULATED[kind](rng, setup)
        outcome = found.estimate(setup, readings)
        for result in outcome.results:
            name = result.key[-1]
            error = result.value - truth[name]
            assert result.half is not None
            hits[name] = hits.get(name, 0) + (abs(error) <= result.half)
            errors.setdefault(name, []).append(error)
            halves.setdefault(name, []).append(result.half)
    for name, count in hits.items():
        assert 0.90 * SIMULATIONS <= count <= 0.99 * SIMULATIONS, (name, count)
        assert abs(np.mean(errors[name])) < 0.2 * np.mean(halves[name]), name


@pytest.mark.parametrize(
    ("freedom", "point"),
    # NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2, column 0.975.
    [(1, 12.706), (2, 4.303), (5, 2.571), (10, 2.228), (30, 2.042), (40, 2.021), (100, 1.984)],
)
def test_student_is_the_table(freedom: int, point: float) -> None:
    """The points of Student's t are the published ones."""
    assert student_95(freedom) == pytest.approx(point, abs=5e-4)


def test_kerf_by_hand() -> None:
    """Two combs: (11·1.1 + 21·2.1)/(11² + 21²) = 56.2/562 = 0.1."""
    outcome = trial("kerf").estimate(SETUPS["kerf"], {"A": (1.1,), "B": (2.1,)})

    assert outcome.results[0].value == pytest.approx(0.1)


@pytest.mark.parametrize(
    ("noise", "finest"),
    [(0.05, 0.01), (0.08, 0.05), (0.15, 0.5)],
    ids=["good calipers", "calipers", "ruler"],
)
@pytest.mark.parametrize("caliper", [0.3, 1.0, 2.0])
@pytest.mark.parametrize("share", [-0.1, 0.3, 0.5, 0.9])
def test_a_crease_is_found_by_whatever_it_is_measured_with(
    noise: float, finest: float, caliper: float, share: float
) -> None:
    """The stated 95 % hold for every card, crease and tool: of 400 simulated trials 367 at least
    hold the truth (380, less three standard deviations of such a count), and not all of them."""
    rng = np.random.default_rng(20261126)
    found, setup = trial("fold"), SETUPS["fold"]
    held = 0
    for _ in range(400):
        outcome = found.estimate(setup, folded(rng, caliper, share, noise, finest))
        (result,) = outcome.results
        assert result.half is not None
        held += abs(result.value - share) <= result.half

    assert 367 <= held < 400


def test_fold_by_hand() -> None:
    """Card of 1 mm whose strips of 20, 23.1 and 26.2 measure 1.4 mm more outside: at each end 0.7
    stands outside of the crease, so the crease takes 0.3."""
    readings = {"S": (10.0,), "A1": (21.4,), "A2": (24.5,), "X3": (27.6,)}
    outcome = trial("fold").estimate(SETUPS["fold"], readings)

    (result,) = outcome.results
    assert result.key == ("materials", "kraft-270", "fold", "take_up")
    assert result.value == pytest.approx(0.3)
    assert any("1.00 ± " in remark for remark in outcome.remarks)


def test_a_crease_that_nobody_can_tell_from_half_says_so() -> None:
    """0.3 mm card and a ruler: 0.5 ± 0.2 or so, which is no measure worth having."""
    rng = np.random.default_rng(1)
    outcome = trial("fold").estimate(SETUPS["fold"], folded(rng, 0.3, 0.5, 0.15, 0.5))

    assert any("no difference from half" in remark for remark in outcome.remarks)


def test_squareness_by_hand() -> None:
    """A 3-4-5 rectangle stretched by a hundredth one way: sides and diagonals by Pythagoras.

    The rectangle on this card is 270 × 270 mm; 272.7 across and 270 up make both diagonals
    √(272.7² + 270²) = 383.7516 mm.
    """
    slant = math.hypot(272.7, 270.0)
    readings = {"bottom": (272.7,), "left": (270.0,), "rising": (slant,), "falling": (slant,)}

    x, y, skew = trial("squareness").estimate(SETUPS["squareness"], readings).results

    assert (x.value, y.value) == pytest.approx((1.01, 1.0))
    assert skew.value == pytest.approx(0.0, abs=1e-9)
