"""Areas taken apart into convex parts.

This module needs shapely; whoever need not measure does not import it.
"""

from __future__ import annotations

from collections.abc import Mapping

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from cutlayers.geometry.overlays import together
from cutlayers.geometry.segments import Bounds

CONVEX = 1e-9
"""Share of a part's area that its hull may add before the part no longer counts as convex."""

APART = 1e-3
"""mm; parts farther from each other than this, far above the grid of overlays, are never one."""


def convex_parts(polygon: Polygon) -> list[Polygon]:
    """Convex polygons that together cover a polygon: triangles of it, joined where they can be."""
    if is_convex(polygon):
        return [polygon]
    triangles = shapely.constrained_delaunay_triangles(polygon).geoms
    return joined([each for each in triangles if isinstance(each, Polygon)])


def is_convex(polygon: BaseGeometry) -> bool:
    """Whether a shape is one polygon and its own hull, up to rounding."""
    hull = polygon.convex_hull
    return polygon.geom_type == "Polygon" and hull.area - polygon.area <= CONVEX * polygon.area


def joined_hull(one: Polygon, other: Polygon) -> Polygon | None:
    """The hull of two parts, where it adds nothing to them."""
    hull = shapely.GeometryCollection([one, other]).convex_hull
    most = one.area + other.area  # that both cover, less where they lie on each other
    if not isinstance(hull, Polygon) or hull.area - most > CONVEX * most:
        return None
    return hull if is_convex(together([one, other])) else None


def joined(parts: list[Polygon]) -> list[Polygon]:
    """Fewer parts that cover the same: neighbours that are convex together become one."""
    left = dict(enumerate(parts))
    boxes = {number: part.bounds for number, part in left.items()}
    # Of each part the others beside it with which it was not tried yet.
    untried = {number: _beside(number, boxes) for number in left}
    while pair := next(((one, min(rest)) for one, rest in untried.items() if rest), None):
        one, other = pair
        untried[one].discard(other)
        untried[other].discard(one)
        hull = joined_hull(left[one], left[other])
        if hull is None:
            continue
        left[one], boxes[one] = hull, hull.bounds
        del left[other], boxes[other], untried[other]
        untried[one] = _beside(one, boxes)
        for number, rest in untried.items():
            rest.discard(other)
            if number in untried[one]:
                rest.add(one)
    return list(left.values())


def _beside(number: int, boxes: Mapping[int, Bounds]) -> set[int]:
    """The others whose bounding boxes are no farther than `APART` from that one's."""
    left, bottom, right, top = boxes[number]
    return {
        other
        for other, (low_x, low_y, high_x, high_y) in boxes.items()
        if other != number
        and low_x - right < APART > left - high_x
        and low_y - top < APART > bottom - high_y
    }
