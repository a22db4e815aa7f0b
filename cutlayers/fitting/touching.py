"""Whether a panel cuts a thing to be packed by more than touching it.

Each shape has its own way: a cuboid is cut by the panel's plane and the cut laid over the panel,
a spheroid is stretched to a ball, a cylinder is looked at from above.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import shapely
from shapely.affinity import affine_transform
from shapely.geometry.base import BaseGeometry

from cutlayers.fitting.items import Item
from cutlayers.geometry.overlays import areas, common, shared
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.net.faces import Face
from cutlayers.net.space import Pose, Vector, minus

TOUCH = 1e-4
"""mm; a thing may touch a panel, and what overlaps by less than this only touches."""

LEVEL = 1e-6
"""Sine of the lean up to which a panel is level or upright."""


Placed = tuple[Face, Pose]
"""A face, and where its inner side lies."""


def touched(thing: Item, panels: Sequence[Placed], centre: Vector) -> list[bool]:
    """Of each panel whether its inner side cuts the thing by more than touching it."""
    if not panels:
        return []
    if thing.shape == "cuboid":
        return _cuboid_touched(thing, panels, centre)
    if thing.shape == "cylinder":
        return [_cylinder_touches(thing, inside, face, centre) for face, inside in panels]
    return _spheroid_touched(thing, panels, centre)


def _cuboid_touched(thing: Item, panels: Sequence[Placed], centre: Vector) -> list[bool]:
    sections = [_cuboid_section(thing, inside, centre) for _, inside in panels]
    near = [
        index
        for index, (section, (face, _)) in enumerate(zip(sections, panels, strict=True))
        if len(section) > 2 and not _apart(section, face.shape)
    ]
    cut = shared(areas([sections[i] for i in near]), [panels[i][0].shape for i in near])
    deep = {index for index, shares in zip(near, cut, strict=True) if shares > TOUCH}
    return [index in deep for index in range(len(panels))]


def _apart(points: list[Point], shape: shapely.Polygon) -> bool:
    """Whether boxes round both do not even touch, which is cheaper to see than what they share."""
    left, bottom, right, top = shape.bounds
    xs, ys = zip(*points, strict=True)
    return bool(min(xs) > right or max(xs) < left or min(ys) > top or max(ys) < bottom)


def _cuboid_section(thing: Item, pose: Pose, centre: Vector) -> list[Point]:
    """The corners of a cuboid's cut by a plane, in the plane's flat coordinates.

    Source: Sutherland and Hodgman's clipping of a convex polygon, once per side.
    """
    x, y, _ = pose.flat(centre)
    far = math.hypot(*thing.extents)
    section = [(x - far, y - far), (x + far, y - far), (x + far, y + far), (x - far, y + far)]
    for axis in range(3):
        half = thing.extents[axis] / 2 - TOUCH
        along = (pose.right[axis], pose.up[axis])
        start = pose.origin[axis] - centre[axis]
        for sign in (1.0, -1.0):
            section = _clipped(section, (sign * along[0], sign * along[1]), half - sign * start)
    return section


def _clipped(corners: list[Point], along: Point, limit: float) -> list[Point]:
    """The part of a convex polygon where along · point ≤ limit."""
    kept: list[Point] = []
    over = [along[0] * x + along[1] * y - limit for x, y in corners]
    for index, corner in enumerate(corners):
        before, here = over[index - 1], over[index]
        if (before > 0) != (here > 0):
            share = before / (before - here)
            (x0, y0), (x1, y1) = corners[index - 1], corner
            kept.append((x0 + share * (x1 - x0), y0 + share * (y1 - y0)))
        if here <= 0:
            kept.append(corner)
    return kept


def _spheroid_touched(thing: Item, panels: Sequence[Placed], centre: Vector) -> list[bool]:
    """Measured in a space stretched so that the thing is a unit ball."""
    halves = [extent / 2 for extent in thing.extents]
    flat = [_stretched(inside, centre, halves) for _, inside in panels]
    shapes = [
        shapely.Polygon(stretch.apply_all(face.ring))
        for (face, _), (stretch, *_) in zip(panels, flat, strict=True)
    ]
    aside = shapely.distance(shapely.points([foot for _, foot, _ in flat]), shapes).tolist()
    reach = 1 - TOUCH / max(halves)
    return [
        beside * beside + max(0.0, off) < reach**2
        for beside, (*_, off) in zip(aside, flat, strict=True)
    ]


def _stretched(
    pose: Pose, centre: Vector, halves: Sequence[float]
) -> tuple[Transform, Point, float]:
    """A plane in the space where the thing is a unit ball about the origin: how its flat points
    lie there, the foot of the origin among them, and the square of how far off the origin is."""
    right, up, origin = (
        tuple(vector[i] / halves[i] for i in range(3))
        for vector in (pose.right, pose.up, minus(pose.origin, centre))
    )
    rr = math.sqrt(sum(c * c for c in right))
    first = tuple(c / rr for c in right)
    lean = sum(a * b for a, b in zip(up, first, strict=True))
    rest = tuple(a - lean * b for a, b in zip(up, first, strict=True))
    uu = math.sqrt(sum(c * c for c in rest))
    second = tuple(c / uu for c in rest)
    x, y = (-sum(a * b for a, b in zip(origin, axis, strict=True)) for axis in (first, second))
    off = sum(c * c for c in origin) - x * x - y * y
    return Transform(rr, lean, 0.0, 0.0, uu, 0.0), (x, y), off


def _cylinder_touches(thing: Item, pose: Pose, face: Face, centre: Vector) -> bool:
    radius, half = thing.length / 2 - TOUCH, thing.height / 2 - TOUCH
    steep = math.hypot(pose.right[2], pose.up[2])
    start = pose.origin[2] - centre[2]
    shape: BaseGeometry = face.shape
    if steep < LEVEL:
        if abs(start) >= half:
            return False
    else:
        shape = common(shape, _strip(pose, face, start, half, steep))
        if shape.is_empty or shape.area <= TOUCH * TOUCH:
            return False
    if abs(pose.normal[2]) < LEVEL:
        # An upright panel is a line from above: as wide as what is left of it at this height.
        tangent = (pose.up[2] / steep, -pose.right[2] / steep)
        x, y, off = pose.flat(centre)
        at = tangent[0] * x + tangent[1] * y
        marks = [
            tangent[0] * px + tangent[1] * py for px, py in shapely.get_coordinates(shape).tolist()
        ]
        return math.hypot(off, max(0.0, min(marks) - at, at - max(marks))) < radius
    matrix = (pose.right[0], pose.up[0], pose.right[1], pose.up[1], *pose.origin[:2])
    seen = affine_transform(shape, matrix)
    return bool(seen.distance(shapely.Point(centre[0], centre[1])) < radius)


def _strip(pose: Pose, face: Face, start: float, half: float, steep: float) -> shapely.Polygon:
    """The band of a leaning plane that lies between a cylinder's two ends, in flat coordinates."""
    ux, uy = pose.right[2] / steep, pose.up[2] / steep
    low, high = (-half - start) / steep, (half - start) / steep
    left, bottom, right, top = face.shape.bounds
    far = abs(left) + abs(bottom) + abs(right) + abs(top)
    return shapely.Polygon(
        [
            (low * ux + far * uy, low * uy - far * ux),
            (high * ux + far * uy, high * uy - far * ux),
            (high * ux - far * uy, high * uy + far * ux),
            (low * ux - far * uy, low * uy + far * ux),
        ]
    )
