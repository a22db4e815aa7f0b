"""The faces that lines enclose in a plane.

Edges that meet in shared points make a planar graph. Walked with the face on the left, each edge
once either way, they close into *loops*: counter-clockwise ones run round a face, clockwise ones
round a group of faces, as seen from the face that the group lies in.

Source: face walks of a planar graph by the order of edges round each point (D. E. Muller and
F. P. Preparata, "Finding the intersection of two convex polyhedra", Theoretical Computer Science 7,
1978).
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence

from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Point
from cutlayers.net.chains import Nodes
from cutlayers.net.edges import COINCIDENT
from cutlayers.telling.errors import NetError

MOST_FACES = 5000
"""Twenty-five times the panels and holes of the largest style; more are a pattern, and each costs
time."""

Side = int
"""One side of an edge: twice the edge's number where it is walked as it runs, one more where it is
walked the other way. So the two sides of an edge differ in the last bit."""


class Sets:
    """Numbers put into sets together, each set told by one of them."""

    def __init__(self, count: int) -> None:
        self.count = count
        self._above = list(range(count))

    def of(self, number: int) -> int:
        """The number that tells the set of a number."""
        while self._above[number] != number:
            self._above[number] = self._above[self._above[number]]
            number = self._above[number]
        return number

    def join(self, one: int, other: int) -> None:
        """Make one of two sets."""
        first, second = sorted((self.of(one), self.of(other)))
        self.count -= first != second
        self._above[second] = first


@frozen
class Loop:
    """Sides that close into a path which passes no point twice."""

    sides: tuple[Side, ...]
    path: Path

    @property
    def area(self) -> float:
        """mm²; positive for the border of a face, negative for that of a group of them."""
        return self.path.area


@frozen
class Planar:
    """All loops of a graph, and the numbers of the edges that bound no face: those that end
    loosely, and those that join two loops."""

    loops: tuple[Loop, ...]
    open: tuple[int, ...]


def planar(segments: Sequence[Segment]) -> Planar:
    """The loops of edges that share nothing but end points.

    Raises NetError where they enclose more faces than those of a box do.
    """
    nodes = Nodes(COINCIDENT)
    ends = [(nodes.find(segment.start), nodes.find(segment.end)) for segment in segments]
    faces = _faces(len(nodes.points), ends)
    if faces > MOST_FACES:
        raise NetError(
            f"the lines enclose {faces:,} areas, and those of a box no more than {MOST_FACES:,}; "
            "bring the lines of one box at a time, without patterns"
        )
    within = set(range(len(segments)))
    within -= _loose(ends, within)
    while True:
        walks = list(_walks(segments, ends, within))
        bridges: set[int] = set()
        for walk in walks:
            there = set(walk)
            bridges |= {side >> 1 for side in walk if side ^ 1 in there}
        if not bridges:
            break
        within -= bridges
        within -= _loose(ends, within)
    loops = [
        Loop(tuple(sides), _path([_walked(segments, side) for side in sides]))
        for walk in walks
        for sides in _without_pinches(walk, ends)
    ]
    return Planar(tuple(loops), tuple(sorted(set(range(len(segments))) - within)))


def _faces(nodes: int, ends: Sequence[tuple[int, int]]) -> int:
    """How many faces a planar graph encloses: edges - nodes + parts. Source: Euler's formula."""
    parts = Sets(nodes)
    for tail, head in ends:
        parts.join(tail, head)
    return len(ends) - nodes + parts.count


def _walked(segments: Sequence[Segment], side: Side) -> Segment:
    segment = segments[side >> 1]
    return segment.reversed() if side & 1 else segment


def _path(segments: Sequence[Segment]) -> Path:
    return Path.from_segments(segments, closed=True)


def _loose(ends: Sequence[tuple[int, int]], within: set[int]) -> set[int]:
    """Edges that end loosely, and those that do once these are gone."""
    at: dict[int, set[int]] = defaultdict(set)
    for index in within:
        for node in ends[index]:
            at[node].add(index)
    gone: set[int] = set()
    waiting = sorted(node for node, edges in at.items() if len(edges) == 1)
    while waiting:
        node = waiting.pop()
        for index in list(at[node]):
            one, other = ends[index]
            if one == other:
                continue
            gone.add(index)
            for end in (one, other):
                at[end].discard(index)
                if len(at[end]) == 1:
                    waiting.append(end)
    return gone


def _walks(
    segments: Sequence[Segment], ends: Sequence[tuple[int, int]], within: set[int]
) -> Iterator[list[Side]]:
    """Every side once, each walk with one face on its left."""
    leaving: dict[int, list[Side]] = defaultdict(list)
    for index in sorted(within):
        tail, head = ends[index]
        leaving[tail].append(2 * index)
        leaving[head].append(2 * index + 1)
    following: dict[Side, Side] = {}
    for sides in leaving.values():
        ordered = _by_direction(segments, sides)
        for here, clockwise in zip(ordered, (ordered[-1], *ordered[:-1]), strict=True):
            # Arriving by an edge one goes on by the next clockwise, which keeps the face left.
            following[here ^ 1] = clockwise
    used: set[Side] = set()
    for first in following:
        if first in used:
            continue
        walk = []
        side = first
        while side not in used:
            used.add(side)
            walk.append(side)
            side = following[side]
        yield walk


def _by_direction(segments: Sequence[Segment], sides: Sequence[Side]) -> list[Side]:
    """Sides that leave one point, counter-clockwise; looked at a little way off the point, so that
    arcs that leave it alike are told apart."""
    if len(sides) == 2:
        return list(sides)
    away = [_walked(segments, side) for side in sides]
    reach = min(segment.length for segment in away) / 100

    def direction(segment: Segment) -> float:
        dx, dy = segment.direction_at(reach / segment.length / 2)
        return math.atan2(dy, dx)

    order = sorted(range(len(sides)), key=lambda index: (direction(away[index]), index))
    return [sides[index] for index in order]


def _without_pinches(walk: Sequence[Side], ends: Sequence[tuple[int, int]]) -> Iterator[list[Side]]:
    """A walk taken apart where it passes a point twice."""
    chain: list[Side] = []
    passed: dict[int, int] = {}
    for side in walk:
        tail, head = _ends(side, ends)
        passed[tail] = len(chain)
        chain.append(side)
        if head in passed:
            start = passed[head]
            loop = chain[start:]
            yield loop
            del chain[start:]
            for each in loop:
                passed.pop(_ends(each, ends)[0], None)


def _ends(side: Side, ends: Sequence[tuple[int, int]]) -> tuple[int, int]:
    tail, head = ends[side >> 1]
    return (head, tail) if side & 1 else (tail, head)


def inside_point(path: Path) -> Point:
    """A point inside a closed path, near the middle of its first edge."""
    segment = path.segments[0]
    (x, y), (ux, uy) = segment.point_at(0.5), segment.direction_at(0.5)
    return x - 1e-4 * uy, y + 1e-4 * ux
