"""The true outline of a blank as convex parts, and where another blank cannot go beside it.

The *no-fit region* of a still piece and a moving one holds every point at which the moving one's
origin must not lie. For convex parts A and B it is the Minkowski sum A ⊕ (−B), which is convex; for
pieces made of several parts it is the union over all pairs. Source: Bennell & Oliveira, "The
geometry of nesting problems: a tutorial", European Journal of Operational Research 184 (2008).

The gap is kept by growing the parts of the still piece with cut-off mitred corners, so at a corner
two pieces keep a little more than the gap, and nowhere less.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING

from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Bounds
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.net import Net

if TYPE_CHECKING:
    import numpy as np
    from shapely import Polygon
    from shapely.geometry.base import BaseGeometry

FLATTENED = 0.1
"""mm that an arc may stray from its chords; the outline is grown by as much where it has arcs."""

HOLLOW = 0.5
"""mm of a hollow arc, such as a thumb cut, that may count as card; fewer chords, fewer parts."""

TOUCH = 1e-7
"""mm by which pieces may come closer than the gap, so that one fits a place of exactly its size."""

NEAR = 1e-6
"""mm; corners of parts lie within this of their union."""

GRID = 1e-8
"""mm to which coordinates are rounded where a union must be sure."""

MITRE = 1.15
"""How far a grown corner reaches, in gaps; 1 would be a round corner, √2 a square one."""

ROUGH = 0.05
"""Share of a blank's area that may be filled in where few parts count for more than a snug lie."""

OUTLINES_KEPT, REGIONS_KEPT = 1024, 1024
"""Of those last asked for: whoever tries a change of a job lays most of the same pieces again."""

Points = tuple[Point, ...]


@frozen(slots=False)
class Outline:
    """A blank in the net's own coordinates, grown by nothing.

    `parts` are convex and together cover the blank; `ring` is its outer border.
    """

    parts: tuple[Points, ...]
    ring: Points

    @cached_property
    def area(self) -> float:
        """Of the blank with its inner openings filled, in mm²."""
        return abs(_area(self.ring))

    @cached_property
    def inside(self) -> Point:
        """A place on the card: the middle of the largest part."""
        xs, ys = zip(*max(self.parts, key=lambda part: abs(_area(part))), strict=True)
        return math.fsum(xs) / len(xs), math.fsum(ys) / len(ys)

    @cached_property
    def rough_parts(self) -> tuple[Points, ...]:
        """Fewer convex parts that cover the blank and little more; small notches are filled."""
        return _roughened(self.parts, self.ring, ROUGH * self.area)

    @cached_property
    def is_box(self) -> bool:
        """Whether the blank fills its own bounding box."""
        left, bottom, right, top = bounds_of(self.ring)
        return math.isclose(self.area, (right - left) * (top - bottom), rel_tol=1e-9)


def outline_of(net: Net) -> Outline:
    """The outline of a net's panels; holes between and inside panels count as filled.

    Arcs become chords that lie outside the blank.
    """
    return _outline(_borders(net))


def blank_of(net: Net) -> Polygon:
    """The blank of a net as a polygon; arcs become chords that lie outside it."""
    return _whole(_panels(_borders(net)))


def _borders(net: Net) -> tuple[Path, ...]:
    return tuple(panel.outline for panel in net.panels)


@lru_cache(OUTLINES_KEPT)
def _outline(borders: tuple[Path, ...]) -> Outline:
    """Of panels with these borders: the strips of one box are alike but for their names."""
    import shapely

    from cutlayers.geometry.convex import convex_parts, joined

    panels = _panels(borders)
    whole = _whole(panels)
    filled = shapely.Polygon(whole.exterior)
    # Between panels with holes at their corners little can be joined again; the whole has fewer.
    pieces = [shapely.simplify(filled, 0.0)] if whole.interiors else panels
    parts = joined([part for piece in pieces for part in convex_parts(piece)])
    return Outline(tuple(_points(part) for part in parts), _points(filled))


def _whole(panels: Sequence[Polygon]) -> Polygon:
    import shapely

    from cutlayers.geometry.overlays import together

    # Panels share their edges up to rounding; growing and shrinking closes hair cracks.
    whole = together(panels, GRID)
    if whole.geom_type != "Polygon":
        whole = whole.buffer(TOUCH, join_style="mitre").buffer(-TOUCH, join_style="mitre")
    if not isinstance(whole, shapely.Polygon):
        raise ValueError("the panels of a net do not hang together")
    return whole


def _panels(borders: Sequence[Path]) -> list[Polygon]:
    import shapely

    panels = []
    for border in borders:
        points = [
            point
            for segment in border.segments
            # Chords of a hollow arc lie outside the card, so they may be few.
            for point in segment.flatten(HOLLOW if segment.bulge < 0 else FLATTENED)
        ]
        polygon = shapely.Polygon(points)
        if any(bulge > 0 for bulge in border.bulges):
            polygon = polygon.buffer(FLATTENED, join_style="mitre")
        panels.append(polygon)
    return panels


