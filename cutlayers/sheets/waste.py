"""The waste of a sheet: where something small can be printed without touching any piece.

The sheet is looked at through a grid; a cell counts as free only if it is free all over.
"""

from __future__ import annotations

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from cutlayers.geometry.segments import Bounds

FINEST = 0.5
"""mm; a finer grid finds no better place for letters 2 mm high."""

MOST_CELLS = 800
"""Along the longer side of a sheet, so that a large one takes no longer than a small one."""


class Waste:
    """Free places on a sheet; whatever is placed is taken from then on."""

    def __init__(self, printable: Bounds, blocked: BaseGeometry) -> None:
        left, bottom, right, top = printable
        self._left, self._bottom = left, bottom
        self.step = max(FINEST, max(right - left, top - bottom) / MOST_CELLS)
        columns = max(0, int((right - left) / self.step))
        rows = max(0, int((top - bottom) / self.step))
        x = left + (np.arange(columns) + 0.5) * self.step
        y = bottom + (np.arange(rows) + 0.5) * self.step
        # Half a cell's diagonal more, so that a free middle means a free cell.
        grown = blocked.buffer(self.step * 0.7072)
        shapely.prepare(grown)
        grid_x, grid_y = np.meshgrid(x, y)
        self._taken = np.asarray(shapely.contains_xy(grown, grid_x, grid_y), dtype=np.int64)
        self._sums: np.ndarray | None = None

    def spots(self, width: float, height: float) -> np.ndarray:
        """Lower left corners (n, 2), in mm, where a rectangle is free all over."""
        columns, rows = self._cells(width), self._cells(height)
        if columns > self._taken.shape[1] or rows > self._taken.shape[0]:
            return np.empty((0, 2))
        # Sums over all rectangles at once, from a table of sums up to each corner.
        if self._sums is None:
            self._sums = np.pad(self._taken.cumsum(axis=0).cumsum(axis=1), ((1, 0), (1, 0)))
        sums = self._sums
        inside = (
            sums[rows:, columns:]
            - sums[:-rows, columns:]
            - sums[rows:, :-columns]
            + sums[:-rows, :-columns]
        )
        found = np.argwhere(inside == 0)
        return np.column_stack(
            [self._left + found[:, 1] * self.step, self._bottom + found[:, 0] * self.step]
        )

    def take(self, x: float, y: float, width: float, height: float) -> None:
        """Mark a rectangle as no longer free."""
        column = round((x - self._left) / self.step)
        row = round((y - self._bottom) / self.step)
        self._taken[row : row + self._cells(height), column : column + self._cells(width)] = 1
        self._sums = None

    def _cells(self, size: float) -> int:
        return max(1, int(np.ceil(size / self.step - 1e-9)))
