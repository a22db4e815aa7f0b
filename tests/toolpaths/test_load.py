"""Time and load, against motion with constant acceleration worked out by hand."""

from __future__ import annotations

import json
import math
from dataclasses import asdict, replace

import pytest

from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Operation, Part, Stroke
from cutlayers.profile.card_settings import Material, MaterialUse
from cutlayers.profile.tools import Tool, ToolType
from cutlayers.toolpaths import load_table
from cutlayers.toolpaths.motion import motion_s, travel_s, work_s
from tests.plans import plan_toolpaths
from tests.toolpaths.shapes import TOOLS, cut, fold, machine

NEW: dict[str, float | str] = {"force": 22.0, "note": "new"}
PEN = Tool(
    "pen",
    ToolType.PEN,
    speed_mm_s=50.0,
    travel_speed_mm_s=200.0,
    acceleration_mm_s2=500.0,
    lift_s=0.15,
)


@pytest.mark.parametrize(
    ("distance", "seconds"),
    [
        # 50²/500 = 5 mm are needed to reach 50 mm/s and stop again.
        pytest.param(100.0, 2.1, id="100/50 + 50/500"),
        pytest.param(5.0, 0.2, id="just reached: 5/50 + 50/500"),
        pytest.param(4.0, 2 * math.sqrt(4 / 500), id="never reached: 2·√(4/500)"),
        pytest.param(0.0, 0.0, id="nothing"),
    ],
)
def test_travel(distance: float, seconds: float) -> None:
    """Gain speed evenly, run, slow down evenly."""
    assert motion_s(distance, 50.0, 500.0) == pytest.approx(seconds)


def test_a_tool_rests_at_corners_and_runs_through_smooth_joints() -> None:
    """A square of 20 mm is four rests: 4·(20/50 + 0.1) = 2 s. A ring of the same length is one
    run: 80/50 + 0.1 = 1.7 s."""
    assert work_s(Path.rectangle(20, 20), PEN) == pytest.approx(2.0)
    assert work_s(Path.circle((0, 0), 40 / math.pi), PEN) == pytest.approx(1.7)


def test_travel_has_a_lift() -> None:
    """100 mm at 200 mm/s take 100/200 + 200/500 = 0.9 s; lifting 0.15 s."""
    assert travel_s(100.0, PEN) == pytest.approx(1.05)


def test_a_table_added_up_by_hand() -> None:
    """One drawn line and one square, in two operations with a change of tool between.

    Draw: 60 mm from (40, 30) to (100, 30), 50 mm of way to it (a 3-4-5 triangle), which at
    200 mm/s needs 80 mm to get up to speed, so 2·√(50/500) s. Cut: the square of 20 mm at
    (100, 30), 0 mm away, twice over."""
    tools = {**TOOLS, "pen": PEN, "needle": replace(PEN, name="needle", type=ToolType.LASER)}
    how = replace(
        machine("needle", tools, cut={"passes": 2}),
        tool_change_s=30.0,
        materials={"kraft": Material("kraft", uses={Operation.CUT: MaterialUse(settings=NEW)})},
    )
    strokes = [
        Stroke(Operation.DRAW, Path.line((40, 30), (100, 30)), Part.MARK, "line"),
        cut(Path.rectangle(20, 20, (100, 30))),
    ]
    table = load_table(plan_toolpaths(strokes, how), how, "kraft")

    draw, square = table.rows
    assert (draw.operation, draw.tool, draw.passes, draw.strokes) == ("draw", "pen", 1, 1)
    assert (draw.cut_length, draw.travel_length) == pytest.approx((60, 50))
    assert draw.minutes * 60 == pytest.approx(60 / 50 + 0.1 + 2 * math.sqrt(50 / 500) + 0.15)
    assert (square.passes, square.tool_type, square.layer) == (2, "laser", "cut")
    assert square.settings == NEW
    assert (square.cut_length, square.travel_length) == pytest.approx((80, 0))
    assert square.minutes * 60 == pytest.approx(2 * 2.0 + 2 * 0.15)
    assert table.tool_changes == 1
    assert table.minutes == pytest.approx(draw.minutes + square.minutes + 0.5)


def test_one_tool_for_all_needs_no_change() -> None:
    """Perforating and cutting with the same blade."""
    strokes = [
        cut(Path.rectangle(60, 60)),
        Stroke(Operation.PERFORATE, Path.line((0, 30), (60, 30)), Part.SLIT, "tear"),
    ]
    how = machine("blade")

    assert load_table(plan_toolpaths(strokes, how), how).tool_changes == 0


def test_the_table_goes_into_json() -> None:
    """Plain values all through."""
    how = machine("blade")
    plan = plan_toolpaths([cut(Path.rectangle(60, 60)), fold(Path.line((0, 9), (60, 9)))], how)
    table = json.loads(json.dumps(asdict(load_table(plan, how))))

    assert [row["operation"] for row in table["rows"]] == ["score", "cut"]
    assert table["tool_changes"] == 1


def test_an_empty_plan_takes_no_time() -> None:
    """No rows, no changes, no minutes."""
    how = machine()
    table = load_table(plan_toolpaths([], how), how)

    assert (table.rows, table.tool_changes, table.minutes) == ((), 0, 0.0)
