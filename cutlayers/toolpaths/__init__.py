"""Toolpaths: strokes made into what a real tool can follow."""

from cutlayers.toolpaths.model import Plan, Toolpath
from cutlayers.toolpaths.plan import plan_toolpaths

__all__ = ["Plan", "Toolpath", "plan_toolpaths"]
