"""In which order lines are worked, where each begins, and which way round.

What lies inside a closed cut comes before it, since a piece that is cut free may shift: the
holes of a piece before its outline, and a piece inside a window before the window. Closed cuts
begin at a corner that a glue tab will hide, where they have one: what a blade leaves where it
comes down and where it runs on then does not show.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from cutlayers.geometry.paths import Path
from cutlayers.geometry.transforms import Point, turn_between
from cutlayers.toolpaths.model import WorkedLine
from cutlayers.toolpaths.places import Region
from cutlayers.toolpaths.stops import Stop
from cutlayers.toolpaths.tour import shortest_way

SHARP = math.radians(10.0)
"""A turn from which a joint is a corner, where a start shows less than in a smooth line."""

ROUND_JOINT = 1.0
"""mm; an arc no longer than this is a corner too: one that a kerf has rounded."""


def in_order(
    lines: Sequence[WorkedLine],
    start: Point,
    widening: float = 0.0,
    stop: Callable[[], bool] = lambda: False,
) -> list[tuple[WorkedLine, tuple[Path, ...]]]:
    """The lines in working order, each with the paths that follow it, turned or begun anew as
    suits the way.

    `start` is where the tool comes from. `widening` is half the kerf by which contours were
    moved away from their `glued` stretches. Where `stop` ends the search early, the way is longer.
    """
    later = containers([line.stroke.path for line in lines])
    starts = [_starts(line, widening) for line in lines]
    stops = [
        Stop(_entries(line, mine), after)
        for line, mine, after in zip(lines, starts, later, strict=True)
    ]
    return [
        (lines[number], _worked(lines[number], starts[number], entry))
        for number, entry in shortest_way(stops, start, stop)
    ]


def containers(paths: Sequence[Path]) -> list[tuple[int, ...]]:
    """For each path, the numbers of the smallest closed path that it lies in: one or none.

    Paths must not cross; one that lies on a closed path is not inside it.
    """
    regions = [Region(path) if path.closed else None for path in paths]
    found: list[tuple[int, ...]] = []
    for number, path in enumerate(paths):
        middle = path.segments[0].point_at(0.5)
        mine = regions[number]
        inside = [
            (region.area, other)
            for other, region in enumerate(regions)
            if region is not None
            and other != number
            and (mine is None or mine.area < region.area)
            and region.holds(middle)
        ]
        found.append((min(inside)[1],) if inside else ())
    return found


def _entries(line: WorkedLine, starts: tuple[int, ...]) -> tuple[tuple[Point, Point], ...]:
    """Where the tool comes down and lifts, for each of the starts, or for both directions."""
    path, pieces = line.stroke.path, line.pieces
    if not path.closed:
        first, last = (pieces[0].start, pieces[-1].end) if pieces else (path.start, path.end)
        return (first, last), (last, first)
    if pieces:
        return tuple((pieces[number].start, pieces[number - 1].end) for number in starts)
    return tuple((path.vertices[number], path.vertices[number]) for number in starts)


def _starts(line: WorkedLine, widening: float) -> tuple[int, ...]:
    """Where a closed line may begin: the numbers of its pieces, or those of vertices; among
    these hidden corners, else any corner, else any vertex. None for an open line."""
    stroke, path = line.stroke, line.stroke.path
    if not path.closed:
        return ()
    if line.lead is not None:
        return (0,)
    if line.pieces:
        return tuple(range(len(line.pieces)))
    count = len(path.vertices)
    if stroke.glued:
        hidden = [joint for tab in stroke.glued for joint in tab.vertices[1:-1]]
        # A corner that a kerf has rounded lies half a kerf away from where it was.
        near = [
            number
            for number, vertex in enumerate(path.vertices)
            if any(math.dist(vertex, corner) <= widening + 1e-3 for corner in hidden)
        ]
        if near:
            return tuple(near)
    edges = path.segments
    corners = [
        number
        for number in range(count)
        if _is_corner(edges[number - 1].direction_at(1.0), edges[number].direction_at(0.0))
        or (edges[number].bulge and edges[number].length <= ROUND_JOINT)
    ]
    return tuple(corners or range(count))


def _is_corner(arriving: Point, leaving: Point) -> bool:
    return abs(turn_between(arriving, leaving)) >= SHARP


def _worked(line: WorkedLine, starts: tuple[int, ...], entry: int) -> tuple[Path, ...]:
    """The paths that follow a line from one of its entries."""
    path, pieces = line.stroke.path, line.pieces
    if path.closed:
        number = starts[entry]
        return pieces[number:] + pieces[:number] if pieces else (path.started_at(number),)
    if not entry:
        return pieces or (path,)
    return tuple(each.reversed() for each in reversed(pieces or (path,)))
