"""What is left of a sheet: how much of it is used, and the rectangles worth keeping."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from cutlayers.geometry.segments import Bounds
from cutlayers.sheets.model import Sheet
from cutlayers.sheets.outlines import blank_of

if TYPE_CHECKING:
    import numpy as np

LEAST_SIDE = 50.0
"""mm; a narrower strip goes into the bin."""

MOST = 3
"""Off-cuts told for a sheet."""

CELLS = 20_000
"""Of the grid in which rectangles are looked for; about 2 mm wide on A4. The rectangle found is
then widened to its exact size."""


def used_share(sheet: Sheet) -> float:
    """The share of the sheet's area, 0 to 1, that its pieces' panels cover."""
    area = math.fsum(
        panel.outline.area for placed in sheet.placed for panel in placed.piece.net.panels
    )
    return area / (sheet.width * sheet.height)


def off_cuts(sheet: Sheet) -> tuple[Bounds, ...]:
    """The largest free rectangle of the sheet, then the largest beside it, and so on.

    Free is what no piece and no register mark's square covers; the border that the machine cannot
    reach is free as well. Sides lie along the sheet's; rectangles with a side below LEAST_SIDE are
    left out.
    """
    return tuple(_off_cuts(sheet))


def _off_cuts(sheet: Sheet) -> Iterator[Bounds]:
    import shapely
    from shapely import affinity

    from cutlayers.geometry.overlays import together

    taken = [shapely.box(*mark.keep_out) for mark in sheet.marks]
    for placed in sheet.placed:
        move = placed.place
        matrix = (move.xx, move.xy, move.yx, move.yy, move.dx, move.dy)
        taken.append(affinity.affine_transform(blank_of(placed.piece.net), matrix))
    step = max(1.0, math.sqrt(sheet.width * sheet.height / CELLS))
    for _ in range(MOST):
        obstacles = together(taken)
        box = _largest(_free_cells(obstacles, sheet.width, sheet.height, step), step)
        if box is None:
            return
        box = _widened(obstacles, box, sheet.width, sheet.height)
        if min(box[2] - box[0], box[3] - box[1]) < LEAST_SIDE:
            return
        yield box
        taken.append(shapely.box(*box))


def _free_cells(obstacles: Any, width: float, height: float, step: float) -> np.ndarray:
    """Rows from below of cells `step` mm wide, true where no obstacle comes into the cell."""
    import numpy as np
    import shapely

    columns, rows = int(width / step), int(height / step)
    xs, ys = np.meshgrid((np.arange(columns) + 0.5) * step, (np.arange(rows) + 0.5) * step)
    reach = obstacles.buffer(step * math.sqrt(0.5))
    shapely.prepare(reach)
    taken: np.ndarray = shapely.contains_xy(reach, xs, ys)
    return ~taken


def _largest(free: np.ndarray, step: float) -> Bounds | None:
    """The largest rectangle of free cells.

    Source: the largest rectangle under a histogram, row by row, with a stack of open columns.
    """
    import numpy as np

    rows, columns = free.shape
    heights = np.zeros(columns + 1, dtype=int)
    best, box = 0, None
    for row in range(rows):
        heights[:-1] = np.where(free[row], heights[:-1] + 1, 0)
        open_: list[tuple[int, int]] = []
        for column, height in enumerate(heights.tolist()):
            start = column
            while open_ and open_[-1][1] > height:
                start, high = open_.pop()
                if high * (column - start) > best:
                    best = high * (column - start)
                    box = (start, row + 1 - high, column, row + 1)
            if height and (not open_ or open_[-1][1] < height):
                open_.append((start, height))
    if box is None:
        return None
    left, bottom, right, top = (step * side for side in box)
    return left, bottom, right, top


def _widened(obstacles: Any, box: Bounds, width: float, height: float) -> Bounds:
    """The box with each side moved out to the nearest obstacle or to the sheet's edge."""
    import shapely

    from cutlayers.geometry.overlays import GRID, common

    left, bottom, right, top = box
    for side in ("left", "right", "bottom", "top"):
        band = {
            "left": (0.0, bottom, left, top),
            "right": (right, bottom, width, top),
            "bottom": (left, 0.0, right, bottom),
            "top": (left, top, right, height),
        }[side]
        if band[2] <= band[0] or band[3] <= band[1]:
            continue
        # What only touches the band along its edge is no obstacle.
        met = common(obstacles, shapely.box(*band).buffer(-2 * GRID, join_style="mitre"))
        bounds = None if met.is_empty else met.bounds
        match side:
            case "left":
                left = bounds[2] if bounds else 0.0
            case "right":
                right = bounds[0] if bounds else width
            case "bottom":
                bottom = bounds[3] if bounds else 0.0
            case _:
                top = bounds[1] if bounds else height
    return left, bottom, right, top
