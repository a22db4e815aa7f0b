"""From the curves of a file to numbered lines: straight edges and arcs, as finely as is needed."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence

from cutlayers.bringing.curves import Curve, paths_of
from cutlayers.bringing.limits import MOST_EDGES, too_many
from cutlayers.bringing.lines import DrawnLine, Hints, Scale

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


def lines_of(
    found: Sequence[tuple[Curve, Hints]], scale: Scale | None, aside: Counter[str]
) -> tuple[DrawnLine, ...]:
    """The lines that curves become, numbered from 1; those without length are counted in `aside`.

    Raises ValueRefused where there are more than can be worked on.
    """
    curves = [curve for curve, _ in found]
    paths = paths_of(curves, tolerance_of(curves, scale)) if curves else []
    aside["line without length"] += paths.count(None)
    drawn = [(path, hints) for path, (_, hints) in zip(paths, found, strict=True) if path]
    if sum(len(path.bulges) for path, _ in drawn) > MOST_EDGES:
        raise too_many()
    return tuple(DrawnLine(path, hints, i) for i, (path, hints) in enumerate(drawn, 1))
