"""A trailing tip, simulated: nothing here knows how our holder paths are made.

The tip hangs behind the axis on a rigid arm of length `arm` and cannot slip sideways, so it
moves along the arm. If the axis moves in the direction φ and the arm points in the direction θ,
both from the x axis, then dθ/ds = sin(φ − θ)/arm per millimetre that the axis moves. That is
integrated with the classical fourth-order Runge–Kutta method.
Source: the tractrix, as any textbook on curves has it.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

from cutlayers.geometry.transforms import Point

STEPS_PER_ARM = 12
"""Steps while the axis moves as far as the arm is long: good to a millionth of the arm."""


def trail(axis: Sequence[Point], arm: float, pointing_rad: float) -> list[Point]:
    """Where the tip goes while the axis follows straight pieces through the given points.

    The arm points from the tip to the axis, at first in the direction `pointing_rad`.
    """
    theta = pointing_rad
    tips = [_tip(axis[0], arm, theta)]
    for (x0, y0), (x1, y1) in itertools.pairwise(axis):
        length = math.hypot(x1 - x0, y1 - y0)
        if not length:
            continue
        phi = math.atan2(y1 - y0, x1 - x0)
        count = math.ceil(length / arm * STEPS_PER_ARM)
        step = length / count / arm
        for number in range(1, count + 1):
            k1 = math.sin(phi - theta)
            k2 = math.sin(phi - theta - step * k1 / 2)
            k3 = math.sin(phi - theta - step * k2 / 2)
            k4 = math.sin(phi - theta - step * k3)
            theta += step * (k1 + 2 * k2 + 2 * k3 + k4) / 6
            share = number / count
            tips.append(_tip((x0 + share * (x1 - x0), y0 + share * (y1 - y0)), arm, theta))
    return tips


def _tip(axis: Point, arm: float, theta: float) -> Point:
    return axis[0] - arm * math.cos(theta), axis[1] - arm * math.sin(theta)
