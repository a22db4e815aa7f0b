"""A plan in time: the seconds of motion worked out by hand, and a blade that is simulated."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest

from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Operation, Part, Stroke
from cutlayers.profile.tools import Tool, ToolType
from cutlayers.toolpaths import load_table, moves
from tests.plans import plan_toolpaths
from tests.toolpaths.shapes import TOOLS, cut, machine
from tests.toolpaths.tractrix import trail

PEN = Tool(
    "pen",
    ToolType.PEN,
    speed_mm_s=50.0,
    travel_speed_mm_s=200.0,
    acceleration_mm_s2=500.0,
    lift_s=0.2,
)


def test_moves_added_up_by_hand() -> None:
    """A drawn line of 60 mm from (30, 40), 50 mm away, then a square of 20 mm with another tool,
    which begins where the line ends. 50 mm at 500 mm/s² and at most 200 mm/s take 2·√(50/500) s,
    60 mm at 50 mm/s 60/50 + 50/500 s, a side of the square 20/50 + 50/500 s. Half of a lift is
    before a way, half after it, and the change of tools takes 30 s."""
    tools = {**TOOLS, "pen": PEN, "needle": replace(PEN, name="needle", type=ToolType.LASER)}
    how = replace(machine("needle", tools), tool_change_s=30.0)
    line = Stroke(Operation.DRAW, Path.line((30, 40), (90, 40)), Part.MARK, "line")
    plan = plan_toolpaths([line, cut(Path.rectangle(20, 20, (90, 40)))], how)

    found = moves(plan, 30.0)

    there = 0.1 + 2 * math.sqrt(50 / 500)
    drawn = there + 0.1 + 1.3
    times = [(0.1, there), (there + 0.1, drawn)]
    times += [(drawn + 30.2 + 0.5 * side, drawn + 30.2 + 0.5 * (side + 1)) for side in range(4)]
    assert [each.start for each in found] == pytest.approx([start for start, _ in times])
    assert [each.end for each in found] == pytest.approx([end for _, end in times])
    assert [each.lifted for each in found] == [True, False, False, False, False, False]
    assert [each.line for each in found] == [0, 0, 1, 1, 1, 1]
    assert all(each.tip == () for each in found)
    assert found[-1].end == pytest.approx(60 * load_table(plan, how).minutes)


@pytest.mark.parametrize(
    "path",
    [
        pytest.param(Path.rectangle(30, 20, (40, 40)), id="corners"),
        pytest.param(Path.circle((60, 60), 4), id="an arc"),
        pytest.param(Path.polyline([(40, 40), (60, 41), (61, 70), (62, 40)]), id="a sharp point"),
    ],
)
def test_the_blade_is_where_a_trailing_wheel_would_be(path: Path) -> None:
    """Against the differential equation of the tractrix, integrated along the same axis, and
    against the line that the tip is to follow. A turn below the tool's corner angle may stray."""
    how = machine("blade")
    tool = how.tools["blade"]
    part = Part.OUTLINE if path.closed else Part.SLIT
    plan = plan_toolpaths([cut(path, part)], how)
    work = [each for each in moves(plan, 0.0) if not each.lifted]

    rest = math.radians(tool.rest_angle_deg)
    axis = [point for toolpath in plan.toolpaths for point in toolpath.path.as_line(1e-6)]
    end = trail(axis, tool.offset, rest)[-1]

    assert math.dist(work[-1].tip[-1], end) < 0.02 * tool.offset
    for before, after in pairwise(work):
        if before.line == after.line:
            assert math.dist(before.tip[-1], after.tip[0]) < 1e-9
    line = path.points(1e-4)
    line += line[:1] if path.closed else []
    for each in work:
        assert len(each.tip) == len(each.axis)
        for tip, at in zip(each.tip, each.axis, strict=True):
            assert math.dist(tip, at) == pytest.approx(tool.offset)
            assert min(_away(tip, *edge) for edge in pairwise(line)) < 0.02 * tool.offset


def _away(
    point: tuple[float, float], start: tuple[float, float], end: tuple[float, float]
) -> float:
    dx, dy = end[0] - start[0], end[1] - start[1]
    share = ((point[0] - start[0]) * dx + (point[1] - start[1]) * dy) / (dx * dx + dy * dy)
    share = min(1.0, max(0.0, share))
    return math.dist(point, (start[0] + share * dx, start[1] + share * dy))
