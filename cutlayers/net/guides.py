"""Guide lines that a pen can draw on a net, hidden once the box is glued."""

from __future__ import annotations

from dataclasses import replace

from cutlayers.geometry.paths import Path
from cutlayers.geometry.transforms import Point
from cutlayers.net.features import Feature, Work
from cutlayers.net.model import Net
from cutlayers.net.panel import Panel, Role

GLUE_END = 2.0
"""mm that a glue line stops short of the tab's ends, so that glue does not squeeze out."""


def with_glue_lines(net: Net) -> Net:
    """The net with a line on each glue tab where the glue goes.

    The line runs along the tab's longest edge, halfway to what lies farthest from that. A tab too
    small for a line gets none.
    """
    return replace(net, panels=tuple(_with_line(panel) for panel in net.panels))


def _with_line(panel: Panel) -> Panel:
    if panel.role is not Role.GLUE_TAB:
        return panel
    longest = max(panel.outline.segments, key=lambda segment: segment.chord)
    direction = longest.direction_at(0.5)
    middle = _halfway(panel.outline, longest.start, direction)
    crossings = sorted(_crossings(panel.outline, middle, direction))
    within = zip(crossings[::2], crossings[1::2], strict=False)
    first, last = max(within, key=lambda ends: ends[1] - ends[0], default=(0.0, 0.0))
    if last - first <= 3 * GLUE_END:
        return panel
    ends = [
        (middle[0] + at * direction[0], middle[1] + at * direction[1])
        for at in (first + GLUE_END, last - GLUE_END)
    ]
    line = Feature(Work.GUIDE, Path.line(ends[0], ends[1]), "glue line")
    return replace(panel, features=(*panel.features, line))


def _halfway(outline: Path, start: Point, direction: Point) -> Point:
    """A point as far from the edge that begins at `start` as half of what is farthest from it."""
    ux, uy = direction

    def away(point: Point) -> float:
        return ux * (point[1] - start[1]) - uy * (point[0] - start[0])

    left, bottom, right, top = outline.bounds
    x, y = (left + right) / 2, (bottom + top) / 2
    farthest = max(map(away, outline.vertices), key=abs)
    aside = farthest / 2 - away((x, y))
    return x - aside * uy, y + aside * ux


def _crossings(outline: Path, through: Point, direction: Point) -> list[float]:
    """Signed distances from `through` at which a straight line crosses the outline's edges."""
    ux, uy = direction
    found = []
    for segment in outline.segments:
        (x0, y0), (x1, y1) = segment.start, segment.end
        side0 = ux * (y0 - through[1]) - uy * (x0 - through[0])
        side1 = ux * (y1 - through[1]) - uy * (x1 - through[0])
        if side0 * side1 < 0 or (side0 == 0) != (side1 == 0):
            share = side0 / (side0 - side1)
            x, y = x0 + share * (x1 - x0), y0 + share * (y1 - y0)
            found.append(ux * (x - through[0]) + uy * (y - through[1]))
    return found
