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

from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Bounds
from cutlayers.geometry.strokes import Operation, Part, Stroke
from cutlayers.geometry.transforms import Point
from cutlayers.telling.findings import Finding, Severity, Subject, at_least
from cutlayers.telling.quantities import length
from cutlayers.toolpaths.leads import ROOM_CHORD, Ground, Leads
from cutlayers.toolpaths.model import Worked, WorkedLayer

RUN = 12.0
"""Offsets of straight way after which a blade is in line: exp(−12) is six millionths."""

BENT = (4.0, RUN)
"""The legs of a hook, in offsets."""

BEND = math.radians(40.0)
"""Between the legs: enough that what lies opposite to one is askew to the other."""

TURNS = tuple(math.radians(17.0 + 45.0 * number) for number in range(8))
"""Directions of first legs: no box has edges at such angles, so no last cut lies opposite."""

APART = 0.5
"""mm of waste between what a blade may cut while it turns and the pieces."""

GRID = 5.0
"""mm between the places where room for a hook is sought, at least."""

MOST_STEPS = 40
"""Places along the longer side of a sheet, so that a large one takes no longer than a small one."""


def with_approaches(
    worked: Worked, strokes: Sequence[Stroke], ground: Ground, *, any_order: bool
) -> Worked:
    """One side of a sheet with the hooks of its layers, or in `any_order` the leads of its cuts.

    `strokes` are those of the whole side. Layers of tools that do not trail stay as they are.
    """
    if not any(layer.tool.trails and layer.lines for layer in worked.layers):
        return worked
    ways = Leads(strokes, ground) if any_order else _Hooks(strokes, ground)
    layers, found = [], []
    for layer in worked.layers:
        if layer.tool.trails and layer.lines:
            layer, findings = ways.added(layer)
            found += findings
        layers.append(layer)
    return replace(worked, layers=tuple(layers), findings=(*worked.findings, *found))


class _Hooks:
    """The hooks of one side of a sheet, each beside those before."""

    def __init__(self, strokes: Sequence[Stroke], ground: Ground) -> None:
        left, bottom, right, top = self._reach = ground.reach
        on_card = [
            stroke.path
            for stroke in strokes
            if stroke.operation in (Operation.CUT, Operation.DRAW)
            and stroke.part is not Part.OPENING
        ]
        self._outlines = [path for path in on_card if path.closed]
        boxes = [path.bounds for path in self._outlines]
        # Slits and drawn lines mostly lie on a piece, which is kept clear of in any case.
        loose = [path.bounds for path in on_card if not path.closed]
        loose = [each for each in loose if not any(_holds(box, each) for box in boxes)]
        self._boxes = [*boxes, *ground.taken, *loose]
        self._others = [*ground.taken, *loose]
        step = max(GRID, max(right - left, top - bottom) / MOST_STEPS)
        starts = [
            (left + step * column, bottom + step * row)
            for row in range(int((top - bottom) / step) + 1)
            for column in range(int((right - left) / step) + 1)
        ]
        self._starts = sorted(starts, key=lambda at: math.dist(at, (left, bottom)))

    def added(self, layer: WorkedLayer) -> tuple[WorkedLayer, list[Finding]]:
        """A layer with a hook, or without one where there is no room."""
        offset = layer.tool.offset
        steps = [_hook_steps(turn, offset) for turn in TURNS]
        near = offset + APART
        hook = self._beside_boxes(steps, near) or self._between_outlines(steps, near)
        if hook is None:
            return layer, [_no_room(layer)]
        path = Path.polyline(hook)
        self._boxes.append(path.bounds)
        self._others.append(path.bounds)
        return replace(layer, hook=path), []

    def _beside_boxes(self, steps: list[list[Point]], near: float) -> list[Point] | None:
        """The first hook that keeps clear of all pieces' bounding boxes: quick and usual."""
        grown = [(x0 - near, y0 - near, x1 + near, y1 + near) for x0, y0, x1, y1 in self._boxes]
        for x, y in self._starts:
            if any(box[0] < x < box[2] and box[1] < y < box[3] for box in grown):
                continue
            for corners in steps:
                hook = [(x + dx, y + dy) for dx, dy in corners]
                left, bottom, right, top = self._reach
                low_x, high_x = min(at[0] for at in hook), max(at[0] for at in hook)
                low_y, high_y = min(at[1] for at in hook), max(at[1] for at in hook)
                if low_x < left or low_y < bottom or high_x > right or high_y > top:
                    continue
                if not any(
                    box[0] < high_x and low_x < box[2] and box[1] < high_y and low_y < box[3]
                    for box in grown
                ):
                    return hook
        return None

    def _between_outlines(self, steps: list[list[Point]], near: float) -> list[Point] | None:
        """The first hook that keeps clear of the pieces themselves."""
        import numpy as np
        import shapely

        pieces = [shapely.Polygon(path.points(ROOM_CHORD)) for path in self._outlines]
        tree = shapely.STRtree([*pieces, *(shapely.box(*box) for box in self._others)])
        left, bottom, right, top = self._reach
        starts, ways = np.array(self._starts), np.array(steps)
        for some in np.array_split(starts, max(1, len(starts) // 64)):
            taken = tree.query(shapely.points(some), predicate="dwithin", distance=near)[0]
            free = np.delete(some, np.unique(taken), axis=0)
            hooks = (free[:, None, None, :] + ways[None]).reshape(-1, ways.shape[1], 2)
            inside = ((hooks >= (left, bottom)) & (hooks <= (right, top))).all(axis=(1, 2))
            lines = shapely.linestrings(hooks[inside])
            hit = tree.query(lines, predicate="dwithin", distance=near)[0]
            clear = np.delete(hooks[inside], np.unique(hit), axis=0)
            if len(clear):
                return [(float(x), float(y)) for x, y in clear[0]]
        return None


def _holds(box: Bounds, other: Bounds) -> bool:
    return all(low <= at for low, at in zip(box[:2], other[:2], strict=True)) and all(
        at <= high for at, high in zip(other[2:], box[2:], strict=True)
    )


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
