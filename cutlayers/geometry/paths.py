"""The only curve type: points joined by straight lines or circular arcs.

Terms and conventions shared by the whole package:

- y points up; an outline runs counter-clockwise, so its material lies on the left.
- An edge from point i to point i + 1 carries a *bulge*, tan(θ/4) for the included angle θ:
  0 is straight, 1 a half circle, positive turns left (DXF reference, VERTEX group 42).
- Closed is a field, never a comparison of the first point with the last.
- All lengths are mm, all areas mm².
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import chain
from operator import eq

from cutlayers.frozen import frozen
from cutlayers.geometry.segments import Bounds, Segment, union_bounds
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.telling.errors import PathError

HALF_CIRCLE = 1.0
QUARTER_CIRCLE = math.tan(math.pi / 8)

ARCS_MEET = 1e-6
"""mm; two corner arcs that miss or overlap by less meet in one point, as two panels' corners do."""


@frozen
class Path:
    """Points joined by lines and arcs, open or closed; never changed once made.

    `bulges[i]` belongs to the edge that leaves `vertices[i]`, so an open path has one bulge
    fewer than vertices and a closed one as many. Guaranteed: all numbers finite, no edge of
    length zero, an open path has one edge or more and a closed one two or more.

    Raises PathError when a guarantee does not hold.
    """

    vertices: tuple[Point, ...]
    bulges: tuple[float, ...]
    closed: bool

    def __post_init__(self) -> None:
        expected = len(self.vertices) - (0 if self.closed else 1)
        if len(self.vertices) < 2 or len(self.bulges) != expected:
            raise PathError(
                f"a path needs two points or more and a bulge per edge "
                f"(got {len(self.vertices)} points and {len(self.bulges)} bulges)"
            )
        if not all(map(math.isfinite, chain(self.bulges, *self.vertices))):
            raise PathError("a path needs finite numbers")
        still = list(map(eq, self.vertices, self._ends))
        if any(still):
            at = self.vertices[still.index(True)]
            raise PathError(f"a path must not stand still (twice at {at})")

    @staticmethod
    def line(start: Point, end: Point) -> Path:
        """One straight edge."""
        return Path((start, end), (0.0,), closed=False)

    @staticmethod
    def polyline(points: Iterable[Point]) -> Path:
        """Straight edges through the points, open."""
        vertices = tuple(points)
        return Path(vertices, (0.0,) * (len(vertices) - 1), closed=False)

    @staticmethod
    def polygon(points: Iterable[Point]) -> Path:
        """Straight edges through the points and back to the first."""
        vertices = tuple(points)
        return Path(vertices, (0.0,) * len(vertices), closed=True)

    @staticmethod
    def rectangle(width: float, height: float, corner: Point = (0.0, 0.0)) -> Path:
        """Counter-clockwise from its lower left corner."""
        x, y = corner
        return Path.polygon(((x, y), (x + width, y), (x + width, y + height), (x, y + height)))

    @staticmethod
    def circle(centre: Point, radius: float) -> Path:
        """Two half circles, counter-clockwise, starting at the right."""
        x, y = centre
        return Path(((x + radius, y), (x - radius, y)), (HALF_CIRCLE, HALF_CIRCLE), closed=True)

    @staticmethod
    def from_segments(segments: Sequence[Segment], closed: bool) -> Path:
        """Join edges that already follow one another; each starts where the last one ended."""
        vertices = tuple(segment.start for segment in segments)
        if not closed:
            vertices += (segments[-1].end,)
        return Path(vertices, tuple(segment.bulge for segment in segments), closed)

    @property
    def segments(self) -> tuple[Segment, ...]:
        """The edges in order."""
        return tuple(map(Segment, self.vertices, self._ends, self.bulges))

    def segment(self, index: int) -> Segment:
        """The edge that leaves `vertices[index]`. Raises IndexError where there is none."""
        vertices = self.vertices
        return Segment(vertices[index], vertices[(index + 1) % len(vertices)], self.bulges[index])

    @property
    def _ends(self) -> tuple[Point, ...]:
        return self.vertices[1:] + (self.vertices[:1] if self.closed else ())

    @property
    def start(self) -> Point:
        """The first point."""
        return self.vertices[0]

    @property
    def end(self) -> Point:
        """The last point; of a closed path, the first again."""
        return self.vertices[0] if self.closed else self.vertices[-1]

    @property
    def length(self) -> float:
        """Length along all edges."""
        return math.fsum(segment.length for segment in self.segments)

    @property
    def bounds(self) -> Bounds:
        """Exact bounding box."""
        if not any(self.bulges):
            xs, ys = zip(*self.vertices, strict=True)
            return min(xs), min(ys), max(xs), max(ys)
        return union_bounds(segment.bounds() for segment in self.segments)

    @property
    def area(self) -> float:
        """Enclosed area, positive when counter-clockwise; an open path is closed by a chord.

        Source: shoelace formula, plus r²(θ − sin θ)/2 for the slice between chord and arc.
        """
        total = 0.0
        for (x0, y0), (x1, y1) in zip(
            self.vertices, self.vertices[1:] + self.vertices[:1], strict=True
        ):
            total += (x0 * y1 - x1 * y0) / 2.0
        for segment in self.segments if any(self.bulges) else ():
            if segment.bulge:
                sweep = segment.sweep
                total += segment.radius**2 * (sweep - math.sin(sweep)) / 2.0
        return total

    def reversed(self) -> Path:
        """The same path walked the other way; a closed one keeps its first point."""
        if self.closed:
            vertices = self.vertices[:1] + self.vertices[:0:-1]
        else:
            vertices = self.vertices[::-1]
        return Path(vertices, tuple(-bulge for bulge in reversed(self.bulges)), self.closed)

    def transformed(self, transform: Transform) -> Path:
        """Move every point. Raises PathError where an arc would not stay circular."""
        bulges = self.bulges
        if any(bulges):
            if not transform.is_similarity:
                raise PathError("only an even scale keeps arcs circular; flatten the path first")
            if transform.determinant < 0:
                bulges = tuple(-bulge for bulge in bulges)
        return Path(transform.apply_all(self.vertices), bulges, self.closed)

    def started_at(self, index: int) -> Path:
        """A closed path that begins at vertex `index` instead. Raises PathError if open."""
        if not self.closed:
            raise PathError("only a closed path can start elsewhere")
        return Path(
            self.vertices[index:] + self.vertices[:index],
            self.bulges[index:] + self.bulges[:index],
            closed=True,
        )

    def points(self, tolerance: float) -> list[Point]:
        """Points along the path, chords within `tolerance` mm, a closed path's start just once."""
        if not any(self.bulges):
            return list(self.vertices)
        points = [self.start]
        for segment in self.segments:
            points.extend(segment.flatten(tolerance))
        return points[:-1] if self.closed else points

    def as_line(self, tolerance: float) -> list[Point]:
        """`points`, and of a closed path the first again at the end."""
        points = self.points(tolerance)
        return [*points, points[0]] if self.closed else points

    def flattened(self, tolerance: float) -> Path:
        """The path with its arcs turned into chords within `tolerance` mm."""
        if not any(self.bulges):
            return self
        return (Path.polygon if self.closed else Path.polyline)(self.points(tolerance))

    def point_at(self, distance: float) -> Point:
        """Point at a distance from the start, in mm along the path, held to its ends."""
        segment, fraction = self._locate(distance)
        return segment.point_at(fraction)

    def direction_at(self, distance: float) -> Point:
        """Unit tangent at a distance from the start, in mm along the path."""
        segment, fraction = self._locate(distance)
        return segment.direction_at(fraction)

    def part(self, start: float, end: float) -> Path:
        """The open piece between two distances along the path, in mm, 0 ≤ start < end ≤ length.

        Raises PathError for an empty piece.
        """
        pieces: list[Segment] = []
        least = 1e-12 * max(1.0, self.length)
        for segment, (begin, finish) in zip(self.segments, self._spans(), strict=True):
            size = finish - begin
            low, high = max(start, begin), min(end, finish)
            if high - low > least:
                first = 0.0 if low <= begin else (low - begin) / size
                last = 1.0 if high >= finish else (high - begin) / size
                pieces.append(segment.part(first, last))
        if not pieces:
            raise PathError(f"nothing lies between {start:g} and {end:g} mm of the path")
        return Path.from_segments(pieces, closed=False)

    def _spans(self) -> Iterator[tuple[float, float]]:
        at = 0.0
        for segment in self.segments:
            yield at, at + segment.length
            at += segment.length

    def _locate(self, distance: float) -> tuple[Segment, float]:
        for segment, (begin, finish) in zip(self.segments, self._spans(), strict=True):
            if distance <= finish:
                return segment, max(0.0, (distance - begin) / (finish - begin))
        return self.segments[-1], 1.0


