"""The panels of a net redrawn where its creases have been moved in parallel.

Free edges stay in line, or go along where they meet at a crease's end. Where creases met in a point
and no longer do a small hole takes the point away.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Point
from cutlayers.net.edges import COINCIDENT, same_place, shared_edge
from cutlayers.net.folds_over import beside
from cutlayers.net.model import Net
from cutlayers.net.overlaps import fraction_on
from cutlayers.net.panel import Hinge, Panel
from cutlayers.telling.errors import NetError

LEAST_MEETING = 4
"""Creases that meet in a point inside of a net, at least: three of them fold up to no corner."""


def with_creases_moved(net: Net, moves: Sequence[float]) -> Net:
    """The net with each crease so many mm to its left, in the order of its hinges."""
    creases: dict[str, list[tuple[Segment, float]]] = {panel.name: [] for panel in net.panels}
    for hinge, by in zip(net.hinges, moves, strict=True):
        creases[hinge.first].append((hinge.edge.reversed(), by))
        creases[hinge.second].append((hinge.edge, -by))
    levels = _level_corners(net, moves)
    return replace(
        net,
        panels=tuple(
            _with_edges_moved(panel, creases[panel.name], levels.get(panel.name, {}))
            for panel in net.panels
        ),
        hinges=tuple(
            replace(hinge, edge=beside(hinge.edge, by))
            for hinge, by in zip(net.hinges, moves, strict=True)
        ),
    )


def _level_corners(net: Net, moves: Sequence[float]) -> dict[str, dict[int, float]]:
    """How far slanting free edges move to their left, by panel and number of the edge.

    Where free edges of two panels meet at the end of a crease they still do once it has moved:
    beside one that stands square on the crease the other goes along.
    """
    found: dict[str, dict[int, float]] = {}
    for hinge, by in zip(net.hinges, moves, strict=True):
        ux, uy = hinge.edge.direction_at(0.5)
        # A moved crease crosses the square edge where its own end has come to.
        across = (-uy * by, ux * by)
        for end in (hinge.edge.start, hinge.edge.end):
            free = [
                (name, index, edge.direction_at(0.5))
                for name in (hinge.first, hinge.second)
                for index, edge in _free_edges_at(net, name, end)
            ]
            if not any(abs(ux * x + uy * y) <= COINCIDENT for _, _, (x, y) in free):
                continue
            for name, index, (x, y) in free:
                found.setdefault(name, {})[index] = across[1] * x - across[0] * y
    return found


def _free_edges_at(net: Net, name: str, corner: Point) -> list[tuple[int, Segment]]:
    """The edges of a panel that end in a corner and on which nothing is hinged."""
    creases = [
        hinge.edge.reversed() if hinge.first == name else hinge.edge
        for hinge in net.hinges
        if name in (hinge.first, hinge.second)
    ]
    return [
        (index, edge)
        for index, edge in enumerate(net.panel(name).outline.segments)
        if (same_place(edge.start, corner) or same_place(edge.end, corner))
        and not any(shared_edge(edge, crease) for crease in creases)
    ]


def _with_edges_moved(
    panel: Panel, creases: Sequence[tuple[Segment, float]], levels: Mapping[int, float]
) -> Panel:
    """A panel with its edges where its creases have been moved to; free ones stay in line, but for
    those of `levels`.

    `creases` are the panel's own, each as it runs beside the panel on its right, and how far its
    edge moves to the left.
    """
    lines = []
    for index, edge in enumerate(panel.outline.segments):
        moves = (by for crease, by in creases if shared_edge(edge, crease))
        lines.append(beside(edge, next(moves, levels.get(index, 0.0))))
    names = list(panel.edges)
    while True:
        corners = [
            _crossing(lines[index - 1], line, line.start) for index, line in enumerate(lines)
        ]
        gone = _turned_over(lines, corners)
        if gone is None:
            return replace(panel, outline=Path.polygon(corners), edges=tuple(names))
        del lines[gone], names[gone]


def _turned_over(lines: list[Segment], corners: list[Point]) -> int | None:
    """The edge that its neighbours leave nothing of, if there is one."""
    for index, line in enumerate(lines):
        (x0, y0), (x1, y1) = corners[index], corners[(index + 1) % len(corners)]
        ux, uy = line.direction_at(0.5)
        if (x1 - x0) * ux + (y1 - y0) * uy <= COINCIDENT:
            return index
    return None


def without_points(sheet: Net, net: Net) -> Net:
    """The net with a hole wherever creases met in a point of the sheet and no longer do."""
    ends: list[tuple[Point, set[int]]] = []
    for index, hinge in enumerate(sheet.hinges):
        for end in (hinge.edge.start, hinge.edge.end):
            for point, meeting in ends:
                if same_place(point, end):
                    meeting.add(index)
                    break
            else:
                ends.append((end, {index}))
    whole = {panel.name: panel for panel in net.panels}
    panels = dict(whole)
    for point, meeting in ends:
        if len(meeting) < LEAST_MEETING:
            continue
        corners = {
            panel.name: whole[panel.name].edge(edge).start
            for panel in sheet.panels
            for edge, corner in zip(panel.edges, panel.outline.vertices, strict=True)
            if same_place(corner, point)
        }
        xs, ys = zip(*corners.values(), strict=True)
        middle = ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
        radius = max(math.dist(middle, corner) for corner in corners.values()) + net.caliper
        for name, corner in corners.items():
            panels[name] = _cut_back(panels[name], corner, middle, radius)
    found = replace(net, panels=tuple(panels[panel.name] for panel in net.panels))
    return replace(found, hinges=tuple(_as_long(found, hinge) for hinge in net.hinges))


def without_stubs(net: Net) -> Net:
    """The net without the corners that two creases of a panel both stop short of: a slot that is
    cut between layers ends in one slant there instead of in steps."""
    ends: dict[str, list[Point]] = {panel.name: [] for panel in net.panels}
    for hinge in net.hinges:
        for name in (hinge.first, hinge.second):
            ends[name] += (hinge.edge.start, hinge.edge.end)
    return replace(
        net, panels=tuple(_without_stub(panel, ends[panel.name]) for panel in net.panels)
    )


def _without_stub(panel: Panel, ends: Sequence[Point]) -> Panel:
    """A panel without such corners; `ends` are those of its creases."""
    segments = panel.outline.segments
    for before, after in zip((segments[-1], *segments), segments, strict=False):
        last, first = (_nearest_on(edge, ends, after.start) for edge in (before, after))
        if last is not None and first is not None:
            panel = _corner_cut(panel, after.start, [last, first], "stub")
    return panel


def _nearest_on(edge: Segment, ends: Sequence[Point], corner: Point) -> Point | None:
    """The end of a crease inside of an edge that is nearest to its corner; None where a crease ends
    in that, or none on the edge."""
    if any(same_place(end, corner) for end in ends):
        return None
    inside = (
        end
        for end in ends
        if fraction_on(edge, end) is not None
        and not same_place(end, edge.start)
        and not same_place(end, edge.end)
    )
    return min(inside, key=lambda end: math.dist(end, corner), default=None)


def _cut_back(panel: Panel, corner: Point, middle: Point, radius: float) -> Panel:
    """A panel whose corner is cut off between where a circle meets both its edges."""
    index = next(i for i, each in enumerate(panel.outline.vertices) if same_place(each, corner))
    segments = panel.outline.segments
    before, after = segments[index - 1], segments[index]
    points = [_leaves(before.reversed(), middle, radius), _leaves(after, middle, radius)]
    return _corner_cut(panel, corner, points, "relief")


def _corner_cut(panel: Panel, corner: Point, points: Sequence[Point], name: str) -> Panel:
    """A panel with an edge of a new name from one point to another instead of a corner."""
    index = next(i for i, each in enumerate(panel.outline.vertices) if same_place(each, corner))
    corners, names = list(panel.outline.vertices), list(panel.edges)
    corners[index : index + 1] = points
    numbered = (f"{name} {number}" for number in range(1, len(corners) + 1))
    names.insert(index, next(each for each in numbered if each not in names))
    return replace(panel, outline=Path.polygon(corners), edges=tuple(names))


def _leaves(edge: Segment, middle: Point, radius: float) -> Point:
    """Where an edge that begins in a circle leaves it."""
    ux, uy = edge.direction_at(0.5)
    x, y = edge.start[0] - middle[0], edge.start[1] - middle[1]
    along = x * ux + y * uy
    ahead = math.sqrt(along**2 + radius**2 - x**2 - y**2) - along
    if ahead >= edge.chord - COINCIDENT:
        raise NetError(f"a hole of {radius:g} mm where creases meet leaves nothing of one")
    return (edge.start[0] + ahead * ux, edge.start[1] + ahead * uy)


def _as_long(net: Net, hinge: Hinge) -> Hinge:
    """A hinge as long as its two panels now are along it."""
    for one in net.panel(hinge.first).outline.segments:
        if shared_edge(one, hinge.edge.reversed()) is None:
            continue
        for other in net.panel(hinge.second).outline.segments:
            shared = shared_edge(one, other)
            if shared is not None:
                return replace(hinge, edge=shared)
    raise NetError(f"nothing is left of the crease between {hinge.first!r} and {hinge.second!r}")


def _crossing(one: Segment, other: Segment, near: Point) -> Point:
    """Where two lines cross; of edges in one line, the point that is nearest to `near`."""
    (ax, ay), (bx, by) = one.direction_at(0.5), other.direction_at(0.5)
    sine = ax * by - ay * bx
    dx, dy = other.start[0] - one.start[0], other.start[1] - one.start[1]
    if abs(sine) <= COINCIDENT:
        along = (near[0] - one.start[0]) * ax + (near[1] - one.start[1]) * ay
        return (one.start[0] + along * ax, one.start[1] + along * ay)
    along = (dx * by - dy * bx) / sine
    return (one.start[0] + along * ax, one.start[1] + along * ay)
