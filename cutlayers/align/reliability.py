"""What a wrong reading would do: how much of it shows, and where lines then lie.

A fit has as many readings to spare as there are more of them than numbers fitted. Their share at
one reading, its *redundancy*, is how much of an error there shows as a residual: 1 all of it, 0
nothing. The shares add up to the readings to spare. What does not show goes into the fit, and with
it into every line.

Source: W. Baarda, A testing procedure for use in geodetic networks, Netherlands Geodetic
Commission 2(5), 1968 (internal and external reliability); any textbook of adjustment.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from cutlayers.align.fit import FittedMotion, Model, fit_motion
from cutlayers.frozen import frozen
from cutlayers.geometry.transforms import Point, Transform

NUMBERS: dict[Model, int] = {"similarity": 4, "axes": 5, "affine": 6}
"""How many numbers each model fits."""

STEP = 0.01
"""mm by which readings are moved to see what follows; a fit is all but linear over so little."""

UNSEEN = 0.02
"""Redundancy below which a reading is checked by nothing worth the name."""


@frozen
class Figure:
    """One way in which a print differs from true size: `value` is a share of 1, and lines lie up
    to `at_work` mm elsewhere than without it."""

    value: float
    at_work: float


@frozen
class Figures:
    """How a print differs from true size. `unequal` is the scale across less the scale up."""

    across: Figure
    up: Figure
    unequal: Figure
    shear: Figure


@frozen
class Reliability:
    """How well readings check each other.

    `redundancy` has a mark's two shares, across and up, for each mark. `if_wrong` is for each mark
    how far lines lie off, in mm, if its residual means that it is misread and the others are not.
    `unseen` is how far lines lie off for each mm that a reading is wrong which nothing checks, 0
    where all are checked.
    """

    to_spare: int
    redundancy: tuple[tuple[float, float], ...]
    if_wrong: tuple[float, ...]
    unseen: float

    @property
    def unchecked(self) -> tuple[tuple[int, str], ...]:
        """The readings that nothing checks: which of the marks, from 0, and its "x" or "y"."""
        return tuple(
            (index, axis)
            for index, shares in enumerate(self.redundancy)
            for axis, share in zip("xy", shares, strict=True)
            if share < UNSEEN
        )


def figures_of(
    fit: FittedMotion, nominal: Sequence[Point], found: Sequence[Point], work: Sequence[Point]
) -> Figures:
    """How a print differs from true size, and what each difference does to the points of the work.

    A scale is taken away about the middle of the marks, where a fit without it would lie; what is
    unequal, and a shear, by fitting without them.
    """
    middle = [math.fsum(point[way] for point in nominal) / len(nominal) for way in (0, 1)]
    far = [max((abs(point[way] - middle[way]) for point in work), default=0.0) for way in (0, 1)]
    alike = fit if fit.model == "similarity" else fit_motion("similarity", nominal, found)
    upright = fit_motion("axes", nominal, found) if fit.model == "affine" else fit
    across, up = fit.scale_across - 1.0, fit.scale_up - 1.0
    return Figures(
        Figure(across, abs(across) * far[0]),
        Figure(up, abs(up) * far[1]),
        Figure(across - up, _apart(upright.transform, alike.transform, work)),
        Figure(
            math.sin(math.radians(fit.shear_deg)),
            _apart(fit.transform, upright.transform, work),
        ),
    )


def reliability_of(
    fit: FittedMotion, nominal: Sequence[Point], found: Sequence[Point], work: Sequence[Point]
) -> Reliability:
    """How well these readings check each other for the fit's model, and what that means for the
    points of the work."""
    count = 2 * len(nominal)
    follows = _influence(fit.model, nominal, found, [*nominal, *work])
    at_marks, at_work = follows[:count], follows[count:]
    shows = np.eye(count) - at_marks
    shares = np.diag(shows)
    here = np.array([fit.transform.apply(point) for point in nominal])
    residuals = (np.array(found) - here).reshape(-1)
    if_wrong = []
    for mark in range(len(nominal)):
        own = slice(2 * mark, 2 * mark + 2)
        # The smallest error at this mark alone that leaves its residuals.
        error = np.linalg.pinv(shows[own, own], rcond=1e-3) @ residuals[own]
        if_wrong.append(_longest(at_work[:, own] @ error))
    hidden = [_longest(at_work[:, reading]) for reading in np.flatnonzero(shares < UNSEEN)]
    return Reliability(
        count - NUMBERS[fit.model],
        tuple((float(x), float(y)) for x, y in shares.reshape(-1, 2)),
        tuple(if_wrong),
        max(hidden, default=0.0),
    )


def _influence(
    model: Model, nominal: Sequence[Point], found: Sequence[Point], points: Sequence[Point]
) -> np.ndarray:
    """How far each point goes, across and up (rows), for each mm by which a reading (columns) is
    changed."""
    columns = []
    for reading in range(2 * len(found)):
        ways = []
        for step in (STEP, -STEP):
            moved = np.array(found, dtype=float)
            moved[reading // 2, reading % 2] += step
            changed = [(float(x), float(y)) for x, y in moved]
            onto = fit_motion(model, nominal, changed).transform
            ways.append(np.array([onto.apply(point) for point in points]).reshape(-1))
        columns.append((ways[0] - ways[1]) / (2.0 * STEP))
    return np.column_stack(columns)


def _longest(moves: np.ndarray) -> float:
    """The length of the longest of moves that stand as x, y, x, y, …"""
    return float(np.hypot(moves[0::2], moves[1::2]).max(initial=0.0))


def _apart(one: Transform, other: Transform, points: Sequence[Point]) -> float:
    return max((math.dist(one.apply(at), other.apply(at)) for at in points), default=0.0)
