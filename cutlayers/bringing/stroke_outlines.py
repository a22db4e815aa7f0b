"""Lines that a drawing has as outlines of strokes, made lines again.

Some programs write a stroke as the thin area that it covers: a line 0.3 mm wide is a closed outline
with two long sides. Taken for cuts, these are two cuts beside each other, and slivers between them.
A line along the middle stands in their place.

The middle of a stroke that ends is halfway between its sides; that of strokes which run round areas
lies half a width off the borders of these. Slots in card are thin outlines too, but the outline of
the card goes round them, and an outline may be there twice, but creases are lines then: strokes
reach as far as anything in a drawing, and are nearly all of it.

This module needs shapely; whoever brings no drawing does not import it.
"""

from __future__ import annotations

import itertools
import math
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

import shapely
from shapely import Polygon

from cutlayers.bringing.lines import Drawing, DrawnLine
from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import union_bounds
from cutlayers.geometry.transforms import Point

WIDEST = 1.0
"""mm; strokes in drawings of nets are 0.1 to 1 mm wide. Common practice, no source."""

LONG = 5.0
"""How many times as long as wide a stroke is at least; shorter shapes are dots."""

NEARLY_ALL = 0.9
"""Of the length of all lines."""

MOST = 2000
"""Closed lines of a drawing that is looked at; each may go round all others."""

SLANT = 2.5
"""Widths that the corners of a bend in a stroke lie apart at most: it turns by up to 130°."""

SHARPEST = 20.0
"""Half widths that a corner lies off where its sides were moved, at an angle of 6°."""

STRAIGHT_SHARE = 0.9
"""Of the rectangle round it that a straight stroke fills, its ends blunt or round."""

CHORD = 0.005
"""mm that the chords of curved borders keep to; arcs are found in them again."""

STRAIGHT = 1e-4
"""mm off a straight line, from which on a point of a border is a corner."""


@frozen
class _Thin:
    """A thin shape: the line round it and those round what it goes round, with their areas."""

    outer: DrawnLine
    holes: tuple[DrawnLine, ...]
    area: Polygon


def middles(drawing: Drawing) -> tuple[Drawing, int]:
    """A drawing in mm with lines in place of the outlines of strokes, and how many these were."""
    closed = [line for line in drawing.lines if len(line.path.bulges) > 1 and _closes(line.path)]
    if len(closed) > MOST:
        return drawing, 0
    shapes = [each for each in _shapes(closed) if _is_thin(each.area)]
    if not shapes or not _make_the_drawing(shapes, drawing.lines):
        return drawing, 0
    places: dict[int, Path | None] = {}
    for shape in shapes:
        places |= _middle(shape)
    lines = tuple(
        line if path is line.path else replace(line, path=path)
        for line in drawing.lines
        if (path := places.get(line.number, line.path)) is not None
    )
    return replace(drawing, lines=lines), len(places)


def _shapes(lines: Sequence[DrawnLine]) -> Iterator[_Thin]:
    """Closed lines of one look, each with those that it goes round next."""
    looks: dict[object, list[DrawnLine]] = defaultdict(list)
    for line in lines:
        looks[line.hints].append(line)
    for some in looks.values():
        rings = [Polygon(line.path.points(CHORD)) for line in some]
        sound = [at for at, ring in enumerate(rings) if ring.is_valid and ring.area > 0.0]
        tree = shapely.STRtree([rings[at] for at in sound])
        inner, outer = tree.query([rings[at] for at in sound], "within")
        around: dict[int, list[int]] = defaultdict(list)
        for one, other in zip(inner.tolist(), outer.tolist(), strict=True):
            if one != other:
                around[sound[one]].append(sound[other])
        holes: dict[int, list[int]] = defaultdict(list)
        for one, others in around.items():
            if len(others) % 2:
                holes[min(others, key=lambda other: rings[other].area)].append(one)
        for at in sound:
            if len(around[at]) % 2 == 0:
                within = [rings[hole].exterior for hole in holes[at]]
                area = Polygon(rings[at].exterior, within)
                yield _Thin(some[at], tuple(some[hole] for hole in holes[at]), area)


