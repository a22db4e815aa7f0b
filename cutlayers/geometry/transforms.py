"""Plane motions: a 2 × 3 matrix that moves points and directions.

y points up and a positive angle turns left, as everywhere in the package.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from cutlayers.frozen import frozen

Point = tuple[float, float]

SIMILARITY_SLACK = 1e-9
"""Relative difference of the two axis scales up to which circles are still drawn as circles."""


@frozen
class Transform:
    """x' = xx·x + xy·y + dx and y' = yx·x + yy·y + dy, with dx and dy in mm.

    `first @ second` applies `second` first, as with matrices.
    """

    xx: float = 1.0
    xy: float = 0.0
    dx: float = 0.0
    yx: float = 0.0
    yy: float = 1.0
    dy: float = 0.0

    @staticmethod
    def translation(dx: float, dy: float) -> Transform:
        """Move by (dx, dy) mm."""
        return Transform(dx=dx, dy=dy)

    @staticmethod
    def rotation(angle_deg: float, about: Point = (0.0, 0.0)) -> Transform:
        """Turn left by `angle_deg` about a point. Quarter turns are exact."""
        quarter = round(angle_deg / 90.0)
        if angle_deg == quarter * 90.0:
            cosine, sine = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[quarter % 4]
        else:
            cosine, sine = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
        x, y = about
        return Transform(
            cosine, -sine, x - cosine * x + sine * y, sine, cosine, y - sine * x - cosine * y
        )

    @staticmethod
    def mirror(x: float) -> Transform:
        """Swap left and right about the vertical line at `x` mm."""
        return Transform(xx=-1.0, dx=2.0 * x)

    @staticmethod
    def onto(start: Point, end: Point, to_start: Point, to_end: Point) -> Transform:
        """Carry the segment start→end onto to_start→to_end by turning and moving, never scaling.

        The starts coincide; the ends do when the segments are equally long.
        """
        own = math.atan2(end[1] - start[1], end[0] - start[0])
        goal = math.atan2(to_end[1] - to_start[1], to_end[0] - to_start[0])
        turned = Transform.rotation(_tidy_degrees(math.degrees(goal - own)))
        x, y = turned.apply(start)
        return Transform.translation(to_start[0] - x, to_start[1] - y) @ turned

    def __matmul__(self, other: Transform) -> Transform:
        return Transform(
            self.xx * other.xx + self.xy * other.yx,
            self.xx * other.xy + self.xy * other.yy,
            self.xx * other.dx + self.xy * other.dy + self.dx,
            self.yx * other.xx + self.yy * other.yx,
            self.yx * other.xy + self.yy * other.yy,
            self.yx * other.dx + self.yy * other.dy + self.dy,
        )

    def apply(self, point: Point) -> Point:
        """Return the moved point."""
        x, y = point
        return (
            self.xx * x + self.xy * y + self.dx,
            self.yx * x + self.yy * y + self.dy,
        )

    def apply_all(self, points: Iterable[Point]) -> tuple[Point, ...]:
        """Return the moved points, in their order."""
        xx, xy, dx, yx, yy, dy = self.xx, self.xy, self.dx, self.yx, self.yy, self.dy
        return tuple([(xx * x + xy * y + dx, yx * x + yy * y + dy) for x, y in points])

    @property
    def determinant(self) -> float:
        """Signed area scale; negative for a mirror image."""
        return self.xx * self.yy - self.xy * self.yx

    @property
    def is_similarity(self) -> bool:
        """Whether circles stay circles."""
        first, second = math.hypot(self.xx, self.yx), math.hypot(self.xy, self.yy)
        skew = self.xx * self.xy + self.yx * self.yy
        size = max(first, second)
        return (
            abs(first - second) <= SIMILARITY_SLACK * size
            and abs(skew) <= SIMILARITY_SLACK * size * size
        )

    def inverse(self) -> Transform:
        """Return the motion that undoes this one. Raises ZeroDivisionError if it flattens."""
        det = self.determinant
        xx, xy, yx, yy = self.yy / det, -self.xy / det, -self.yx / det, self.xx / det
        return Transform(
            xx, xy, -(xx * self.dx + xy * self.dy), yx, yy, -(yx * self.dx + yy * self.dy)
        )


def _tidy_degrees(angle_deg: float) -> float:
    """Round to a whole degree what is one but for the last bits, so right angles stay exact."""
    whole = round(angle_deg)
    return float(whole) if abs(angle_deg - whole) < 1e-10 else angle_deg


def turn_between(arriving: Point, leaving: Point) -> float:
    """Radians from one direction to another, left positive; right about counts as left."""
    (ax, ay), (bx, by) = arriving, leaving
    turn = math.atan2(ax * by - ay * bx, ax * bx + ay * by)
    return math.pi if turn < -math.pi + 1e-12 else turn
