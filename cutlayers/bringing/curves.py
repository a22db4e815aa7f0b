"""Curves as drawings have them: straight edges, arcs and cubic Bézier curves.

Ellipses and parts of them are made cubic curves, and all cubic ones arcs and lines in the end.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence

from cutlayers.bringing.biarcs import Straight, fitted
from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.reading.values import ValueRefused

Cubic = tuple[Point, Point, Point]
"""Both control points of a cubic Bézier curve, and its end."""

Edge = Straight | Cubic

SPAN = math.pi / 8
"""Of an ellipse as one cubic: it then lies within 1e-7 of the longer radius.
Source: that of a circle, 2.7e-4 over a quarter, which falls with the sixth power."""

ON_SPOT, NOTHING = 1e-9, 1e-12
"""Edges that are shorter than this share of the drawing, or this of its units, are none."""

STRAIGHT_BULGE, LARGEST_BULGE = 1e-9, 1e6
"""An arc that bends less is a line, and one that bends more no part of a circle."""


@frozen
class Curve:
    """A start and edges, each from where the one before ended."""

    start: Point
    edges: tuple[Edge, ...]
    closed: bool = False

    @property
    def points(self) -> Iterator[Point]:
        """Ends and controls; the curve, unless it has arcs, lies within their hull."""
        yield self.start
        for edge in self.edges:
            if len(edge) == 3:
                yield from edge
            else:
                yield edge[0]

    def transformed(self, onto: Transform) -> Curve:
        """Moved; arcs become parts of ellipses where the motion makes these of circles."""
        edges: Iterable[Edge] = self.edges
        even = onto.is_similarity
        if not even:
            edges = _without_arcs(self.start, self.edges)
        sign = -1.0 if onto.determinant < 0 else 1.0
        move = onto.apply
        moved: list[Edge] = []
        for edge in edges:
            if len(edge) == 3:
                moved.append((move(edge[0]), move(edge[1]), move(edge[2])))
            else:
                moved.append((move(edge[0]), sign * edge[1] + 0.0))
        return Curve(move(self.start), tuple(moved), self.closed)


def ellipse(centre: Point, u: Point, v: Point, begin: float, end: float) -> Iterator[Cubic]:
    """Cubics for the points centre + u·cos t + v·sin t, from t = `begin` to `end` in radians.

    Source: tangents of k = 4/3·tan(φ/4) for a part of φ, as for circles, since an affine motion
    keeps cubic Bézier curves.
    """
    count = max(1, math.ceil(abs(end - begin) / SPAN - 1e-9))
    k = 4.0 / 3.0 * math.tan((end - begin) / count / 4.0)
    (x, y), (ux, uy), (vx, vy) = centre, u, v

    def at(c: float, s: float) -> Point:
        return x + c * ux + s * vx, y + c * uy + s * vy

    for i in range(count):
        a, b = (begin + (end - begin) * j / count for j in (i, i + 1))
        ca, sa, cb, sb = math.cos(a), math.sin(a), math.cos(b), math.sin(b)
        yield at(ca - k * sa, sa + k * ca), at(cb + k * sb, sb - k * cb), at(cb, sb)


def arc(centre: Point, radius: float, begin: float, end: float) -> Curve:
    """Part of a circle from angle `begin` to `end` in radians, in edges below a half circle."""
    (x, y) = centre
    count = max(1, math.ceil(abs(end - begin) / (math.pi / 2) - 1e-9))
    bulge = math.tan((end - begin) / count / 4.0)
    angles = [begin + (end - begin) * i / count for i in range(count + 1)]
    first, *rest = [(x + radius * math.cos(a), y + radius * math.sin(a)) for a in angles]
    return Curve(first, tuple((point, bulge) for point in rest))


def circle(centre: Point, radius: float) -> Curve:
    """A whole circle in two halves, counter-clockwise."""
    (x, y) = centre
    left, right = (x - radius, y), (x + radius, y)
    return Curve(right, ((left, 1.0), (right, 1.0)), closed=True)


def paths_of(curves: Sequence[Curve], tolerance: float) -> list[Path | None]:
    """Each curve as lines and arcs within `tolerance`; None where it has no length."""
    cubics: list[tuple[Point, Point, Point, Point]] = []
    largest = max((abs(value) for curve in curves for p in curve.points for value in p), default=0)
    for curve in curves:
        at = curve.start
        for edge in curve.edges:
            if len(edge) == 3:
                cubics.append((at, *edge))
                at = edge[2]
            else:
                at = edge[0]
    arcs = iter(fitted(cubics, tolerance) if cubics else ())
    least = max(ON_SPOT * largest, NOTHING)
    return [_path(curve, arcs, least) for curve in curves]


def _path(curve: Curve, arcs: Iterator[list[Straight]], least: float) -> Path | None:
    vertices, bulges = [curve.start], []
    for edge in curve.edges:
        for end, bulge in next(arcs) if len(edge) == 3 else (edge,):
            if math.dist(vertices[-1], end) > least:
                vertices.append(end)
                bulges.append(_usable(bulge))
    if curve.closed and bulges:
        if math.dist(vertices[0], vertices[-1]) <= least:
            vertices.pop()
        else:
            bulges.append(0.0)
    if len(vertices) < 2:
        return None
    return Path(tuple(vertices), tuple(bulges), curve.closed)


def _usable(bulge: float) -> float:
    if not abs(bulge) <= LARGEST_BULGE:
        raise ValueRefused(f"has an arc with a bulge of {bulge:g}, which is no arc")
    return bulge if abs(bulge) > STRAIGHT_BULGE else 0.0


def _without_arcs(start: Point, edges: Iterable[Edge]) -> Iterator[Edge]:
    """Arcs as cubics."""
    at = start
    for edge in edges:
        if len(edge) == 3:
            yield edge
            at = edge[2]
            continue
        end, bulge = edge
        if bulge and end != at:
            height = (1.0 - bulge**2) / (4.0 * bulge)
            dx, dy = end[0] - at[0], end[1] - at[1]
            x, y = (at[0] + end[0]) / 2.0 - height * dy, (at[1] + end[1]) / 2.0 + height * dx
            u = (at[0] - x, at[1] - y)
            *parts, last = ellipse((x, y), u, (-u[1], u[0]), 0.0, 4.0 * math.atan(bulge))
            yield from parts
            yield (last[0], last[1], end)
        else:
            yield edge
        at = end


def chain_of(points: Sequence[Point], bulges: Sequence[float] = (), closed: bool = False) -> Curve:
    """Points joined by lines, or by arcs where there are bulges; if closed, the last leads back."""
    given = itertools.chain(bulges, itertools.repeat(0.0))
    edges: list[Edge] = [(end, bulge) for end, bulge in zip(points[1:], given, strict=False)]
    if closed:
        edges.append((points[0], next(given, 0.0)))
    return Curve(points[0], tuple(edges), closed)
