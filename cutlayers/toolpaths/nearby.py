"""The nearest few of many points, from a grid of cells."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

Near = tuple[float, int]
"""How far another point is, in mm, and its number."""

PER_CELL = 2
"""Points in a cell on average: fewer means walking through empty cells, more means measuring
distances that are then thrown away."""

FINER = 4
"""Grids tried, each half as wide as the one before, where the points lie in clusters."""

Numbers = NDArray[np.intp]
Distances = NDArray[np.float64]


def nearest_points(points: Sequence[complex], count: int) -> list[list[Near]]:
    """For each point its `count` nearest others, nearest first.

    Points that lie on one another are neighbours too. Ties are settled by number.
    """
    found: list[list[Near]] = [[] for _ in points]
    if len(points) < 2:
        return found
    count = min(count, len(points) - 1)
    at = np.array(points)
    x, y = at.real - at.real.min(), at.imag - at.imag.min()
    size, column, row = _grid(x, y)
    columns = int(column.max()) + 1
    widest = max(columns, int(row.max()) + 1)
    cell = row * columns + column
    by_cell = np.argsort(cell, kind="stable")
    cells = cell[by_cell]
    waiting = np.arange(len(points))
    ring = 1
    while len(waiting):
        # The cells about each point's own: of every row that they lie in, one run of `by_cell`.
        west = np.maximum(column[waiting] - ring, 0)
        east = np.minimum(column[waiting] + ring, columns - 1)
        rows = columns * (row[waiting] + np.arange(-ring, ring + 1)[:, None])
        first = np.searchsorted(cells, rows + west)
        there, one = _runs(first, np.searchsorted(cells, rows + east, side="right") - first)
        other, here = by_cell[there], waiting[one]
        gap = np.sqrt((x[here] - x[other]) ** 2 + (y[here] - y[other]) ** 2)
        # All that is nearer than the border of these cells lies in them.
        sure = np.full(len(waiting), math.inf)
        if ring < widest:
            for place, number in ((x[waiting], column[waiting]), (y[waiting], row[waiting])):
                sure = np.minimum(sure, place - (number - ring) * size)
                sure = np.minimum(sure, (number + ring + 1) * size - place)
        kept = np.flatnonzero((gap <= sure[one]) & (other != here))
        one, other, gap = one[kept], other[kept], gap[kept]
        order = _sorted(one, gap, other)
        many = np.bincount(one, minlength=len(waiting))
        enough = many >= count
        each = order[(np.cumsum(many) - many)[enough][:, None] + np.arange(count)]
        for number, gaps, others in zip(
            waiting[enough].tolist(), gap[each].tolist(), other[each].tolist(), strict=True
        ):
            found[number] = list(zip(gaps, others))  # noqa: B905
        waiting = waiting[~enough]
        ring += 1
    return found


def _grid(x: Distances, y: Distances) -> tuple[float, Numbers, Numbers]:
    """The width of a cell, and the column and the row of each point; all lie right of and above 0.

    Points in clusters leave most cells empty and crowd the rest, which a finer grid undoes.
    """
    spread = float(max(x.max(), y.max())) or 1.0
    size = spread / max(1.0, math.sqrt(len(x) / PER_CELL))
    for finer in range(FINER + 1):
        width = size / 2**finer
        column, row = (x / width).astype(np.intp), (y / width).astype(np.intp)
        taken = len(np.unique(row * (column.max() + 1) + column))
        if taken * 2 * PER_CELL >= len(x):
            break
    return width, column, row


def _runs(first: Numbers, lengths: Numbers) -> tuple[Numbers, Numbers]:
    """All whole numbers of some runs, each with the last index of its run."""
    firsts, counts = first.ravel(), lengths.ravel()
    behind = np.cumsum(counts)
    numbers = np.arange(behind[-1]) + np.repeat(firsts - behind + counts, counts)
    column = np.broadcast_to(np.arange(first.shape[-1]), first.shape)
    return numbers, np.repeat(column.ravel(), counts)


def _sorted(one: Numbers, gap: Distances, other: Numbers) -> Numbers:
    """The order by the first, then by the second, then by the third."""
    order = _by_number(other)
    order = order[np.argsort(gap[order], kind="stable")]
    return order[_by_number(one[order])]


def _by_number(numbers: Numbers) -> Numbers:
    """A stable order; of numbers in two bytes it is found in a tenth of the time."""
    if len(numbers) and numbers.max() < 2**16:
        return np.argsort(numbers.astype(np.uint16), kind="stable")
    return np.argsort(numbers, kind="stable")
