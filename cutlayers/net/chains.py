"""Stretches of line between shared end points, and how they are chained again.

*Nodes* are points told apart by a tolerance; a *stretch* runs from node to node, so that two
stretches meet where their node numbers agree, whatever the last bits of their coordinates.
"""

from __future__ import annotations

import itertools
import math
from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence

from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Point
from cutlayers.net.edges import COINCIDENT

STRAIGHT = 1e-7
"""Radians two edges may turn and still be one straight line; a turn of this size moves the far
end of a metre by a tenth of a micrometre."""


@frozen
class Stretch:
    """A piece of border between neighbouring nodes, with its panel on the left."""

    tail: int
    head: int
    segment: Segment
    panel: str

    def reversed(self) -> Stretch:
        """The same line walked the other way."""
        return Stretch(self.head, self.tail, self.segment.reversed(), self.panel)


class Nodes:
    """Points told apart by a tolerance, numbered in the order in which they were first met."""

    def __init__(self, tolerance: float) -> None:
        self.points: list[Point] = []
        self._tolerance = tolerance
        self._found: dict[Point, int] = {}
        self._cells: dict[tuple[int, int], list[int]] = defaultdict(list)

    def find(self, point: Point) -> int:
        """The number of the node at a point, a new one where there was none."""
        if point not in self._found:
            self._found[point] = self._near(point)
        return self._found[point]

    def _near(self, point: Point) -> int:
        side = 4 * self._tolerance
        x, y = point
        # A cell is wider than the tolerance, so only near its rim can a node be the neighbour's.
        near = self._tolerance
        columns = {round((x - near) / side), round((x + near) / side)}
        rows = {round((y - near) / side), round((y + near) / side)}
        cells = [self._cells.get(cell, ()) for cell in itertools.product(columns, rows)]
        for index in sorted(itertools.chain(*cells)):
            if math.dist(self.points[index], point) <= near:
                return index
        self.points.append(point)
        self._cells[round(x / side), round(y / side)].append(len(self.points) - 1)
        return len(self.points) - 1


def chains(
    stretches: Sequence[Stretch],
    follow: Callable[[Stretch, Sequence[Stretch]], Stretch | None],
) -> Iterator[list[Stretch]]:
    """Chain stretches whichever way round each was given.

    `follow` picks the one to go on with among those that leave where the last one arrived.
    """
    leaving: dict[int, list[Stretch]] = defaultdict(list)
    for stretch in stretches:
        leaving[stretch.tail].append(stretch)
        leaving[stretch.head].append(stretch.reversed())
    used: set[Stretch] = set()

    def walk(here: Stretch) -> list[Stretch]:
        found: list[Stretch] = []
        while True:
            back = here.reversed()
            following = follow(here, [way for way in leaving[here.head] if way != back])
            if following is None or following in used:
                return found
            used.update((following, following.reversed()))
            found.append(following)
            here = following

    for first in stretches:
        if first not in used:
            used.update((first, first.reversed()))
            ahead = walk(first)
            behind = walk(first.reversed())
            yield [*(stretch.reversed() for stretch in reversed(behind)), first, *ahead]


def straight_on(here: Stretch, ways: Sequence[Stretch]) -> Stretch | None:
    """Go on where the line runs on without a turn."""
    return next((way for way in ways if abs(_turn(here.segment, way.segment)) <= STRAIGHT), None)


def clear_way(here: Stretch, ways: Sequence[Stretch]) -> Stretch | None:
    """Go straight on, or round a corner where there is just one way to go."""
    return straight_on(here, ways) or (ways[0] if len(ways) == 1 else None)


def closed_chains(stretches: Sequence[Stretch]) -> Iterator[list[Stretch]]:
    """Loops of stretches that each keep their panel on the left; none passes a node twice.

    Every node must have as many stretches arriving as leaving, as the border of any material has.
    """
    leaving: dict[int, list[Stretch]] = defaultdict(list)
    for stretch in stretches:
        leaving[stretch.tail].append(stretch)
    for first in stretches:
        if first not in leaving[first.tail]:
            continue
        chain: list[Stretch] = []
        passed: dict[int, int] = {}  # node → which stretch of the chain leaves it
        here = first
        while True:
            leaving[here.tail].remove(here)
            passed[here.tail] = len(chain)
            chain.append(here)
            if here.head in passed:
                start = passed[here.head]
                loop = chain[start:]
                yield loop
                del chain[start:]
                for stretch in loop:
                    del passed[stretch.tail]
                if not chain:
                    break
            here = _next_round(here, leaving[here.head])


def chained_path(chain: Sequence[Stretch]) -> Path:
    """One path along a chain, closed if it ends where it began, its straight joints taken out."""
    segments = [stretch.segment for stretch in chain]
    if chain[0].tail == chain[-1].head:
        return Path.from_segments(_merged_closed(segments), closed=True)
    return Path.from_segments(_merged(segments), closed=False)


def _next_round(arrived: Stretch, choices: Sequence[Stretch]) -> Stretch:
    """The stretch that bounds the same corner of material: the first one clockwise from behind.

    Where material only touches in a point this keeps the touching parts in contours of their own.
    """
    if len(choices) == 1:
        return choices[0]
    # Looked at a little way off the node, so that arcs that leave it alike are told apart.
    behind = arrived.segment.reversed()
    reach = min(segment.length for segment in (behind, *(way.segment for way in choices))) / 100
    back = _heading(behind, reach)
    return min(choices, key=lambda way: (back - _heading(way.segment, reach)) % (2 * math.pi))


def _heading(segment: Segment, reach: float) -> float:
    """Direction, in radians, from an edge's start to its point `reach` mm along.

    Source: the chord of an arc has the direction of the tangent half way along it.
    """
    dx, dy = segment.direction_at(reach / segment.length / 2)
    return math.atan2(dy, dx)


def _turn(one: Segment, other: Segment) -> float:
    ax, ay = one.direction_at(1.0)
    bx, by = other.direction_at(0.0)
    return math.atan2(ax * by - ay * bx, ax * bx + ay * by)


def _merged(segments: Sequence[Segment]) -> list[Segment]:
    """Join neighbours that lie on one line or one circle."""
    result = [segments[0]]
    for segment in segments[1:]:
        joined = _joined(result[-1], segment)
        if joined:
            result[-1] = joined
        else:
            result.append(segment)
    return result


def _merged_closed(segments: Sequence[Segment]) -> list[Segment]:
    merged = _merged(segments)
    if len(merged) > 2:
        joined = _joined(merged[-1], merged[0])
        if joined:
            return [joined, *merged[1:-1]]
    return merged


def _joined(one: Segment, other: Segment) -> Segment | None:
    if abs(_turn(one, other)) > STRAIGHT:
        return None
    if not one.bulge and not other.bulge:
        return Segment(one.start, other.end)
    if one.bulge and other.bulge and math.dist(one.centre, other.centre) <= COINCIDENT:
        sweep = one.sweep + other.sweep
        # Beyond three quarters of a circle a bulge grows steep and loses digits.
        if abs(sweep) <= 1.5 * math.pi:
            return Segment(one.start, other.end, math.tan(sweep / 4))
    return None
