"""What a plan asks of the machine: tools, settings, lengths and time, operation by operation."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Mapping, Sequence

from cutlayers.frozen import frozen
from cutlayers.geometry.strokes import Operation
from cutlayers.geometry.transforms import Point
from cutlayers.profile.machine import Machine
from cutlayers.toolpaths.model import Plan, Toolpath
from cutlayers.toolpaths.motion import travel_s, work_s

HOME: Point = (0.0, 0.0)
"""Where the tool comes from: the lower left corner of the sheet."""


@frozen
class LoadRow:
    """One operation with one tool. Lengths in mm are those of one pass; `minutes` are of all.

    `settings` are what the profile notes for the card, under the user's own names.
    """

    operation: Operation
    layer: str
    tool: str
    tool_type: str
    settings: Mapping[str, float | str]
    passes: int
    strokes: int
    cut_length: float
    travel_length: float
    minutes: float


@frozen
class LoadTable:
    """The rows in working order; `tool_changes` are stops to put in another tool, the first tool
    not counted, and `minutes` is all together, stops included."""

    rows: tuple[LoadRow, ...]
    tool_changes: int
    minutes: float


def load_table(plan: Plan, machine: Machine, material: str | None = None) -> LoadTable:
    """Work out the load of one side of a sheet, with the settings for a material by its name.

    Idle travel begins at the sheet's lower left corner and is the way between strokes, tool lifted.
    """
    rows = []
    here = HOME
    for (operation, _), group in itertools.groupby(
        plan.toolpaths, key=lambda each: (each.operation, each.tool.name)
    ):
        mine = list(group)
        rows.append(_row(operation, mine, here, machine, material))
        here = mine[-1].path.end
    changes = tool_changes(row.tool for row in rows)
    minutes = math.fsum(row.minutes for row in rows) + changes * machine.tool_change_s / 60
    return LoadTable(tuple(rows), changes, minutes)


def tool_changes(tools: Iterable[str]) -> int:
    """Stops to put in another tool, for the tools of the layers in working order."""
    return sum(one != other for one, other in itertools.pairwise(tools))


def settings_for(
    operation: Operation, machine: Machine, material: str | None
) -> Mapping[str, float | str]:
    """What the profile notes for an operation on a material; empty where it notes nothing."""
    card = machine.materials.get(material or "")
    use = card.uses.get(operation) if card else None
    return use.settings if use else {}


def _row(
    operation: Operation,
    toolpaths: Sequence[Toolpath],
    here: Point,
    machine: Machine,
    material: str | None,
) -> LoadRow:
    how, tool = machine.operations[operation], toolpaths[0].tool
    once = [each for each in toolpaths if each.turn == 1]
    work = math.fsum(work_s(each.path, tool) for each in toolpaths)
    travel = math.fsum(travel_s(gap, tool) for gap in _gaps(toolpaths, here))
    return LoadRow(
        operation=operation,
        layer=how.layer,
        tool=tool.name,
        tool_type=tool.type.value,
        settings=settings_for(operation, machine, material),
        passes=how.passes,
        strokes=len(once),
        cut_length=math.fsum(each.path.length for each in once),
        travel_length=math.fsum(_gaps(once, here)),
        minutes=(work + travel) / 60,
    )


def _gaps(toolpaths: Iterable[Toolpath], here: Point) -> list[float]:
    """Straight ways from each path's end to the next one's start."""
    gaps = []
    for each in toolpaths:
        gaps.append(math.dist(here, each.path.start))
        here = each.path.end
    return gaps
