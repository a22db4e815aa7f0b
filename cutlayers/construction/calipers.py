"""Which card a style is good for, tried on boxes of one size."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from cutlayers.construction.card import Card
from cutlayers.construction.style import Style
from cutlayers.frozen import frozen
from cutlayers.net.calipers import ROUNDING, Most, least_caliper, most_caliper
from cutlayers.net.model import Net
from cutlayers.telling.errors import StyleError

STEP = 0.05
"""mm; as fine as card is sold."""

THICKEST = 3.0
"""mm; the thickest greyboard that is cut with these tools."""


@frozen
class Calipers:
    """The least and the most caliper in mm, to `STEP`; None where nothing sets one, and a most of 0
    where no card will do. `limit` is what sets the most, None where the style refuses its sizes
    for thicker card."""

    least: float | None
    most: float | None
    limit: Most | None


def calipers_of(style: Style, dims: Any = None) -> Calipers:
    """Which card a style takes at these dimensions, those of its example if not given.

    Raises StyleError where the style refuses these dimensions for any card.
    """
    dims = style.dimensions() if dims is None else dims
    least: float | None = None
    most = 0.0
    for caliper in _calipers():
        try:
            nets = style.build(dims, Card(caliper))
        except StyleError:
            if not most and caliper < THICKEST:
                continue
            if not most:
                raise
            return Calipers(least, most, None)
        found = (most_caliper(net, caliper) for net in nets)
        limit = min((each for each in found if each), key=lambda each: each.caliper, default=None)
        if limit is not None and limit.caliper < caliper - ROUNDING:
            return Calipers(least, most, limit)
        if least is None and caliper >= least_of(style, nets) - ROUNDING:
            least = caliper
        most = caliper
    return Calipers(least, None, None)


def least_of(style: Style | None, nets: tuple[Net, ...]) -> float:
    """The least caliper in mm of these nets of a style; 0 where nothing sets one."""
    if style is not None and style.limp:
        return 0.0
    found = (least_caliper(net) for net in nets)
    return max((each.caliper for each in found if each is not None), default=0.0)


def _calipers() -> Iterator[float]:
    for index in range(1, math.floor(THICKEST / STEP + 0.5) + 1):
        yield round(index * STEP, 2)
