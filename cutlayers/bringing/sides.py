"""The sides of a flat net's panels, the creases on them, and what hangs on each crease."""

from __future__ import annotations

import math
from collections.abc import Mapping

from cutlayers.frozen import frozen
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Point
from cutlayers.net.model import Net
from cutlayers.net.panel import Hinge, Panel

STRAIGHT = math.radians(0.75)
"""Edges of one panel that turn by less run straight on: one side."""

BESIDE = 0.35
"""mm; a crease so near to a side lies on it: lines are drawn by hands."""

STEP = 1.5
"""mm; a shorter side is where a crease steps round the thickness of card, or a corner is cut."""

BARE = 0.6
"""A panel on which nothing hangs is like a tab if it is less deep than so much of its crease."""


Place = tuple[str, int]
"""A panel and the number of one of its sides."""


@frozen
class Side:
    """A straight run of a panel's border, counter-clockwise, and the hinges on it by their place in
    the net. A curved edge is a side too, but not `straight`: it meets nothing."""

    panel: str
    start: Point
    end: Point
    hinges: tuple[int, ...]
    straight: bool

    @property
    def length(self) -> float:
        """From end to end, in mm."""
        return math.dist(self.start, self.end)


@frozen
class Sheet:
    """A flat net's sides by panel, and where each hinge's two ends of the crease are."""

    net: Net
    sides: Mapping[str, tuple[Side, ...]]
    across: Mapping[tuple[int, str], Place]
    """Hinge and panel → the side of that panel that the hinge is on."""
    beyond: Mapping[tuple[int, str], frozenset[str]]
    """Hinge and panel → what hangs on the hinge beyond that panel; with it, if elsewhere too."""
    area: Mapping[str, float]
    longest: float
    """mm; the longest side."""
    bare: frozenset[str]
    """Panels that are like tabs: narrow, and nothing hangs on them."""


def sheet_of(net: Net) -> Sheet:
    """The sides of a net."""
    sides = {panel.name: _sides(net, panel) for panel in net.panels}
    across = {
        (hinge, name): (name, index)
        for name, own in sides.items()
        for index, side in enumerate(own)
        for hinge in side.hinges
    }
    beyond = {
        (index, name): part_beyond(net, index, other)
        for index, hinge in enumerate(net.hinges)
        for name, other in ((hinge.first, hinge.second), (hinge.second, hinge.first))
    }
    area = {panel.name: panel.outline.area for panel in net.panels}
    longest = max(side.length for own in sides.values() for side in own)
    return Sheet(net, sides, across, beyond, area, longest, _bare(net))


def _sides(net: Net, panel: Panel) -> tuple[Side, ...]:
    runs: list[list[Segment]] = []
    for edge in panel.outline.segments:
        if runs and _runs_on(runs[-1][-1], edge):
            runs[-1].append(edge)
        else:
            runs.append([edge])
    if len(runs) > 1 and _runs_on(runs[-1][-1], runs[0][0]):
        runs[0] = runs.pop() + runs[0]
    hinges = [
        (index, hinge.edge)
        for index, hinge in enumerate(net.hinges)
        if panel.name in (hinge.first, hinge.second)
    ]
    return tuple(
        Side(
            panel.name,
            run[0].start,
            run[-1].end,
            tuple(index for index, crease in hinges if any(_lies_on(crease, e) for e in run)),
            not run[0].bulge,
        )
        for run in runs
    )


def _runs_on(one: Segment, other: Segment) -> bool:
    if one.bulge or other.bulge:
        return False
    (ax, ay), (bx, by) = one.direction_at(0.5), other.direction_at(0.5)
    return abs(math.atan2(ax * by - ay * bx, ax * bx + ay * by)) < STRAIGHT


def _lies_on(crease: Segment, edge: Segment) -> bool:
    """Whether a crease runs along an edge, wholly or for a part."""
    middle = crease.point_at(0.5)
    if edge.bulge or crease.bulge:
        return bool(edge.bulge and crease.bulge) and math.dist(middle, edge.point_at(0.5)) < BESIDE
    ux, uy = edge.direction_at(0.5)
    cx, cy = crease.direction_at(0.5)
    if abs(ux * cy - uy * cx) > max(math.sin(STRAIGHT), 2 * BESIDE / crease.chord):
        return False
    dx, dy = middle[0] - edge.start[0], middle[1] - edge.start[1]
    along = ux * dx + uy * dy
    # It reaches over its own middle or the edge's.
    near = 0 < along < edge.chord or abs(along - edge.chord / 2) < crease.chord / 2
    return abs(ux * dy - uy * dx) < BESIDE and near


def _bare(net: Net) -> frozenset[str]:
    found = []
    for panel in net.panels:
        hinges = net.hinges_of([panel.name])
        if len(hinges) == 1 and reach(panel, hinges[0]) < BARE * hinges[0].edge.chord:
            found.append(panel.name)
    return frozenset(found)


def reach(panel: Panel, hinge: Hinge) -> float:
    """How far a panel reaches from the line of a hinge, in mm."""
    ux, uy = hinge.edge.direction_at(0.5)
    x0, y0 = hinge.edge.start
    return max(abs(ux * (y - y0) - uy * (x - x0)) for x, y in panel.outline.vertices)


def part_beyond(net: Net, hinge: int, panel: str) -> frozenset[str]:
    """The panels that hang together with one if a hinge is cut."""
    near: dict[str, list[str]] = {each.name: [] for each in net.panels}
    for index, each in enumerate(net.hinges):
        if index != hinge:
            near[each.first].append(each.second)
            near[each.second].append(each.first)
    reached, waiting = {panel}, [panel]
    while waiting:
        for name in near[waiting.pop()]:
            if name not in reached:
                reached.add(name)
                waiting.append(name)
    return frozenset(reached)
