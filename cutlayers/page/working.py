"""How a side of a sheet is worked, moment by moment: values for the page's scripts."""

from __future__ import annotations

from itertools import chain
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:  # what lays out is loaded once somebody looks
    from collections.abc import Sequence

    from cutlayers import Planned

CHORD = 0.02
"""mm by which chords may stray from the arcs of register marks."""


def working(planned: Planned, number: int) -> dict[str, Any] | None:
    """The side of that number, its lines in working order and the moves along them, points as
    x, y, x, y … in mm from the lower left corner; None where there is no such side."""
    if not 0 <= number < len(planned.sides):
        return None
    from cutlayers import moves_of

    side = planned.sides[number]
    laid, machine = side.laid, side.laid.machine
    lines = [
        {
            "layer": machine.operations[each.operation].layer,
            "work": each.operation.value,
            "colour": machine.operations[each.operation].colour,
            "tool": each.tool.name,
            "name": each.name,
            "turn": each.turn,
            "turns": machine.operations[each.operation].passes,
            "gains": each.tool.acceleration_mm_s2,
        }
        for each in side.plan.toolpaths
    ]
    moves = [
        {
            "line": each.line,
            "lifted": each.lifted,
            "start": round(each.start, 4),
            "end": round(each.end, 4),
            "axis": _flat(each.axis),
            "tip": _flat(each.tip),
        }
        for each in moves_of(side)
    ]
    return {
        "width": laid.sheet.width,
        "height": laid.sheet.height,
        "seconds": round(60 * side.load.minutes, 4),
        "kept": machine.files.order == "kept",
        "marks": [_flat(path.as_line(CHORD)) for path in laid.marks],
        "lines": lines,
        "moves": moves,
    }


def _flat(points: Sequence[tuple[float, float]]) -> list[float]:
    return [round(each, 4) for each in chain.from_iterable(points)]
