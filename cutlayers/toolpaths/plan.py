"""The second stage: the lines of each layer in working order, as the paths of real tools."""

from __future__ import annotations

from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Operation, Part, Stroke
from cutlayers.geometry.transforms import Point
from cutlayers.telling.budget import ENDLESS, Budget
from cutlayers.toolpaths.blade import (
    final_direction,
    holder_path,
    overcut,
    rest_direction,
)
from cutlayers.toolpaths.load import HOME
from cutlayers.toolpaths.model import Plan, Toolpath, Worked, WorkedLayer, WorkedLine
from cutlayers.toolpaths.order import in_order


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
        if layer.hook is not None:
            toolpaths.append(_hook(layer, layer.hook))
            here, pointing[layer.tool.name] = layer.hook.end, final_direction(layer.hook)
        lines = in_order(layer.lines, here, layer.tool.kerf / 2, lambda: budget.spent)
        for turn in range(1, layer.passes + 1):
            for line, tips in lines:
                for tip in _tips(layer, line, tips):
                    toolpaths.append(_followed(layer, line.stroke, tip, turn, pointing))
                    here = tip.end
    return Plan(tuple(toolpaths), worked.by_hand, worked.perforated, worked.findings)


def _hook(layer: WorkedLayer, path: Path) -> Toolpath:
    """The stroke of the axis that sets a blade straight."""
    return Toolpath(layer.operation, layer.tool, path, Part.SLIT, "to set the blade straight")


def _tips(layer: WorkedLayer, line: WorkedLine, tips: tuple[Path, ...]) -> tuple[Path, ...]:
    """What the tip follows of a line, its way in and what it runs on past its start included."""
    if layer.operation is Operation.CUT and not line.pieces:
        tips = tuple(overcut(tip, layer.tool.overcut) for tip in tips)
    if line.lead is None:
        return tips
    first, *others = tips
    once = first.segments
    return (Path.from_segments((*line.lead.segments, *once), closed=False), *others)


def _followed(
    layer: WorkedLayer, stroke: Stroke, tip: Path, turn: int, pointing: dict[str, Point]
) -> Toolpath:
    """The path of a tool whose tip follows `tip`; where its blade points then is noted."""
    tool, path = layer.tool, tip
    if tool.trails:
        path = holder_path(tip, tool, pointing.get(tool.name, rest_direction(tool)))
        pointing[tool.name] = final_direction(tip)
    return Toolpath(layer.operation, tool, path, stroke.part, stroke.name, turn)
