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
        self._taken = np.asarray(shapely.contains_xy(grown, grid_x, grid_y), dtype=np.int32)
        self._sums = _sums(self._taken)

    def spots(self, width: float, height: float, near: Bounds | None = None) -> np.ndarray:
        """Lower left corners (n, 2), in mm, where a rectangle is free all over; of those whose
        middle lies within `near` at least, where that is given."""
        free, first_row, first_column = self._free(width, height, near)
        rows, columns = np.divmod(np.flatnonzero(free), max(1, free.shape[1]))
        return np.column_stack(
            [
                self._left + (columns + first_column) * self.step,
                self._bottom + (rows + first_row) * self.step,
            ]
        )

    def has_room(self, width: float, height: float, near: Bounds) -> bool:
        """Whether there are spots for a rectangle whose middle lies within `near`: where there are
        none, there are none for a larger one."""
        return bool(self._free(width, height, near)[0].any())

    def _free(
        self, width: float, height: float, near: Bounds | None
    ) -> tuple[np.ndarray, int, int]:
        """Whether a rectangle is free all over whose lower left corner is that of a cell, and the
        row and the column of the first of these cells."""
        columns, rows = self._cells(width), self._cells(height)
        first_column, first_row, sums = 0, 0, self._sums
        if near is not None:
            left, bottom, right, top = near
            first_column = max(0, int((left - self._left - width) / self.step) - 1)
            first_row = max(0, int((bottom - self._bottom - height) / self.step) - 1)
            last_column = max(0, int((right - self._left + width) / self.step) + 2)
            last_row = max(0, int((top - self._bottom + height) / self.step) + 2)
            sums = sums[first_row : last_row + 1, first_column : last_column + 1]
        # Over all rectangles at once; none where the sheet is too small.
        inside = (
            sums[rows:, columns:]
            - sums[:-rows, columns:]
            - sums[rows:, :-columns]
            + sums[:-rows, :-columns]
        )
        return inside == 0, first_row, first_column

    def take(self, x: float, y: float, width: float, height: float) -> None:
        """Mark a rectangle as no longer free."""
        column = round((x - self._left) / self.step)
        row = round((y - self._bottom) / self.step)
        cells = self._taken[row : row + self._cells(height), column : column + self._cells(width)]
        more = _sums(1 - cells)[1:, 1:]
        cells[:] = 1
        high, wide = more.shape
        above, right = row + 1 + high, column + 1 + wide
        self._sums[row + 1 : above, column + 1 : right] += more
        self._sums[row + 1 : above, right:] += more[:, -1:]
        self._sums[above:, column + 1 : right] += more[-1:]
        self._sums[above:, right:] += more[-1, -1]

    def _cells(self, size: float) -> int:
        return max(1, int(np.ceil(size / self.step - 1e-9)))


def _sums(taken: np.ndarray) -> np.ndarray:
    """How many cells are taken to the left of and below each corner of a cell."""
    sums = np.zeros((taken.shape[0] + 1, taken.shape[1] + 1), dtype=np.int32)
    taken.cumsum(axis=0, out=sums[1:, 1:])
    sums[1:, 1:].cumsum(axis=1, out=sums[1:, 1:])
    return sums
