"""Areas laid over each other: what they have in common, what one leaves of another, all of them.

Every overlay of the package goes through here. Shapes whose borders run along each other to the
last bits break an overlay in floating point: it raises, loses a part or gives back the whole of
one. So each is worked out with every point on one fixed grid of `GRID` mm, on which such borders
are either the same or apart.

This module needs shapely; whoever need not measure does not import it.

Source: snap rounding (J. D. Hobby, "Practical segment intersection with finite precision
output", Computational Geometry 13, 1999), as the geometry library's overlays on a grid do it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import chain, pairwise
from typing import cast

import numpy as np
import shapely
from shapely import GeometryCollection, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from cutlayers.geometry.transforms import Point

GRID = 1e-6
"""mm; far below any measure of a tool, a printer or a check, and far above the rounding of
coordinates of a metre (1e-13 m) after a few motions."""

Area = Polygon | MultiPolygon


def polygons(rings: Sequence[Sequence[Point]]) -> list[Polygon]:
    """The shapes inside rings of points, just as they are. One takes twice as long as a `Polygon`
    made by itself, thirty a fifth of as many."""
    if not rings:
        return []
    which = np.repeat(np.arange(len(rings)), list(map(len, rings)))
    borders = shapely.linearrings(list(chain.from_iterable(rings)), indices=which)
    return list(cast(Iterable[Polygon], shapely.polygons(borders)))


def areas(rings: Sequence[Sequence[Point]]) -> list[Area]:
    """The area inside each ring of points; one that touches or crosses itself is taken apart."""
    return list(map(as_area, _on_grid(polygons(rings)))) if rings else []


def area(points: Sequence[Point]) -> Area:
    """The area inside a ring of points; one that touches or crosses itself is taken apart."""
    return as_area(on_grid(Polygon(points)))


def on_grid(shape: BaseGeometry) -> BaseGeometry:
    """A shape with its points on the grid, valid whatever it was, less what the grid swallows."""
    return _on_grid([shape])[0]


def _on_grid(shapes: Sequence[BaseGeometry]) -> Sequence[BaseGeometry]:
    valid = [
        shape if fine else shapely.make_valid(shape)
        for shape, fine in zip(shapes, shapely.is_valid(shapes), strict=True)
    ]
    return cast(Sequence[BaseGeometry], shapely.set_precision(valid, GRID))


def rings_of(shapes: Sequence[BaseGeometry]) -> list[list[list[Point]]]:
    """The borders of each area, of every part its outer one and then its holes', each back at its
    start."""
    parts, shape_of = shapely.get_parts(shapes, return_index=True)
    rings, part_of = shapely.get_rings(parts, return_index=True)
    points = shapely.get_coordinates(rings).tolist()
    ends = np.cumsum(shapely.get_num_coordinates(rings)).tolist()
    found: list[list[list[Point]]] = [[] for _ in shapes]
    for shape, (start, end) in zip(shape_of[part_of].tolist(), pairwise((0, *ends)), strict=True):
        found[shape].append([(x, y) for x, y in points[start:end]])
    return found


def common(one: BaseGeometry, other: BaseGeometry, grid: float | None = GRID) -> BaseGeometry:
    """What two shapes share; empty where they only lie beside each other. Without a `grid` it takes
    half as long, and is for what is not kept but goes into another overlay."""
    least = min(_dimension(one), _dimension(other))
    return _parts(shapely.intersection(one, other, grid_size=grid), least)


def corners_shared(one: BaseGeometry, other: BaseGeometry) -> list[list[float]]:
    """The corners, in no order, of the area that two areas share."""
    found = shapely.get_parts(shapely.intersection(one, other, grid_size=GRID))
    corners: list[list[float]] = shapely.get_coordinates(
        found[shapely.get_dimensions(found) == 2]
    ).tolist()
    return corners


def shared(
    shapes: Sequence[BaseGeometry], others: BaseGeometry | Sequence[BaseGeometry]
) -> list[float]:
    """How much each of many shapes has in common with another, or with its own, in mm²."""
    if not shapes:
        return []
    one, other = np.broadcast_arrays(np.asarray(shapes, object), np.asarray(others, object))
    # An overlay is dear, and most shapes lie inside of the other or clear of it. A measure needs no
    # grid: without one the library tries again on a grid of its own where borders lie too close.
    found = np.where(shapely.covers(one, other), shapely.area(other), 0.0)
    partly = (found == 0.0) & shapely.intersects(one, other)
    found[partly] = shapely.area(shapely.intersection(one[partly], other[partly]))
    return cast(list[float], found.tolist())


def without(one: BaseGeometry, other: BaseGeometry, grid: float | None = GRID) -> BaseGeometry:
    """What is left of a shape where another does not lie; without a `grid` as in `common`."""
    return _parts(shapely.difference(one, other, grid_size=grid), _dimension(one))


def together(shapes: Iterable[BaseGeometry], grid: float = GRID) -> BaseGeometry:
    """All shapes, of one kind, as one; empty where there are none. `grid` in mm is for who needs a
    finer one."""
    every = list(shapes)
    most = max(map(_dimension, every), default=0)
    return _parts(shapely.union_all(every, grid_size=grid), most, grid)


def as_area(shape: BaseGeometry) -> Area:
    """The polygons of a shape; lines and points are no area."""
    shape = _parts(shape, 2)
    return shape if isinstance(shape, Polygon | MultiPolygon) else Polygon()


def _parts(shape: BaseGeometry, dimension: int, grid: float = GRID) -> BaseGeometry:
    """A shape without the parts of fewer dimensions that an overlay leaves where borders touch,
    and that the next overlay would not take."""
    if not isinstance(shape, GeometryCollection):
        return shape
    parts = [part for part in shape.geoms if _dimension(part) == dimension]
    whole: BaseGeometry = shapely.union_all(parts, grid_size=grid)
    return whole


def _dimension(shape: BaseGeometry) -> int:
    """2 of areas, 1 of lines, 0 of points, −1 of an empty collection."""
    return int(shapely.get_dimensions(shape))
