"""In which order lines are worked, where each begins, and which way round.

What lies inside a closed cut comes before it, since a piece that is cut free may shift: the
holes of a piece before its outline, and a piece inside a window before the window. Closed cuts
begin at a corner that a glue tab will hide, where they have one: what a blade leaves where it
comes down and where it runs on then does not show.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from cutlayers.geometry.offsetting import turn_between
from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Stroke
from cutlayers.geometry.transforms import Point
from cutlayers.toolpaths.places import Region
from cutlayers.toolpaths.stops import Stop
from cutlayers.toolpaths.tour import shortest_way

SHARP = math.radians(10.0)
"""A turn from which a joint is a corner, where a start shows less than in a smooth line."""

ROUND_JOINT = 1.0
"""mm; an arc no longer than this is a corner too: one that a kerf has rounded."""


def in_order(strokes: Sequence[Stroke], start: Point, widening: float = 0.0) -> tuple[Stroke, ...]:
    """The strokes in working order, each turned or begun anew as suits the way.

    `start` is where the tool comes from. `widening` is half the kerf by which contours were
    moved away from their `glued` stretches.
    """
    later = containers([stroke.path for stroke in strokes])
    stops: list[Stop] = []
    starts: list[tuple[int, ...]] = []
    for stroke, after in zip(strokes, later, strict=True):
        path = stroke.path
        if path.closed:
            numbers = _starts(stroke, widening)
            points = [path.vertices[number] for number in numbers]
            stops.append(Stop(tuple((point, point) for point in points), after))
            starts.append(numbers)
        else:
            stops.append(Stop(((path.start, path.end), (path.end, path.start)), after))
            starts.append(())
    return tuple(
        _worked(strokes[stop], starts[stop], entry) for stop, entry in shortest_way(stops, start)
    )


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


def _starts(stroke: Stroke, widening: float) -> tuple[int, ...]:
    """The vertices at which a closed cut may begin, by number: hidden corners, else any corner,
    else any vertex."""
    path = stroke.path
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


def _worked(stroke: Stroke, starts: tuple[int, ...], entry: int) -> Stroke:
    if stroke.path.closed:
        return replace(stroke, path=stroke.path.started_at(starts[entry]))
    return replace(stroke, path=stroke.path.reversed()) if entry else stroke
