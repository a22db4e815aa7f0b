"""Toolpaths: strokes made into what a real tool can follow."""

from cutlayers.toolpaths.approach import with_approaches
from cutlayers.toolpaths.leads import Ground
from cutlayers.toolpaths.load import (
    LoadRow,
    LoadTable,
    load_table,
    settings_for,
    tool_changes,
)
from cutlayers.toolpaths.model import (
    PerforatedLine,
    Plan,
    Toolpath,
    Worked,
    WorkedLayer,
    WorkedLine,
)
from cutlayers.toolpaths.moves import Move, moves
from cutlayers.toolpaths.plan import ordered
from cutlayers.toolpaths.reach import out_of_reach, reach
from cutlayers.toolpaths.second_side import turned_over
from cutlayers.toolpaths.working_out import work_out, work_out_back

__all__ = [
    "Ground",
    "LoadRow",
    "LoadTable",
    "Move",
    "PerforatedLine",
    "Plan",
    "Toolpath",
    "Worked",
    "WorkedLayer",
    "WorkedLine",
    "load_table",
    "moves",
    "ordered",
    "out_of_reach",
    "reach",
    "settings_for",
    "tool_changes",
    "turned_over",
    "with_approaches",
    "work_out",
    "work_out_back",
]
