"""Where creases stand between panels that lie on different layers of card.

Everything a style draws has the size of the box, taken at the middle of its walls. Where a panel
comes to lie `b` calipers inside of that and hangs on one that lies `a` inside, both seen as lines
across the crease, the crease stands where the two lines cross: by (b − a·cos φ)/sin φ calipers
short of where the walls would cross, for a fold by φ. At a right angle that is one caliper for a
tab on a wall; between two tabs of one seam it is tan(φ/2).

Source: the distance of two lines' crossing from that of their parallels; folds are sharp, at the
middle of the card, as `Card` has it.
"""

from __future__ import annotations

import math

from cutlayers.geometry.paths import Path
from cutlayers.geometry.transforms import Point
from cutlayers.net.edges import COINCIDENT
from cutlayers.telling.errors import NetError

FLAT_SINE = 1e-9
"""A fold with a smaller sine is none, or right over: nothing crosses there."""


def crease_step(host: int, panel: int, fold_deg: float) -> float:
    """By how many calipers the edge of a host on layer `host` is drawn in for a panel on layer
    `panel`; 0 for one that is not folded, or folded right over."""
    sine = math.sin(math.radians(fold_deg))
    if abs(sine) < FLAT_SINE or not (host or panel):
        return 0.0
    return (panel - host * math.cos(math.radians(fold_deg))) / sine


def drawn_in(outline: Path, index: int, by: float) -> Path:
    """A closed outline with one straight edge moved `by` mm to its left, into the panel; the edges
    beside it become as much shorter, or longer where `by` is negative.

    Raises NetError where the edge or one beside it is curved or nothing is left of it.
    """
    count = len(outline.bulges)
    before, after = (index - 1) % count, (index + 1) % count
    if any(outline.bulges[each] for each in (before, index, after)):
        raise NetError("an edge beside an arc cannot be drawn in")
    segments = outline.segments
    edge = segments[index]
    ux, uy = edge.direction_at(0.5)
    corners = list(outline.vertices)
    for corner, beside in ((index, before), (after, after)):
        along = segments[beside].direction_at(0.5)
        corners[corner] = _moved(outline.vertices[corner], (-uy, ux), along, by)
    for each in (before, index, after):
        dx, dy = segments[each].direction_at(0.5)
        (x0, y0), (x1, y1) = corners[each], corners[(each + 1) % count]
        if (x1 - x0) * dx + (y1 - y0) * dy <= COINCIDENT:
            raise NetError(f"an edge drawn in by {by:g} mm leaves nothing of its panel")
    return Path(tuple(corners), outline.bulges, closed=True)


def _moved(corner: Point, inward: Point, along: Point, by: float) -> Point:
    """A corner moved along the edge beside it until it is `by` mm inward."""
    rise = along[0] * inward[0] + along[1] * inward[1]
    if abs(rise) < FLAT_SINE:
        raise NetError("an edge that runs straight on into the next cannot be drawn in")
    return (corner[0] + by / rise * along[0], corner[1] + by / rise * along[1])
