"""How long a tool takes for its way.

Between rests a tool gains speed evenly, runs at its set speed, and slows down as evenly: over a
distance d with speed v and acceleration a that takes d/v + v/a, or 2·√(d/a) where d < v²/a and
the set speed is never reached. Source: motion with constant acceleration. A tool is taken to
rest wherever its path turns sharply; a machine that looks ahead is a little quicker.
"""

from __future__ import annotations

import math

from cutlayers.geometry.paths import Path
from cutlayers.geometry.transforms import turn_between
from cutlayers.profile.tools import Tool

REST_TURN = math.radians(15.0)
"""A turn from which the carriage must all but stop; below it hardly slows. Empirical."""


def motion_s(distance: float, speed_mm_s: float, acceleration_mm_s2: float) -> float:
    """Seconds from rest to rest over a distance in mm; 0 for no distance."""
    if distance < speed_mm_s**2 / acceleration_mm_s2:
        return 2.0 * math.sqrt(distance / acceleration_mm_s2)
    return distance / speed_mm_s + speed_mm_s / acceleration_mm_s2


def work_s(path: Path, tool: Tool) -> float:
    """Seconds that a tool takes along a path, from rest to rest."""
    seconds, run = 0.0, 0.0
    edges = path.segments
    for edge, following in zip(edges, (*edges[1:], None), strict=True):
        run += edge.length
        if following is None or (
            abs(turn_between(edge.direction_at(1.0), following.direction_at(0.0))) >= REST_TURN
        ):
            seconds += motion_s(run, tool.speed_mm_s, tool.acceleration_mm_s2)
            run = 0.0
    return seconds


def travel_s(distance: float, tool: Tool) -> float:
    """Seconds that a tool takes to lift, travel a distance in mm, and come down."""
    return tool.lift_s + motion_s(distance, tool.travel_speed_mm_s, tool.acceleration_mm_s2)