def turned(points: Points, angle_deg: float) -> Points:
    """Points turned about the origin."""
    turn = Transform.rotation(angle_deg)
    return tuple(turn.apply(point) for point in points)


def bounds_of(points: Points) -> Bounds:
    """Bounding box of points."""
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


@lru_cache(REGIONS_KEPT)
def no_fit_region(
    still: tuple[Points, ...], moving: tuple[Points, ...], gap: float
) -> BaseGeometry:
    """Where the origin of `moving` must not lie, the parts of `still` being where they are."""
    import numpy as np
    import shapely

    # A gap too small to tell from none would grow a part into nothing.
    by = gap if gap > TOUCH else 0.0
    polygons = np.array([shapely.Polygon(part) for part in still])
    bordered = shapely.buffer(polygons, by, join_style="mitre", mitre_limit=MITRE)
    grown = [shapely.get_coordinates(each)[:-1] for each in bordered]
    others = [np.array(part) for part in moving]
    sums = [
        (one[:, None, :] - other[None, :, :]).reshape(-1, 2) for one in grown for other in others
    ]
    owner = np.repeat(np.arange(len(sums)), [len(points) for points in sums])
    # A line through all points has the hull of the points, and is made far faster.
    lines = shapely.linestrings(np.concatenate(sums), indices=owner)
    region = _union(np.asarray(shapely.convex_hull(lines)))
    # Of the whole, not of the parts: a pointed part would lose far more than TOUCH at its tip.
    return region.buffer(-TOUCH, join_style="mitre")


def _union(parts: np.ndarray) -> BaseGeometry:
    """The union of polygons, checked: GEOS 3.14 was seen to leave out a part of nearly coinciding
    polygons. On a grid it is sure, but takes nine times as long."""
    import numpy as np
    import shapely

    from cutlayers.geometry.overlays import together

    whole: BaseGeometry = parts[0] if len(parts) == 1 else shapely.union_all(parts)
    if len(parts) == 1:
        return whole
    reach = whole.buffer(NEAR, join_style="mitre")
    shapely.prepare(reach)
    corners = shapely.get_coordinates(parts)
    centres = shapely.get_coordinates(shapely.centroid(parts))
    # A point is covered exactly where it is met.
    if bool(shapely.intersects_xy(reach, np.concatenate([corners, centres])).all()):
        return whole
    return together(parts, GRID)


def _roughened(parts: Sequence[Points], ring: Points, most: float) -> tuple[Points, ...]:
    """Parts joined two by two, by their hulls, as long as these add no more than `most` mm²."""
    import numpy as np
    import shapely

    whole = shapely.Polygon(ring)
    numbers = itertools.count()
    shapes: dict[int, BaseGeometry] = {next(numbers): shapely.Polygon(part) for part in parts}
    added: dict[tuple[int, int], tuple[float, BaseGeometry]] = {}

    def try_beside(one: int, others: Sequence[int]) -> None:
        pairs = np.array([(shapes[one], shapes[other]) for other in others], dtype=object)
        both = shapely.geometrycollections(pairs.reshape(-1, 2))
        hulls = np.asarray(shapely.convex_hull(both))
        areas = np.asarray(shapely.area(shapely.difference(hulls, whole)))
        for other, hull, area in zip(others, hulls, areas, strict=True):
            # In square micrometres, so that rounding decides nothing.
            added[one, other] = round(float(area), 6), hull

    for one in shapes:
        try_beside(one, range(one))
    while added:
        pair = min(added, key=lambda each: (added[each][0], each))
        area, hull = added[pair]
        most -= area
        if most < 0.0:
            break
        covered = [each for each, shape in shapes.items() if each in pair or hull.covers(shape)]
        shapes = {each: shape for each, shape in shapes.items() if each not in covered}
        added = {each: sum_ for each, sum_ in added.items() if not {*each} & {*covered}}
        joined = next(numbers)
        others = tuple(shapes)
        shapes[joined] = hull
        try_beside(joined, others)
    polygons = [each for each in shapes.values() if isinstance(each, shapely.Polygon)]
    return tuple(_points(each) for each in polygons)


def _points(polygon: Polygon) -> Points:
    ring = polygon.exterior if polygon.exterior.is_ccw else polygon.exterior.reverse()
    return tuple((float(x), float(y)) for x, y in ring.coords[:-1])


def _area(ring: Points) -> float:
    return math.fsum(
        (x0 * y1 - x1 * y0) / 2.0
        for (x0, y0), (x1, y1) in zip(ring, ring[1:] + ring[:1], strict=True)
    )
