"""How long a tool takes for its way.

Between rests a tool gains speed evenly, runs at its set speed, and slows down as evenly: over a
distance d with speed v and acceleration a that takes d/v + v/a, or 2·√(d/a) where d < v²/a and
the set speed is never reached. Source: motion with constant acceleration. A tool is taken to
rest wherever its path turns sharply; a machine that looks ahead is a little quicker.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import turn_between
from cutlayers.profile.tools import Tool

REST_TURN = math.radians(15.0)
"""A turn from which the carriage must all but stop; below it hardly slows. Empirical."""


def motion_s(distance: float, speed_mm_s: float, acceleration_mm_s2: float) -> float:
    """Seconds from rest to rest over a distance in mm; 0 for no distance."""
    if distance < speed_mm_s**2 / acceleration_mm_s2:
        return 2.0 * math.sqrt(distance / acceleration_mm_s2)
    return distance / speed_mm_s + speed_mm_s / acceleration_mm_s2


def runs(path: Path) -> Iterator[tuple[Segment, ...]]:
    """The edges of a path, parted wherever a tool on it comes to rest."""
    edges = path.segments
    first = 0
    for number, (edge, following) in enumerate(zip(edges, (*edges[1:], None), strict=True), 1):
        if following is None or (
            abs(turn_between(edge.direction_at(1.0), following.direction_at(0.0))) >= REST_TURN
        ):
            yield edges[first:number]
            first = number


def run_s(run: tuple[Segment, ...], tool: Tool) -> float:
    """Seconds that a tool takes from rest to rest along edges."""
    length = math.fsum(edge.length for edge in run)
    return motion_s(length, tool.speed_mm_s, tool.acceleration_mm_s2)


def work_s(path: Path, tool: Tool) -> float:
    """Seconds that a tool takes along a path, from rest to rest."""
    return math.fsum(run_s(run, tool) for run in runs(path))


def travel_s(distance: float, tool: Tool) -> float:
    """Seconds that a tool takes to lift, travel a distance in mm, and come down."""
    return tool.lift_s + motion_s(distance, tool.travel_speed_mm_s, tool.acceleration_mm_s2)
