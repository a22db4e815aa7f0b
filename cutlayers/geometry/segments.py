"""One edge of a path: a straight line, or a circular arc told by its bulge."""

from __future__ import annotations

import math
from collections.abc import Iterable

from cutlayers.frozen import frozen
from cutlayers.geometry.transforms import Point
from cutlayers.telling.errors import PathError

Bounds = tuple[float, float, float, float]
"""Left, bottom, right, top in mm."""


@frozen
class Segment:
    """One edge of a path: a line (`bulge` 0) or a circular arc from `start` to `end`."""

    start: Point
    end: Point
    bulge: float = 0.0

    @property
    def chord(self) -> float:
        """Straight distance from start to end."""
        return math.dist(self.start, self.end)

    @property
    def sweep(self) -> float:
        """Included angle in radians, positive to the left; 0 for a line."""
        return 4.0 * math.atan(self.bulge)

    @property
    def radius(self) -> float:
        """Radius of the arc; infinite for a line. Source: r = c(1 + b²)/(4|b|)."""
        if not self.bulge:
            return math.inf
        return self.chord * (1.0 + self.bulge**2) / (4.0 * abs(self.bulge))

    @property
    def centre(self) -> Point:
        """Centre of the arc. Raises PathError for a line."""
        if not self.bulge:
            raise PathError("a straight edge has no centre")
        (x0, y0), (x1, y1) = self.start, self.end
        # Signed height of the centre above the chord, in chord lengths, to the left of it.
        height = (1.0 - self.bulge**2) / (4.0 * self.bulge)
        return (
            (x0 + x1) / 2.0 - height * (y1 - y0),
            (y0 + y1) / 2.0 + height * (x1 - x0),
        )

    @property
    def length(self) -> float:
        """Length along the edge."""
        return self.radius * abs(self.sweep) if self.bulge else self.chord

    def point_at(self, fraction: float) -> Point:
        """Point at a fraction 0…1 of the length."""
        (x0, y0), (x1, y1) = self.start, self.end
        if fraction <= 0.0:
            return self.start
        if fraction >= 1.0:
            return self.end
        if not self.bulge:
            return (x0 + fraction * (x1 - x0), y0 + fraction * (y1 - y0))
        # By the chord to the point, not by the centre, which runs off as the arc gets flatter:
        # that chord is 2r·sin(θf/2) long and lies θ(f − 1)/2 off the whole arc's chord.
        share = (1.0 + self.bulge**2) / (2.0 * self.bulge) * math.sin(self.sweep * fraction / 2.0)
        angle = self.sweep * (fraction - 1.0) / 2.0
        cosine, sine = share * math.cos(angle), share * math.sin(angle)
        dx, dy = x1 - x0, y1 - y0
        return (x0 + cosine * dx - sine * dy, y0 + sine * dx + cosine * dy)

    def direction_at(self, fraction: float) -> Point:
        """Unit tangent at a fraction 0…1 of the length."""
        (x0, y0), (x1, y1) = self.start, self.end
        chord = self.chord
        ux, uy = (x1 - x0) / chord, (y1 - y0) / chord
        if not self.bulge:
            return (ux, uy)
        # The tangent of an arc turns evenly from -θ/2 to +θ/2 about the chord's direction.
        angle = self.sweep * (fraction - 0.5)
        cosine, sine = math.cos(angle), math.sin(angle)
        return (cosine * ux - sine * uy, sine * ux + cosine * uy)

    def part(self, start: float, end: float) -> Segment:
        """The piece between two fractions of the length, start < end."""
        bulge = math.tan(math.atan(self.bulge) * (end - start)) if self.bulge else 0.0
        return Segment(self.point_at(start), self.point_at(end), bulge)

    def reversed(self) -> Segment:
        """The same edge walked the other way."""
        return Segment(self.end, self.start, -self.bulge)

    def flatten(self, tolerance: float) -> list[Point]:
        """Points from after `start` up to `end`; chords stay within `tolerance` mm of the arc.

        Raises PathError for an arc unless the tolerance is positive.
        Source: a chord over the angle φ lies r(1 − cos(φ/2)) = 2r·sin²(φ/4) off its arc.
        """
        if not self.bulge:
            return [self.end]
        if not tolerance > 0.0:
            raise PathError(f"a tolerance must be more than 0 mm (got {tolerance:g})")
        step = 4.0 * math.asin(math.sqrt(min(1.0, tolerance / (2.0 * self.radius))))
        count = max(1, math.ceil(abs(self.sweep) / step - 1e-9))
        return [self.point_at(i / count) for i in range(1, count)] + [self.end]

    def bounds(self) -> Bounds:
        """Exact bounding box."""
        points = [self.start, self.end]
        if self.bulge:
            cx, cy = self.centre
            radius, sweep = self.radius, self.sweep
            first = math.atan2(self.start[1] - cy, self.start[0] - cx)
            for quarter in range(4):
                ahead = (quarter * math.pi / 2 - first) * math.copysign(1.0, sweep)
                if ahead % (2 * math.pi) < abs(sweep):
                    dx, dy = ((1, 0), (0, 1), (-1, 0), (0, -1))[quarter]
                    points.append((cx + radius * dx, cy + radius * dy))
        xs, ys = zip(*points, strict=True)
        return min(xs), min(ys), max(xs), max(ys)


def union_bounds(boxes: Iterable[Bounds]) -> Bounds:
    """Smallest box around all boxes. Raises ValueError when there are none."""
    lefts, bottoms, rights, tops = zip(*boxes, strict=True)
    return min(lefts), min(bottoms), max(rights), max(tops)
