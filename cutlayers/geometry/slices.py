"""A path's edges moved sideways, and cut into slices where they cross one another."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

from cutlayers.frozen import frozen
from cutlayers.geometry.crossings import crossings
from cutlayers.geometry.nearness import Nearness
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Point, turn_between

MEETING = 1e-6
"""mm; ends of slices closer than this are one point. Crossings of nearly tangent edges are only
known to about the square root of the last bit, which is far less for anything cut from card."""

TOO_CLOSE = 1e-9
"""mm by which a slice may fall short of the distance: above the rounding of its own formula."""

CUSP = 1e-6
"""Radians short of a half turn from which rounding may take left for right."""


@frozen
class Slice:
    """A piece of a moved edge (or, with `edge` -1, of an arc about a corner) between crossings.

    `first` and `last` are fractions of that edge, `tail` and `head` numbers of meeting points,
    `middle` a point of the moved edge itself, before its ends were drawn to meeting points.
    """

    segment: Segment
    middle: Point
    edge: int
    first: float
    last: float
    tail: int
    head: int


def moved_edges(edges: Sequence[Segment], distance: float) -> list[tuple[Segment, int]]:
    """Each edge of a closed path moved `distance` mm to its right, with its number.

    Between them, with the number -1, stand the arcs about convex corners; an arc that is swallowed
    whole is left out.
    """
    moved: list[tuple[Segment, int]] = []
    for number, edge in enumerate(edges):
        following = edges[(number + 1) % len(edges)]
        # An arc about a centre on the right shrinks, and is gone when the distance reaches it.
        if edge.bulge >= 0 or edge.radius - distance > TOO_CLOSE:
            start = _beside(edge.start, edge.direction_at(0.0), distance)
            end = _beside(edge.end, edge.direction_at(1.0), distance)
            moved.append((Segment(start, end, edge.bulge), number))
        turn = _turn_at(edge, following)
        start = _beside(edge.end, edge.direction_at(1.0), distance)
        end = _beside(edge.end, following.direction_at(0.0), distance)
        if turn > 0 and math.dist(start, end) > MEETING:
            moved.append((Segment(start, end, math.tan(turn / 4.0)), -1))
    return moved


def _turn_at(edge: Segment, following: Segment) -> float:
    """Radians that the path turns from one edge to the next, left positive."""
    turn = turn_between(edge.direction_at(1.0), following.direction_at(0.0))
    if math.pi - abs(turn) > CUSP:
        return turn
    # In a cusp the path goes back beside the way it came: the side tells the turn.
    step = min(edge.length, following.length) / 100.0
    x, y = edge.point_at(1.0 - step / edge.length)
    px, py = following.point_at(step / following.length)
    ux, uy = edge.direction_at(1.0)
    return math.copysign(math.pi, ux * (py - y) - uy * (px - x))


def _beside(point: Point, direction: Point, distance: float) -> Point:
    return (point[0] + distance * direction[1], point[1] - distance * direction[0])


def slices_of(moved: Sequence[tuple[Segment, int]]) -> list[Slice]:
    """Cut the moved edges at each other, ends of slices numbered by place."""
    cuts: list[list[tuple[float, Point]]] = [
        [(0.0, segment.start), (1.0, segment.end)] for segment, _ in moved
    ]
    edges = [segment for segment, _ in moved]
    lefts = [segment.bounds()[0] for segment in edges]
    for one, other in Nearness(edges, MEETING).pairs():
        if lefts[other] < lefts[one]:
            one, other = other, one  # two edges cross at the same bits whatever their numbers are
        for here, there, point in crossings(edges[one], edges[other], MEETING):
            cuts[one].append((here, point))
            cuts[other].append((there, point))
    meeting = _Meetings()
    # Ends are known to the last bits, crossings of tangent edges are not: ends come first.
    for segment, _ in moved:
        meeting.number(segment.start)
        meeting.number(segment.end)
    slices: list[Slice] = []
    for (segment, edge), marks in zip(moved, cuts, strict=True):
        marks.sort()
        numbered = [(fraction, meeting.number(point)) for fraction, point in marks]
        for (first, tail), (last, head) in itertools.pairwise(numbered):
            start, end = meeting.points[tail], meeting.points[head]
            if tail == head and (last - first) * segment.length <= 4 * MEETING:
                continue
            if start == end:
                continue
            bulge = math.tan(math.atan(segment.bulge) * (last - first)) if segment.bulge else 0.0
            middle = segment.point_at((first + last) / 2.0)
            slices.append(Slice(Segment(start, end, bulge), middle, edge, first, last, tail, head))
    return slices


class _Meetings:
    """Points numbered so that those within `MEETING` share a number."""

    def __init__(self) -> None:
        self.points: list[Point] = []
        self._cells: dict[tuple[int, int], list[int]] = {}

    def number(self, point: Point) -> int:
        column, row = (math.floor(c / (4 * MEETING)) for c in point)
        for cell in itertools.product((column, column - 1, column + 1), (row, row - 1, row + 1)):
            for index in self._cells.get(cell, ()):
                if math.dist(self.points[index], point) <= MEETING:
                    return index
        self.points.append(point)
        self._cells.setdefault((column, row), []).append(len(self.points) - 1)
        return len(self.points) - 1
