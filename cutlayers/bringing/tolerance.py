"""How finely curves of a drawing become arcs, and how much of them is too much."""

from __future__ import annotations

import math
from collections.abc import Sequence

from cutlayers.bringing.curves import Curve
from cutlayers.bringing.lines import Scale
from cutlayers.reading.values import ValueRefused

TOLERANCE = 0.01
"""mm that an arc may lie off the curve that it stands for."""

OF_SIZE = 1e-5
"""The same as a share of the drawing, where nobody knows yet how large it is: 0.01 mm in a drawing
a metre wide, and less in all that are smaller."""

MOST_EDGES = 100_000
"""Lines and arcs of a drawing; a box with its tabs and holes has some hundreds."""


def tolerance_of(curves: Sequence[Curve], scale: Scale | None) -> float:
    """In units of the drawing."""
    if scale is not None:
        return TOLERANCE / scale.mm
    xs, ys = zip(*(point for curve in curves for point in curve.points), strict=True)
    return OF_SIZE * (math.hypot(max(xs) - min(xs), max(ys) - min(ys)) or 1.0)


def too_many() -> ValueRefused:
    """That a drawing has more than can be worked on in a bounded time."""
    return ValueRefused(
        f"has more than {MOST_EDGES:,} lines", advice="save the net alone, without hatching"
    )
