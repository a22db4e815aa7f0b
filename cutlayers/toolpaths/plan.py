"""The second stage: the lines of each layer in working order, as the paths of real tools."""

from __future__ import annotations

from collections.abc import Sequence

from cutlayers.geometry.strokes import Operation, Stroke
from cutlayers.geometry.transforms import Point
from cutlayers.profile.machine import Machine
from cutlayers.telling.budget import ENDLESS, Budget
from cutlayers.toolpaths.blade import (
    final_direction,
    holder_path,
    overcut,
    rest_direction,
    trails,
)
from cutlayers.toolpaths.load import HOME
from cutlayers.toolpaths.model import Plan, Toolpath, Worked
from cutlayers.toolpaths.order import in_order
from cutlayers.toolpaths.working_out import work_out


def plan_toolpaths(strokes: Sequence[Stroke], machine: Machine, budget: Budget = ENDLESS) -> Plan:
    """Work out the front of one sheet, as `work_out` does, and order it."""
    return ordered(work_out(strokes, machine), budget)


def ordered(worked: Worked, budget: Budget = ENDLESS) -> Plan:
    """Put the lines of each layer into working order, and lead each tool along them.

    This is the dear stage: what was found is in `worked` already. The same input gives the same
    plan, unless the budget's time is over before the best order is found: then the ways are longer
    and all else is as ever. Raises Cancelled where the budget says so.
    """
    toolpaths: list[Toolpath] = []
    here = HOME
    pointing: dict[str, Point] = {}
    for layer in worked.layers:
        budget.check()
        tool = layer.tool
        for line, tips in in_order(layer.lines, here, tool.kerf / 2, lambda: budget.spent):
            if layer.operation is Operation.CUT and not line.pieces:
                tips = tuple(overcut(tip, tool.overcut) for tip in tips)
            for tip in tips:
                path = tip
                if trails(tool):
                    path = holder_path(tip, tool, pointing.get(tool.name, rest_direction(tool)))
                    pointing[tool.name] = final_direction(tip)
                stroke = line.stroke
                toolpaths.append(Toolpath(layer.operation, tool, path, stroke.part, stroke.name))
                here = tip.end
    return Plan(tuple(toolpaths), worked.by_hand, worked.perforated, worked.findings)
