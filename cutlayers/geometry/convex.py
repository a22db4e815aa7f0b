"""Areas taken apart into convex parts.

This module needs shapely; whoever need not measure does not import it.
"""

from __future__ import annotations

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from cutlayers.geometry.overlays import together

CONVEX = 1e-9
"""Share of a part's area that its hull may add before the part no longer counts as convex."""


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
    parts = list(parts)
    merging = True
    while merging:
        merging = False
        for i in range(len(parts)):
            for j in range(i + 1, len(parts)):
                hull = joined_hull(parts[i], parts[j])
                if hull is not None:
                    parts[i] = hull
                    del parts[j]
                    merging = True
                    break
            if merging:
                break
    return parts
