"""How finely curves of a drawing become arcs."""

from __future__ import annotations

import math
from collections.abc import Sequence

from cutlayers.bringing.curves import Curve
from cutlayers.bringing.lines import Scale

TOLERANCE = 0.01
"""mm that an arc may lie off the curve that it stands for."""

OF_SIZE = 1e-5
"""The same as a share of the drawing, where nobody knows yet how large it is: 0.01 mm in a drawing
a metre wide, and less in all that are smaller."""

FINEST = 1e-6
"""The same where the file says how large it is, perhaps wrongly."""


def tolerance_of(curves: Sequence[Curve], scale: Scale | None) -> float:
    """In units of the drawing."""
    if not curves:
        return OF_SIZE
    xs, ys = zip(*(point for curve in curves for point in curve.points), strict=True)
    size = math.hypot(max(xs) - min(xs), max(ys) - min(ys)) or 1.0
    # A file that says metres and means mm is no reason for a thousand times as many arcs.
    return OF_SIZE * size if scale is None else max(TOLERANCE / scale.mm, FINEST * size)
