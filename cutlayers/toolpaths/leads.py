"""Ways in through the waste, for machines that take the lines of a file in an order of their own.

Each closed cut of a trailing blade then brings its own *lead*: a straight line through the waste,
or through its own hole, that ends where the cut starts and has turned the blade by then.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Bounds
from cutlayers.geometry.strokes import Operation, Part, Stroke
from cutlayers.profile.tools import Tool
from cutlayers.telling.findings import Finding, Severity, Subject
from cutlayers.telling.quantities import count, length
from cutlayers.toolpaths.model import WorkedLayer, WorkedLine

if TYPE_CHECKING:
    import shapely

LEADS = (12.0, 10.0, 8.0)
"""Offsets of a lead, as much as there is room for; eight still turn all but the opposite 3°."""

WAYS_IN = 24
"""Directions in which room for a lead is sought."""

ROOM_CHORD = 0.02
"""mm by which chords may stray from arcs where room is looked for."""


@frozen
class Ground:
    """The sheet that lines lie on: what of it the tools reach, in mm, and squares to keep free."""

    reach: Bounds
    taken: tuple[Bounds, ...] = ()


class Leads:
    """The leads of one side of a sheet."""

    def __init__(self, strokes: Sequence[Stroke], ground: Ground) -> None:
        import shapely

        self._reach = ground.reach
        outlines = [
            shapely.Polygon(stroke.path.points(ROOM_CHORD))
            for stroke in strokes
            if stroke.operation is Operation.CUT
            and stroke.path.closed
            and stroke.part is not Part.OPENING
        ]
        self._blocked = [*outlines, *(shapely.box(*box) for box in ground.taken)]

    def added(self, layer: WorkedLayer) -> tuple[WorkedLayer, list[Finding]]:
        """A layer whose closed lines bring leads, as far as there is room for them."""
        import shapely

        lines: list[WorkedLine] = []
        without = 0
        outside = shapely.STRtree(self._blocked)
        for line in layer.lines:
            led = None
            if line.stroke.path.closed and not line.pieces:
                led = self._led(line, layer.tool, outside)
            lines.append(led or line)
            without += 0 if led else len(line.pieces) or 1
        found = [_astray(layer, without)] if without else []
        return replace(layer, lines=tuple(lines)), found

    def _led(self, line: WorkedLine, tool: Tool, outside: shapely.STRtree) -> WorkedLine | None:
        """The line begun at the corner with the longest lead, or None where none has room."""
        import numpy as np
        import shapely

        path, offset = line.stroke.path, tool.offset
        opening = line.stroke.part is Part.OPENING
        ends = np.array(path.vertices)
        angles = np.arange(WAYS_IN) * (2 * math.pi / WAYS_IN)
        ways = np.column_stack([np.cos(angles), np.sin(angles)])
        hole = shapely.Polygon(path.points(ROOM_CHORD)) if opening else None
        for run in LEADS:
            starts = (ends[:, None, :] - run * offset * ways[None]).reshape(-1, 2)
            goals = np.repeat(ends, WAYS_IN, axis=0)
            # Until half way the blade may point anywhere; then it is nearly in line.
            half = shapely.linestrings(np.stack([starts, (starts + goals) / 2], axis=1))
            # Just before the goal, where only a way that comes from the waste lies off the card.
            late = starts + (goals - starts) * (1.0 - 0.2 / run)
            rest = shapely.linestrings(np.stack([(starts + goals) / 2, late], axis=1))
            if hole is not None:
                border = hole.boundary
                free = shapely.contains_properly(hole, half) & shapely.contains_properly(hole, rest)
                free &= shapely.distance(half, border) > offset
                free &= shapely.distance(rest, border) > 0.1 * offset
            else:
                # The axis comes down anywhere about the start, as far from it as the blade trails.
                left, bottom, right, top = self._reach
                inside = starts >= (left + offset, bottom + offset)
                inside &= starts <= (right - offset, top - offset)
                free = np.asarray(inside.all(axis=1))
                free[np.unique(outside.query(half, predicate="dwithin", distance=offset)[0])] = 0
                free[
                    np.unique(outside.query(rest, predicate="dwithin", distance=offset / 10)[0])
                ] = 0
            for number in np.flatnonzero(free):
                start = (float(starts[number][0]), float(starts[number][1]))
                corner = int(number) // WAYS_IN
                begun = replace(line.stroke, path=path.started_at(corner))
                return WorkedLine(begun, lead=Path.line(start, path.vertices[corner]))
        return None


def _astray(layer: WorkedLayer, lines: int) -> Finding:
    """Cuts have no waste of their own in which the blade could be set straight.

    Measured: how many lines of a layer start in the card, and how far the tip may be off there,
    twice the blade's offset, where the machine takes lines in an order of its own.

    Why: where lines come in any order, each finds the blade pointing anywhere. Outlines and holes
    get a way in through the waste; a slit, a row of short cuts, and a hole smaller than that way
    have no waste beside them.

    Cure: have the driver keep the order of the file and write `order = "kept"` under `[files]` in
    the profile: a single stroke then sets the blade straight for all lines.

    Source: geometry of a trailing wheel.
    """
    return Finding(
        "starts-astray",
        Severity.WARNING,
        Subject(operation=layer.operation.value),
        (count(lines), length(2 * layer.tool.offset)),
    )
