"""Which of many edges may lie near something: each asks a few of them, not all.

A tree of the edges' boxes, so that work on a contour of ten thousand edges grows little faster
than the contour. What it gives is a superset in no order of meaning; measuring is the asker's.

This module needs shapely; whoever need not measure does not import it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np
import shapely

from cutlayers.geometry.crossings import distance_to
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Point


class Nearness:
    """Edges by where they are; `reach` is in mm, beyond each edge's box."""

    def __init__(self, edges: Sequence[Segment], reach: float) -> None:
        self._edges = edges
        bounds = np.array([edge.bounds() for edge in edges]).reshape(-1, 4)
        left, bottom, right, top = bounds.T
        self._boxes = shapely.box(left - reach, bottom - reach, right + reach, top + reach)
        self._tree = shapely.STRtree(self._boxes)

    def pairs(self) -> Iterator[tuple[int, int]]:
        """Numbers of edges whose boxes meet, each pair once."""
        ones, others = self._tree.query(self._boxes)
        for one, other in zip(ones.tolist(), others.tolist(), strict=True):
            if one < other:
                yield one, other

    def beside(self, points: Sequence[Point]) -> Iterator[tuple[int, Segment]]:
        """The number of each point with each edge in whose box it lies."""
        numbers, found = self._tree.query(shapely.points(np.array(points).reshape(-1, 2)))
        for number, edge in zip(numbers.tolist(), found.tolist(), strict=True):
            yield number, self._edges[edge]

    def distance(self, point: Point) -> float:
        """From a point to the nearest edge."""
        x, y = point
        some = self._edges[int(self._tree.nearest(shapely.Point(point)))]
        most = math.nextafter(distance_to(some, point), math.inf)
        near = self._tree.query(shapely.box(x - most, y - most, x + most, y + most))
        return min(distance_to(self._edges[number], point) for number in near.tolist())
