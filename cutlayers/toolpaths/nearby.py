"""The nearest few of many points, from a grid of cells."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

Near = tuple[float, int]
"""How far another point is, in mm, and its number."""

PER_CELL = 3
"""Points in a cell on average: fewer means walking through empty cells, more means measuring
distances that are then thrown away."""

FINER = 4
"""Grids tried, each half as wide as the one before, where the points lie in clusters."""


def nearest_points(points: Sequence[complex], count: int) -> list[list[Near]]:
    """For each point its `count` nearest others, nearest first.

    Points that lie on one another are neighbours too. Ties are settled by number.
    """
    if len(points) < 2:
        return [[] for _ in points]
    left, bottom = min(each.real for each in points), min(each.imag for each in points)
    size, cells = _grid([each - complex(left, bottom) for each in points])
    count = min(count, len(points) - 1)
    widest = max(max(cell) for cell in cells) + 1
    found: list[list[Near]] = [[] for _ in points]
    for (column, row), waiting in cells.items():
        ring = 1
        while waiting:
            west, east = left + (column - ring) * size, left + (column + ring + 1) * size
            south, north = bottom + (row - ring) * size, bottom + (row + ring + 1) * size
            block = [
                (points[number], number)
                for cell in _block(column, row, ring)
                for number in cells.get(cell, ())
            ]
            beyond = []
            for number in waiting:
                here = points[number]
                # All that is nearer than the border of the block lies in the block.
                x, y = here.real, here.imag
                sure = min(x - west, east - x, y - south, north - y)
                if ring >= widest:
                    sure = math.inf
                near = [
                    (gap, other) for point, other in block if (gap := abs(point - here)) <= sure
                ]
                if len(near) > count:
                    near.sort()
                    found[number] = [each for each in near if each[1] != number][:count]
                else:
                    beyond.append(number)
            waiting = beyond
            ring += 1
    return found


def _grid(points: Sequence[complex]) -> tuple[float, dict[tuple[int, int], list[int]]]:
    """The width of a cell and the points in each cell; all points lie right of and above 0.

    Points in clusters leave most cells empty and crowd the rest, which a finer grid undoes.
    """
    spread = max(max(each.real for each in points), max(each.imag for each in points)) or 1.0
    size = spread / max(1.0, math.sqrt(len(points) / PER_CELL))
    for _ in range(FINER):
        cells: dict[tuple[int, int], list[int]] = {}
        for number, point in enumerate(points):
            cells.setdefault((int(point.real / size), int(point.imag / size)), []).append(number)
        if len(cells) * 2 * PER_CELL >= len(points):
            break
        size /= 2
    else:
        size *= 2
    return size, cells


def _block(column: int, row: int, ring: int) -> Iterable[tuple[int, int]]:
    return [
        (x, y)
        for x in range(column - ring, column + ring + 1)
        for y in range(row - ring, row + ring + 1)
    ]
