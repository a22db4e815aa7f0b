"""The way of a holder whose blade trails behind it like a castor.

Terms: the *tip* cuts; the *axis* of the holder runs `offset` mm ahead of it, in the direction
in which the tip moves. So for every edge that the tip is to follow there is one for the axis:

- a line: the same line, shifted `offset` along itself;
- an arc of radius r: an arc about the same centre with radius √(r² + offset²), turned forward
  by atan(offset / r); the included angle stays, and so does the bulge;
- a corner: an arc of radius `offset` about it, on which the axis swings while the tip stands.

Source: geometry of a trailing wheel (the tip's velocity points along the blade to the axis).
"""

from __future__ import annotations

import math
from dataclasses import replace

from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Point, turn_between
from cutlayers.profile.tools import Tool

STILL = 1e-9
"""mm; a way shorter than this is rounding."""

LEAST_STEP = 0.01
"""mm; a step of the axis shorter than this is left out, since no machine makes it: the motors of
small ones step by 0.025 mm or so (common practice, no source). The tip strays by less than it."""


def overcut(path: Path, distance: float) -> Path:
    """A closed path run on past its start by `distance` mm, at most once round; open paths stay.

    The result is open where the path runs on.
    """
    if not path.closed or distance <= STILL:
        return path
    more = path.part(0.0, min(distance, path.length))
    return Path.from_segments((*path.segments, *more.segments), closed=False)


def rest_direction(tool: Tool) -> Point:
    """Where the blade points before its first cut, as a unit vector."""
    angle = math.radians(tool.rest_angle_deg)
    return math.cos(angle), math.sin(angle)


def final_direction(path: Path) -> Point:
    """Where the blade points after its tip has followed a path, as a unit vector."""
    return path.segments[-1].direction_at(1.0)


def holder_path(path: Path, tool: Tool, pointing: Point) -> Path:
    """The open path of the axis that leads the tip along `path`.

    `pointing` is where the blade points when it comes down, a unit vector: if that is not nearly
    the way the path begins, the axis first swings about the start. Turns of `tool.corner_angle_deg`
    or more get a swing, lesser ones a straight step of the axis, in which the tip strays by
    less than offset·(1 − cos(turn/2)). A closed path comes back to its start; run it through
    `overcut` first to go on from there.
    """
    offset, least = tool.offset, math.radians(tool.corner_angle_deg)
    edges = path.segments
    moved: list[Segment] = []
    heading = pointing
    for edge in edges:
        leaving = edge.direction_at(0.0)
        moved += _swing(edge.start, heading, leaving, offset, least)
        heading = edge.direction_at(1.0)
        start, end = _ahead(edge.start, leaving, offset), _ahead(edge.end, heading, offset)
        moved.append(Segment(start, end, edge.bulge))
    return Path.from_segments(_joined(moved), closed=False)


def _swing(
    corner: Point, arriving: Point, leaving: Point, offset: float, least: float
) -> list[Segment]:
    start, end = _ahead(corner, arriving, offset), _ahead(corner, leaving, offset)
    if math.dist(start, end) <= LEAST_STEP:
        return []
    turn = turn_between(arriving, leaving)
    return [Segment(start, end, math.tan(turn / 4) if abs(turn) >= least else 0.0)]


def _ahead(point: Point, direction: Point, offset: float) -> Point:
    return point[0] + offset * direction[0], point[1] + offset * direction[1]


def _joined(edges: list[Segment]) -> list[Segment]:
    """Edges that start exactly where the one before ended."""
    joined = edges[:1]
    for edge in edges[1:]:
        joined.append(replace(edge, start=joined[-1].end))
    return joined