def _closes(path: Path) -> bool:
    return path.closed or math.dist(path.start, path.end) <= STRAIGHT


def _is_thin(area: Polygon) -> bool:
    # Of a strip the area is the width times half of the border.
    wide = 2.0 * area.area / area.length
    return area.is_valid and wide <= WIDEST and area.length / 2.0 >= LONG * wide


def _make_the_drawing(shapes: Sequence[_Thin], lines: Sequence[DrawnLine]) -> bool:
    """Whether thin shapes reach as far as anything in a drawing, and are nearly all of it."""
    own = union_bounds(shape.outer.path.bounds for shape in shapes)
    every = union_bounds(line.path.bounds for line in lines)
    reach = all(abs(one - other) <= WIDEST for one, other in zip(own, every, strict=True))
    whole = math.fsum(line.path.length for line in lines)
    return reach and math.fsum(shape.area.length for shape in shapes) >= NEARLY_ALL * whole


def _middle(shape: _Thin) -> Mapping[int, Path | None]:
    """The paths in place of the lines round a shape, by their numbers; None for one that goes.
    Nothing where its middle is not found."""
    if not shape.holes:
        path = _between_sides(shape.area)
        return {} if path is None else {shape.outer.number: path}
    rings = [Polygon(ring) for ring in shape.area.interiors]
    half = _width(shape.area) / 2.0
    inside = _off(Polygon(shape.area.exterior), -half)
    around = [_off(ring, half) for ring in rings]
    if inside is None or None in around:
        return {}
    found: dict[int, Path | None] = {shape.outer.number: inside}
    # A single area has its own border as the middle, which the outer one is already.
    alone = len(rings) == 1
    for hole, path in zip(shape.holes, around, strict=True):
        found[hole.number] = None if alone else path
    return found


def _width(area: Polygon) -> float:
    """How far the longest straight border of a shape is from the others."""
    points = list(area.exterior.coords)
    start, end = max(itertools.pairwise(points), key=lambda side: math.dist(*side))
    middle = shapely.Point((start[0] + end[0]) / 2.0, (start[1] + end[1]) / 2.0)
    return float(middle.distance(shapely.MultiLineString(list(area.interiors))))


def _off(ring: Polygon, by: float) -> Path | None:
    """The border of an area moved outwards, its corners kept."""
    moved = ring.buffer(by, join_style="mitre", mitre_limit=SHARPEST).simplify(STRAIGHT)
    if not isinstance(moved, Polygon) or moved.is_empty:
        return None
    return Path.polygon(_corners(moved))


def _corners(area: Polygon) -> list[Point]:
    return [(x, y) for x, y in area.exterior.coords[:-1]]


def _between_sides(area: Polygon) -> Path | None:
    """The middle of a stroke with two ends: that of the rectangle round a straight one, otherwise
    halfway between points across from each other."""
    box = area.minimum_rotated_rectangle
    if isinstance(box, Polygon) and area.area >= STRAIGHT_SHARE * box.area:
        a, b, c, d = box.exterior.coords[:4]
        ends = ((a, b), (c, d)) if math.dist(a, b) < math.dist(b, c) else ((b, c), (d, a))
        return Path.line(*(((ax + bx) / 2.0, (ay + by) / 2.0) for (ax, ay), (bx, by) in ends))
    simple = area.simplify(STRAIGHT)
    if not isinstance(simple, Polygon):
        return None
    points = _corners(simple)
    count = len(points)
    wide = 2.0 * area.area / area.length
    if count % 2:
        return None
    sides = [math.dist(points[at], points[(at + 1) % count]) for at in range(count)]
    first = min(range(count), key=lambda at: (round(sides[at], 4), at))
    pairs = [
        (points[(first + 1 + step) % count], points[(first - step) % count])
        for step in range(count // 2)
    ]
    if any(math.dist(*pair) > SLANT * max(wide, sides[first]) for pair in pairs):
        return None
    middle = [((ax + bx) / 2.0, (ay + by) / 2.0) for (ax, ay), (bx, by) in pairs]
    return Path.polyline(middle)