def rounded(points: Sequence[Point], radii: Sequence[float]) -> Path:
    """A closed polygon whose corner i is rounded by a tangent arc of radius `radii[i]` mm.

    Radius 0 keeps the corner. Raises PathError where two arcs would overlap on an edge, two
    points are the same, or a radius is negative.
    Source: an arc of radius r between edges that turn by φ touches them r·tan(φ/2) from the corner.
    """
    count = len(points)
    if len(radii) != count or not all(radius >= 0.0 for radius in radii):
        raise PathError(f"{count} corners need {count} radii of 0 mm or more (got {list(radii)})")
    for i, point in enumerate(points):
        if point == points[i - 1]:
            raise PathError(f"a corner must not stand twice (at {point})")
    reach: list[float] = []
    turns: list[float] = []
    for i, (x, y) in enumerate(points):
        before, after = points[i - 1], points[(i + 1) % count]
        turn = math.remainder(
            math.atan2(after[1] - y, after[0] - x) - math.atan2(y - before[1], x - before[0]),
            2 * math.pi,
        )
        turns.append(turn)
        reach.append(radii[i] * math.tan(abs(turn) / 2) if radii[i] else 0.0)
    segments: list[Segment] = []
    for i, corner in enumerate(points):
        after = points[(i + 1) % count]
        edge = math.dist(corner, after)
        spare = edge - reach[i] - reach[(i + 1) % count]
        if spare < -ARCS_MEET:
            raise PathError(
                f"corner radii need {edge - spare:g} mm of an edge that is {edge:g} mm long"
            )
        leave = _along(corner, after, reach[i])
        arrive = _along(after, corner, reach[(i + 1) % count])
        if reach[i] > 0:
            enter = _along(corner, points[i - 1], reach[i])
            segments.append(Segment(enter, leave, math.tan(turns[i] / 4)))
        if spare > ARCS_MEET:
            segments.append(Segment(leave, arrive))
    # Neighbouring arcs may meet in one point that two formulas reach in different last bits.
    vertices = tuple(segment.start for segment in segments)
    return Path(vertices, tuple(segment.bulge for segment in segments), closed=True)


def _along(start: Point, toward: Point, distance: float) -> Point:
    if not distance:
        return start
    share = distance / math.dist(start, toward)
    return (start[0] + share * (toward[0] - start[0]), start[1] + share * (toward[1] - start[1]))
