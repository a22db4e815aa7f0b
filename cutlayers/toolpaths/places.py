"""Where lines lie among the cuts: on them, or inside a closed one."""

from __future__ import annotations

import bisect
from collections.abc import Iterable, Iterator

from cutlayers.geometry.crossings import distance_to
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Point

ON_A_CUT = 1e-3
"""mm; an end this near to a cut lies on it. A thousandth of a millimetre is far more than
rounding moves a point, and far less than any tool can tell apart."""

OUTLINE_TOLERANCE = 0.01
"""mm by which chords may stray from arcs when asking what lies inside; nothing that is cut is
that near to a contour without touching it."""


class Lines:
    """Many paths, to ask whether a point lies on one, or within `reach` mm of one."""

    def __init__(self, paths: Iterable[Path], reach: float = ON_A_CUT) -> None:
        segments = [segment for path in paths for segment in path.segments]
        boxed = sorted(((segment.bounds(), segment) for segment in segments), key=_left)
        self._boxed = boxed
        self._lefts = [box[0] - reach for box, _ in boxed]
        self._reach = reach

    def touch(self, point: Point) -> bool:
        """Whether a path passes through a point."""
        return any(self._near(point))

    def passing(self, point: Point) -> int:
        """How many edges of paths pass through a point: two where one of them goes on there."""
        return sum(self._near(point))

    def _near(self, point: Point) -> Iterator[bool]:
        """For each edge that begins left of a point whether it passes through it."""
        x, y = point
        reach = self._reach
        return (
            x <= right + reach
            and bottom - reach <= y <= top + reach
            and distance_to(segment, point) <= reach
            for (_, bottom, right, top), segment in self._boxed[: bisect.bisect(self._lefts, x)]
        )


class Region:
    """The inside of a closed path."""

    def __init__(self, path: Path) -> None:
        self.bounds = path.bounds
        self.area = abs(path.area)
        points = path.points(OUTLINE_TOLERANCE)
        self._edges = tuple(zip(points, points[1:] + points[:1], strict=True))

    def holds(self, point: Point) -> bool:
        """Whether a point that is not on the path lies inside, counting edges to its right."""
        left, bottom, right, top = self.bounds
        x, y = point
        if not (left < x < right and bottom < y < top):
            return False
        inside = False
        for (x0, y0), (x1, y1) in self._edges:
            if (y0 > y) != (y1 > y) and x < x0 + (y - y0) * (x1 - x0) / (y1 - y0):
                inside = not inside
        return inside


def _left(boxed: tuple[tuple[float, float, float, float], Segment]) -> float:
    return boxed[0][0]
