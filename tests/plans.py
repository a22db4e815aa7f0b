"""Toolpaths in one step, for tests that ask for no more."""

from __future__ import annotations

from collections.abc import Sequence

from cutlayers.geometry.strokes import Stroke
from cutlayers.profile.machine import Machine
from cutlayers.telling.budget import ENDLESS, Budget
from cutlayers.toolpaths import Plan, ordered, work_out


def plan_toolpaths(strokes: Sequence[Stroke], machine: Machine, budget: Budget = ENDLESS) -> Plan:
    """The front of one sheet worked out and put in order."""
    return ordered(work_out(strokes, machine), budget)
