"""The nearest few of many points, from a grid of cells."""

from __future__ import annotations

import math
from collections.abc import Sequence

PER_CELL = 3
"""Points in a cell on average: fewer means walking through empty cells, more means measuring
distances that are then thrown away."""


def nearest_points(points: Sequence[complex], count: int) -> list[list[int]]:
    """For each point the numbers of its `count` nearest others, nearest first.

    Points that lie on one another are neighbours too. Ties are settled by number.
    """
    if len(points) < 2:
        return [[] for _ in points]
    xs, ys = [point.real for point in points], [point.imag for point in points]
    left, bottom = min(xs), min(ys)
    spread = max(max(xs) - left, max(ys) - bottom) or 1.0
    size = spread / max(1.0, math.sqrt(len(points) / PER_CELL))
    cells: dict[tuple[int, int], list[int]] = {}
    homes = [
        (int((x - left) / size), int((y - bottom) / size)) for x, y in zip(xs, ys, strict=True)
    ]
    for number, home in enumerate(homes):
        cells.setdefault(home, []).append(number)
    last = int(spread / size) + 1
    count = min(count, len(points) - 1)
    found = []
    for number, (column, row) in enumerate(homes):
        here = points[number]
        near: list[tuple[float, int]] = []
        for ring in range(last + 1):
            for cell in _ring(column, row, ring):
                near += [
                    (abs(points[other] - here), other)
                    for other in cells.get(cell, ())
                    if other != number
                ]
            # What lies outside this ring is at least `ring` whole cells away.
            if len(near) >= count:
                near.sort()
                if near[count - 1][0] <= ring * size:
                    break
        near.sort()
        found.append([other for _, other in near[:count]])
    return found


def _ring(column: int, row: int, ring: int) -> list[tuple[int, int]]:
    if not ring:
        return [(column, row)]
    across = range(column - ring, column + ring + 1)
    up = range(row - ring + 1, row + ring)
    return [
        *((x, row - ring) for x in across),
        *((x, row + ring) for x in across),
        *((column - ring, y) for y in up),
        *((column + ring, y) for y in up),
    ]
