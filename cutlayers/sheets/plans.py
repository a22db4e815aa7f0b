"""What is wanted of each kind, and how many sheets get which layout.

A *demand* says how many pieces of each kind are wanted. A *plan* is a list of layouts, each with
the number of sheets that get it; it lays exactly the demand.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from cutlayers.frozen import frozen
from cutlayers.sheets.laying import PieceKind, Room, SheetLayout

Demand = Mapping[int, int]


@frozen
class Repeated:
    """One layout and the number of sheets that get it."""

    layout: SheetLayout
    sheets: int


SheetPlan = tuple[Repeated, ...]


def sheets_in(plan: SheetPlan) -> int:
    """How many sheets a plan takes."""
    return sum(repeated.sheets for repeated in plan)


def fewest_sheets(kinds: Sequence[PieceKind], demand: Demand, room: Room) -> int:
    """A number of sheets that no plan can beat, from the areas alone."""
    area = sum(kinds[kind].outline.area * count for kind, count in demand.items())
    return math.ceil(area / room.area_mm2 - 1e-9)
