"""A plan in time: where each tool is at every moment, as `load_table` counts the time.

The axis pulls the tip of a trailing blade along like a castor: on a straight way the blade turns
into line as `approach` says, on an arc the tip keeps `offset` mm behind from step to step, which is
exact where the axis swings about it. Source: geometry of a trailing wheel.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import repeat

from cutlayers.frozen import frozen
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Point, turn_between
from cutlayers.profile.tools import Tool
from cutlayers.toolpaths.approach import RUN
from cutlayers.toolpaths.blade import rest_direction
from cutlayers.toolpaths.load import HOME
from cutlayers.toolpaths.model import Plan
from cutlayers.toolpaths.motion import motion_s, run_s, runs

CHORD = 0.002
"""mm by which chords may stray from arcs, so that a blade's swing looks round when seen large."""

ASKEW = math.radians(0.5)
"""The angle between blade and way that is taken for none, and what an arc may turn in one step."""

STEPS = 8
"""So many of them for each offset of straight way."""


@frozen
class Move:
    """A tool's way from rest to rest, in seconds from the beginning; between two moves it stands,
    to be lifted, let down or changed.

    `line` counts the plan's toolpaths, from 0; of a lifted tool it is that which it goes to. The
    tool gains and loses speed evenly, by its own `acceleration_mm_s2`. `axis` is the way of the
    holder in mm, as it is written for the machine, and `tip` where the tip of a trailing blade is
    at each of these points; it is empty of other tools and of lifted ones.
    """

    line: int
    lifted: bool
    start: float
    end: float
    axis: tuple[Point, ...]
    tip: tuple[Point, ...] = ()


def moves(plan: Plan, tool_change_s: float) -> tuple[Move, ...]:
    """All moves of one side of a sheet, from the sheet's lower left corner on; a change of tools
    takes `tool_change_s` seconds."""
    found: list[Move] = []
    now, here, before = 0.0, HOME, ""
    heading: dict[str, Point] = {}
    for line, toolpath in enumerate(plan.toolpaths):
        tool, path = toolpath.tool, toolpath.path
        if before and before != tool.name:
            now += tool_change_s
        before = tool.name
        now += tool.lift_s / 2
        distance = math.dist(here, path.start)
        if distance:
            end = now + motion_s(distance, tool.travel_speed_mm_s, tool.acceleration_mm_s2)
            found.append(Move(line, True, now, end, (here, path.start)))
            now = end
        now += tool.lift_s / 2
        pointing = heading.get(tool.name, rest_direction(tool))
        for run in runs(path):
            end = now + run_s(run, tool)
            axis, ways = [run[0].start], [pointing]
            for edge in run:
                for point, way in _followed(edge, ways[-1], tool):
                    axis.append(point)
                    ways.append(way)
            pointing = ways[-1]
            tip = map(_behind, axis, ways, repeat(tool.offset)) if tool.trails else ()
            found.append(Move(line, False, now, end, tuple(axis), tuple(tip)))
            now = end
        heading[tool.name] = pointing
        here = path.end
    return tuple(found)


def _followed(edge: Segment, pointing: Point, tool: Tool) -> Iterator[tuple[Point, Point]]:
    """Points of the axis along an edge, its start left out, and where the blade points at each."""
    if not tool.trails:
        yield from ((point, pointing) for point in edge.flatten(CHORD))
        return
    if edge.bulge:
        at, flat = edge.start, edge.flatten(CHORD)
        finer = math.ceil(abs(edge.sweep) / len(flat) / ASKEW)
        for number, point in enumerate(flat):
            for part in range(1, finer + 1):
                tip = _behind(at, pointing, tool.offset)
                at = edge.point_at((number + part / finer) / len(flat))
                if away := math.dist(tip, at):
                    pointing = ((at[0] - tip[0]) / away, (at[1] - tip[1]) / away)
            yield point, pointing
        return
    way, length = edge.direction_at(0.0), edge.length
    askew = turn_between(way, pointing)
    step = tool.offset / STEPS
    if abs(askew) > ASKEW:
        for number in range(1, math.ceil(min(length, RUN * tool.offset) / step)):
            along = number * step
            yield edge.point_at(along / length), _turned(way, _left(askew, along, tool))
    yield edge.end, _turned(way, _left(askew, length, tool))


def _left(askew: float, distance: float, tool: Tool) -> float:
    """What a straight way leaves of the angle between blade and way."""
    return 2 * math.atan(math.tan(askew / 2) * math.exp(-distance / tool.offset))


def _turned(way: Point, angle: float) -> Point:
    (x, y), cos, sin = way, math.cos(angle), math.sin(angle)
    return x * cos - y * sin, x * sin + y * cos


def _behind(axis: Point, pointing: Point, offset: float) -> Point:
    return axis[0] - offset * pointing[0], axis[1] - offset * pointing[1]
