"""Toolpaths: strokes made into what a real tool can follow."""

from cutlayers.toolpaths.load import LoadRow, LoadTable, load_table
from cutlayers.toolpaths.model import PerforatedLine, Plan, Toolpath
from cutlayers.toolpaths.plan import plan_back, plan_toolpaths
from cutlayers.toolpaths.second_side import turned_over

__all__ = [
    "LoadRow",
    "LoadTable",
    "PerforatedLine",
    "Plan",
    "Toolpath",
    "load_table",
    "plan_back",
    "plan_toolpaths",
    "turned_over",
]
