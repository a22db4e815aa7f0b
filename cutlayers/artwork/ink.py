"""What ink draws: painted outlines and pictures, in mm with y up.

A *contour* is a chain of straight lines and cubic curves; a *paint* fills or strokes contours; a
*figure* is a vector picture made of paints, a *raster* one made of pixels; a *stamp* prints one
of them in one place or many.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace

from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Bounds, Segment
from cutlayers.geometry.transforms import Point, Transform

WIDEST_CURVE = math.pi / 4
"""Arcs become cubic curves in pieces of at most 45°: 4e-6 of the radius off at worst."""


@frozen
class Contour:
    """One chain. An edge is (end,) for a line or (control, control, end) for a cubic curve."""

    start: Point
    edges: tuple[tuple[Point, ...], ...]
    closed: bool

    @staticmethod
    def polygon(points: Iterable[Point]) -> Contour:
        """Straight edges through the points and back to the first."""
        first, *others = points
        return Contour(first, tuple((point,) for point in others), closed=True)

    @staticmethod
    def of(path: Path) -> Contour:
        """A path with its arcs as cubic curves."""
        edges = [edge for segment in path.segments for edge in _edges(segment)]
        if path.closed and not path.bulges[-1]:
            edges.pop()  # closing draws the last straight line
        return Contour(path.start, tuple(edges), path.closed)

    @property
    def points(self) -> tuple[Point, ...]:
        """Every point, controls included; their hull holds the contour."""
        return (self.start, *(point for edge in self.edges for point in edge))

    def transformed(self, transform: Transform) -> Contour:
        """The contour moved; any affine motion keeps cubic curves cubic."""
        edges = tuple(map(transform.apply_all, self.edges))
        return Contour(transform.apply(self.start), edges, self.closed)


def _edges(segment: Segment) -> list[tuple[Point, ...]]:
    if not segment.bulge:
        return [(segment.end,)]
    count = math.ceil(abs(segment.sweep) / WIDEST_CURVE - 1e-9)
    step = segment.sweep / count
    # Control points lie on the end tangents, 4/3·tan(θ/4) of the radius from the ends.
    reach = 4.0 / 3.0 * math.tan(abs(step) / 4.0) * segment.radius
    edges: list[tuple[Point, ...]] = []
    for i in range(count):
        first, last = i / count, (i + 1) / count
        (x0, y0), (x1, y1) = segment.point_at(first), segment.point_at(last)
        (u0, v0), (u1, v1) = segment.direction_at(first), segment.direction_at(last)
        edges.append(
            (
                (x0 + reach * u0, y0 + reach * v0),
                (x1 - reach * u1, y1 - reach * v1),
                segment.end if i == count - 1 else (x1, y1),
            )
        )
    return edges


@frozen
class Paint:
    """Contours filled, stroked or both, colours as #RRGGBB; a filled one comes below its stroke.

    `cap` and `join` are butt, round, square and mitre, round, bevel by number, as in SVG and PDF.
    `apart` says that no contour overlaps another, so that each may be painted by itself.
    """

    contours: tuple[Contour, ...]
    fill: str | None = None
    stroke: str | None = None
    line_width: float = 0.0
    even_odd: bool = False
    fill_opacity: float = 1.0
    stroke_opacity: float = 1.0
    cap: int = 0
    join: int = 0
    mitre_limit: float = 4.0
    dash: tuple[float, ...] = ()
    dash_offset: float = 0.0
    clip: tuple[Contour, ...] = ()
    apart: bool = False

    def transformed(self, transform: Transform) -> Paint:
        """The paint moved, its line width kept: for motions that do not scale."""
        return replace(
            self,
            contours=tuple(each.transformed(transform) for each in self.contours),
            clip=tuple(each.transformed(transform) for each in self.clip),
        )


@frozen
class Figure:
    """A vector picture; what its paints leave outside of its size is not shown."""

    width: float
    height: float
    paints: tuple[Paint, ...]


@frozen
class Raster:
    """A picture of pixels, rows from the top.

    `samples` are 8-bit grey or RGB (`channels` 1 or 3) or, where `is_jpeg`, a whole JPEG stream;
    `alpha` is 8-bit opacity, a byte for each pixel, or None where all is opaque.
    """

    width: int
    height: int
    channels: int
    samples: bytes
    is_jpeg: bool = False
    alpha: bytes | None = None


Content = Figure | Raster


@frozen
class Stamp:
    """A picture printed in places: each carries the unit square onto the paper."""

    content: Content
    places: tuple[Transform, ...]
    clip: tuple[Contour, ...] = ()

    def transformed(self, transform: Transform) -> Stamp:
        """The stamp moved."""
        return replace(
            self,
            places=tuple(transform @ place for place in self.places),
            clip=tuple(each.transformed(transform) for each in self.clip),
        )


Item = Paint | Stamp

UNIT_SQUARE: tuple[Point, ...] = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))


def within(items: Iterable[Item], bounds: Bounds) -> Iterator[Item]:
    """Items without the contours and the places that lie wholly outside of bounds; inside of them
    nothing changes."""
    for item in items:
        if isinstance(item, Paint):
            # A mitre reaches so many half widths from its corner, a square end less.
            reach = item.line_width / 2 * max(item.mitre_limit, 2.0) if item.stroke else 0.0
            kept = tuple(each for each in item.contours if _touch(each.points, bounds, reach))
            if kept:
                yield replace(item, contours=kept)
        else:
            there = tuple(
                each for each in item.places if _touch(each.apply_all(UNIT_SQUARE), bounds)
            )
            if there:
                yield replace(item, places=there)


def _touch(points: Iterable[Point], bounds: Bounds, reach: float = 0.0) -> bool:
    """Whether the box around points and that of `bounds` have something in common."""
    xs, ys = zip(*points, strict=True)
    left, bottom, right, top = bounds
    across: bool = min(xs) - reach <= right and max(xs) + reach >= left
    up: bool = min(ys) - reach <= top and max(ys) + reach >= bottom
    return across and up


@frozen
class InkLayer:
    """Items printed together, the first at the bottom."""

    name: str
    title: str
    items: tuple[Item, ...]
