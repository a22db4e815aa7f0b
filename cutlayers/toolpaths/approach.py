"""Setting a trailing blade straight before it cuts anything that counts.

A blade comes down pointing wherever the last cut left it: the one before, the last of the sheet
before, or a hand that turned it. While its axis then moves straight on by s, the angle θ by which
it points elsewhere shrinks as tan(θ/2) = tan(θ₀/2)·exp(−s/offset), so that after `RUN` offsets any
angle but the very opposite is gone. A stroke bent once has no such opposite: what its first leg
cannot turn lies askew to its second. So each layer begins with a *hook* in the waste.

Where a machine takes the lines of a file in an order of its own, each closed cut brings its own
*lead*: a straight way in through the waste, or through its own hole, that ends where it starts.

Source: the tractrix, as any textbook on curves has it.
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
from cutlayers.geometry.transforms import Point
from cutlayers.profile.machine import Tool
from cutlayers.telling.findings import Finding, Severity, Subject, at_least
from cutlayers.telling.quantities import count, length
from cutlayers.toolpaths.blade import trails
from cutlayers.toolpaths.model import Worked, WorkedLayer, WorkedLine

if TYPE_CHECKING:
    import shapely
    from shapely.geometry.base import BaseGeometry

RUN = 12.0
"""Offsets of straight way after which a blade is in line: exp(−12) is six millionths."""

BENT = (4.0, RUN)
"""The legs of a hook, in offsets."""

BEND = math.radians(40.0)
"""Between the legs: enough that what lies opposite to one is askew to the other."""

TURNS = tuple(math.radians(17.0 + 45.0 * number) for number in range(8))
"""Directions of first legs: no box has edges at such angles, so no last cut lies opposite."""

LEADS = (RUN, 10.0, 8.0)
"""Offsets of a lead, as much as there is room for; eight still turn all but the opposite 3°."""

WAYS_IN = 24
"""Directions in which room for a lead is sought."""

APART = 0.5
"""mm of waste between what a blade may cut while it turns and the pieces."""

GRID = 2.5
"""mm between the places where room for a hook is sought."""

CHORD = 0.02


@frozen
class Ground:
    """The sheet that lines lie on: what of it the tools reach, in mm, and squares to keep free."""

    reach: Bounds
    taken: tuple[Bounds, ...] = ()


def with_approaches(
    worked: Worked, strokes: Sequence[Stroke], ground: Ground, *, any_order: bool
) -> Worked:
    """One side of a sheet with the hooks of its layers, or in `any_order` the leads of its cuts.

    `strokes` are those of the whole side. Layers of tools that do not trail stay as they are.
    """
    if not any(trails(layer.tool) and layer.lines for layer in worked.layers):
        return worked
    waste = _Waste(strokes, ground)
    layers, found = [], []
    for layer in worked.layers:
        if trails(layer.tool) and layer.lines:
            layer, findings = waste.leads(layer) if any_order else waste.hook(layer)
            found += findings
        layers.append(layer)
    return replace(worked, layers=tuple(layers), findings=(*worked.findings, *found))


class _Waste:
    """Where on a sheet a blade may go astray."""

    def __init__(self, strokes: Sequence[Stroke], ground: Ground) -> None:
        import shapely

        cuts = [stroke for stroke in strokes if stroke.operation is Operation.CUT]
        closed = [stroke for stroke in cuts if stroke.path.closed]
        self._ground = ground
        rings = {id(each): shapely.Polygon(each.path.points(CHORD)) for each in closed}
        self._outlines = [rings[id(each)] for each in closed if each.part is not Part.OPENING]
        self._openings = [rings[id(each)] for each in closed if each.part is Part.OPENING]
        loose = [
            stroke.path.bounds
            for stroke in strokes
            if not stroke.path.closed and stroke.operation in (Operation.CUT, Operation.DRAW)
        ]
        self._hooks: list[BaseGeometry] = [shapely.box(*each) for each in (*ground.taken, *loose)]

    def hook(self, layer: WorkedLayer) -> tuple[WorkedLayer, list[Finding]]:
        """A layer with a hook, or without one where there is no room."""
        path = self._free_hook(layer.tool.offset)
        if path is None:
            return layer, [_no_room(layer)]
        return replace(layer, hook=path), []

    def _free_hook(self, offset: float) -> Path | None:
        """The free hook that is nearest to the lower left corner."""
        import numpy as np
        import shapely

        blocked = [*self._outlines, *self._hooks]
        tree = shapely.STRtree(blocked)
        left, bottom, right, top = self._ground.reach
        across, up = np.arange(left, right, GRID), np.arange(bottom, top, GRID)
        starts = np.stack(np.meshgrid(across, up), axis=-1).reshape(-1, 2)
        starts = starts[np.argsort(np.hypot(*(starts - (left, bottom)).T), kind="stable")]
        steps = np.array([_hook_steps(turn, offset) for turn in TURNS])
        # Most places are settled by their first point, so few hooks are looked at as lines.
        near = offset + APART
        taken = tree.query(shapely.points(starts), predicate="dwithin", distance=near)[0]
        starts = np.delete(starts, np.unique(taken), axis=0)
        for some in np.array_split(starts, max(1, len(starts) // 64)):
            hooks = (some[:, None, None, :] + steps[None]).reshape(-1, steps.shape[1], 2)
            inside = ((hooks >= (left, bottom)) & (hooks <= (right, top))).all(axis=(1, 2))
            lines = shapely.linestrings(hooks[inside])
            hit = tree.query(lines, predicate="dwithin", distance=near)[0]
            free = np.delete(hooks[inside], np.unique(hit), axis=0)
            if len(free):
                path = Path.polyline([(float(x), float(y)) for x, y in free[0]])
                self._hooks.append(shapely.LineString(free[0]))
                return path
        return None

    def leads(self, layer: WorkedLayer) -> tuple[WorkedLayer, list[Finding]]:
        """A layer whose closed lines bring leads, as far as there is room for them."""
        import shapely

        lines: list[WorkedLine] = []
        without = 0
        outside = shapely.STRtree([*self._outlines, *self._hooks])
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
        hole = shapely.Polygon(path.points(CHORD)) if opening else None
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
                left, bottom, right, top = self._ground.reach
                free = ((starts >= (left, bottom)) & (starts <= (right, top))).all(axis=1)
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


def _hook_steps(turn: float, offset: float) -> list[Point]:
    """The corners of a hook that begins at the origin."""
    x = y = 0.0
    corners = [(x, y)]
    for leg in BENT:
        x += leg * offset * math.cos(turn)
        y += leg * offset * math.sin(turn)
        corners.append((x, y))
        turn += BEND
    return corners


def _no_room(layer: WorkedLayer) -> Finding:
    """A sheet has no waste in which a blade could be set straight.

    Measured: how far the first cut of a layer may be off at its start, twice the blade's offset,
    where there is no free place for a stroke of sixteen offsets that sets the blade straight.

    Why: a trailing blade comes down pointing wherever the last cut left it. Until it has turned,
    its tip cuts beside the line: a notch in the first edge, and a bit of it uncut.

    Cure: leave a strip of waste along an edge of the sheet (`border` under `[sheets]`, or a gap
    between pieces), or draw the blade over a scrap by hand until it points along the first cut.

    Source: geometry of a trailing wheel.
    """
    offset = layer.tool.offset
    return Finding(
        "no-room-to-straighten",
        Severity.WARNING,
        Subject(operation=layer.operation.value),
        (length(2 * offset),),
        at_least(length(sum(BENT) * offset)),
    )


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
