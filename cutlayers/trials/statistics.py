"""Values and their 95 % intervals from a handful of readings.

Sources: least squares and Student's t as in the NIST/SEMATECH e-Handbook of Statistical Methods,
sections 1.3.6.7.2 (table of t) and 4.1.4.1 (linear least squares); a value known only to lie
within a step is uniform in it, as in the Guide to the Expression of Uncertainty in Measurement
(JCGM 100:2008), section 4.3.7.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from cutlayers.frozen import frozen
from cutlayers.telling.errors import TrialError
from cutlayers.telling.refusals import Refusal

_T95 = (
    *(12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228),
    *(2.201, 2.179, 2.160, 2.145, 2.131, 2.120, 2.110, 2.101, 2.093, 2.086),
    *(2.080, 2.074, 2.069, 2.064, 2.060, 2.056, 2.052, 2.048, 2.045, 2.042),
)
"""Two-sided 95 % points of Student's t for 1 to 30 degrees of freedom; same handbook."""

WITHIN_STEP = 0.475
"""Steps to both sides of a step's middle that hold 95 % of a uniform value."""


def student_95(freedom: int) -> float:
    """The two-sided 95 % point of Student's t; beyond 30 degrees of freedom a close formula.

    Source of the formula: Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.5.
    """
    if freedom < 1:
        raise ValueError("at least one degree of freedom")
    if freedom <= len(_T95):
        return _T95[freedom - 1]
    z = 1.959964
    first = (z**3 + z) / 4
    second = (5 * z**5 + 16 * z**3 + 3 * z) / 96
    return z + first / freedom + second / freedom**2


@frozen
class Estimate:
    """A value and half its 95 % interval."""

    value: float
    half: float


@frozen
class FittedModel:
    """A straight-line model fitted to readings: its values, and how far each reading lies off."""

    estimates: tuple[Estimate, ...]
    residuals: tuple[float, ...]


def least_squares(
    model: Sequence[Sequence[float]], readings: Sequence[float], least_error: float
) -> FittedModel:
    """Fit readings = model · values, all readings equally good.

    `model` has a row for each reading. The error of one reading comes from how far the readings
    lie off the fit, but is never taken to be less than `least_error` (one standard deviation),
    which is all that is known where there are no more readings than values.

    Raises TrialError where the readings do not settle the values.
    """
    import numpy as np

    matrix, read = np.array(model, dtype=float), np.array(readings, dtype=float)
    count, width = matrix.shape
    if count < width or np.linalg.matrix_rank(matrix) < width:
        raise TrialError(
            Refusal(
                reason="these readings are too few", found=count, advice="read the others as well"
            )
        )
    values, *_ = np.linalg.lstsq(matrix, read, rcond=None)
    residuals = read - matrix @ values
    spread = np.sqrt(np.diag(np.linalg.inv(matrix.T @ matrix)))
    freedom = count - width
    half = 1.96 * least_error
    if freedom:
        error = math.sqrt(float(residuals @ residuals) / freedom)
        half = max(half, student_95(freedom) * error)
    return FittedModel(
        tuple(
            Estimate(float(value), float(half * each))
            for value, each in zip(values, spread, strict=True)
        ),
        tuple(float(residual) for residual in residuals),
    )


def rung_mean(rungs: Sequence[float], step: float) -> Estimate:
    """The mean of values read off a ladder with this step, each the rung nearest to the truth.

    Its interval is the spread's, but never narrower than a step leaves it: 95 % of the step
    from three readings on; a whole step to both sides for one or two, which cannot tell their
    own spread.
    """
    count = len(rungs)
    mean = math.fsum(rungs) / count
    half = step if count < 3 else WITHIN_STEP * step
    if count > 1:
        error = math.sqrt(math.fsum((rung - mean) ** 2 for rung in rungs) / (count - 1))
        half = max(half, student_95(count - 1) * error / math.sqrt(count))
    return Estimate(mean, half)
