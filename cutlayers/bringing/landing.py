"""What comes to lie on what, and which sides come together, once a net is folded up.

Both are what an answer is tested by: angles were chosen so that near sides meet; that a tab then
lies flat on a panel that it does not hang on, or that sides far apart on the sheet meet, nobody
arranged.

This module needs shapely and numpy.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

import numpy as np
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon

from cutlayers.bringing.sides import STEP, Sheet, Side
from cutlayers.frozen import frozen
from cutlayers.geometry.overlays import areas, shared
from cutlayers.geometry.segments import Bounds
from cutlayers.net.crossing_faces import crossing_faces
from cutlayers.net.faces import Face, seen_from
from cutlayers.net.model import Net
from cutlayers.net.panel import Hinge
from cutlayers.net.space import Pose, cross, dot

LAYERS = 2.0
"""mm; panels that lie face to face lie no farther apart: a few layers of card, whose thickness a
drawing does not say."""

ALONG = math.sin(math.radians(2.0))
"""Sine of the angle up to which two panels lie face to face; drawings are not exact."""

COVERED = 0.25
"""Share of a panel that has to lie on another one for it to have landed there."""

TOUCHED = 0.06
"""Share of a panel in one plane with another, and over it, that is no chance."""

SHORT = 6.0
"""mm; shorter sides come together by chance."""

CHORD = 0.2
"""mm; how far chords lie off curved borders here."""

GIVES = 1.5
"""mm that card which goes through card may be out of place by: two layers, and the drawing."""


@frozen
class Shapes:
    """The panels of a flat net as shapes to measure by, in the order of the net."""

    net: Net
    rings: Mapping[str, tuple[tuple[float, float], ...]]
    shapes: Mapping[str, Polygon]
    bounds: Mapping[str, Bounds]


def shapes_of(net: Net) -> Shapes:
    """The shapes of a net; of a border that crosses itself the largest part."""
    rings = {panel.name: tuple(panel.outline.points(CHORD)) for panel in net.panels}
    whole = zip(rings, areas(list(rings.values())), strict=True)
    shapes = {name: _largest(area) for name, area in whole}
    return Shapes(net, rings, shapes, {name: shape.bounds for name, shape in shapes.items()})


def _largest(area: Polygon | MultiPolygon) -> Polygon:
    return area if isinstance(area, Polygon) else max(area.geoms, key=lambda part: part.area)


def lie_along(one: Pose, other: Pose) -> bool:
    """Whether two panels are parallel, whichever way they look."""
    lean = cross(one.normal, other.normal)
    return dot(lean, lean) <= ALONG**2


def covered(shapes: Shapes, poses: Mapping[str, Pose], panel: str, other: str) -> float:
    """Share of a panel that lies face to face with another, 0 to 1."""
    here, there = poses[panel], poses[other]
    if not lie_along(here, there):
        return 0.0
    xs, ys, heights = zip(
        *(there.flat(here.place(point)) for point in shapes.rings[panel]), strict=True
    )
    if abs(sum(heights)) / len(heights) > LAYERS or max(heights) - min(heights) > 2 * LAYERS:
        return 0.0
    left, low, right, high = shapes.bounds[other]
    if max(xs) < left or min(xs) > right or max(ys) < low or min(ys) > high:
        return 0.0
    seen = seen_from(there, here, shapes.shapes[panel])
    return shared([seen], shapes.shapes[other])[0] / shapes.shapes[panel].area


def landings(shapes: Shapes, poses: Mapping[str, Pose]) -> Iterator[tuple[str, str, float]]:
    """Panels that lie on others which they do not hang on, and the share of them that does."""
    hinged = {frozenset((hinge.first, hinge.second)) for hinge in shapes.net.hinges}
    names = [panel.name for panel in shapes.net.panels]
    normals = np.array([poses[name].normal for name in names])
    along = np.abs(normals @ normals.T) >= math.sqrt(1 - ALONG**2)
    for i, j in zip(*np.nonzero(np.triu(along, 1)), strict=True):
        one, other = names[i], names[j]
        if frozenset((one, other)) in hinged:
            continue
        if shapes.shapes[one].area > shapes.shapes[other].area:
            one, other = other, one
        share = covered(shapes, poses, one, other)
        if share >= TOUCHED:
            yield one, other, share


def meets(sheet: Sheet, poses: Mapping[str, Pose]) -> list[tuple[str, str, float, float]]:
    """Sides of two panels that come together: the panels, the length, and how far apart at most."""
    sides = [
        side
        for own in sheet.sides.values()
        for side in own
        if side.straight and side.length > SHORT
    ]
    if not sides:
        return []
    apart = _ends_apart([(side, poses[side.panel]) for side in sides])
    # A cut that parts two panels has a side of each from the start.
    cut = _ends_apart([(side, Pose()) for side in sides]) <= 2 * STEP
    found = []
    for i, j in zip(*np.nonzero(np.triu((apart <= 2 * STEP) & ~cut, 1)), strict=True):
        one, other = sides[i], sides[j]
        if one.panel != other.panel and not {*one.hinges} & {*other.hinges}:
            found.append((one.panel, other.panel, one.length, float(apart[i, j])))
    return found


def _ends_apart(sides: Sequence[tuple[Side, Pose]]) -> NDArray[np.float64]:
    """How far the ends of each two sides lie apart at most, one of them reversed."""
    starts = np.array([pose.place(side.start) for side, pose in sides])
    ends = np.array([pose.place(side.end) for side, pose in sides])
    one: NDArray[np.float64] = np.linalg.norm(starts[:, None] - ends[None], axis=2)
    apart: NDArray[np.float64] = np.maximum(one, one.T)
    return apart


def angles_onto(
    poses: Mapping[str, Pose], hinge: Hinge, carrier: str, others: Sequence[str]
) -> dict[str, float]:
    """The angles in degrees at which what hangs on a carrier lies in the planes of other panels, on
    either side of its crease; of those whose plane the crease lies in."""
    edge = hinge.edge if hinge.first == carrier else hinge.edge.reversed()
    pose = poses[carrier]
    ends = np.array([pose.place(edge.start), pose.place(edge.end)])
    axis = np.array(pose.direction((*edge.direction_at(0.5), 0.0)))
    normal = np.array(pose.normal)
    normals = np.array([poses[other].normal for other in others]).reshape(-1, 3)
    origins = np.array([poses[other].origin for other in others]).reshape(-1, 3)
    heights = np.einsum("eok,ok->eo", ends[:, None] - origins, normals)
    level = np.abs(heights[0] - heights[1]) <= ALONG * edge.chord
    found = (np.abs(heights).max(axis=0) <= LAYERS) & level
    # The others' normals, square to the crease.
    out = normals - np.outer(normals @ axis, axis)
    turns = np.degrees(np.arctan2(np.cross(normal, out) @ axis, out @ normal))
    return {others[index]: float(turns[index]) for index in np.flatnonzero(found).tolist()}


def passing(net: Net, poses: Mapping[str, Pose], shapes: Shapes) -> list[tuple[str, str]]:
    """Pairs of panels that go through one another by more than card gives; those that lie face to
    face, as nearly as a drawing says, do not."""
    faces = [_face(net, shapes, poses, index) for index in range(len(net.panels))]
    drawn_in = [min(GIVES, 0.15 * _narrow(face)) for face in faces]
    return [
        (one.name, other.name)
        for one, other, _ in crossing_faces(faces, drawn_in)
        if not lie_along(one.pose, other.pose)
    ]


def _face(net: Net, shapes: Shapes, poses: Mapping[str, Pose], index: int) -> Face:
    panel = net.panels[index]
    ring, pose = shapes.rings[panel.name], poses[panel.name]
    xs, ys, zs = zip(*map(pose.place, ring), strict=True)
    low, high = (min(xs), min(ys), min(zs)), (max(xs), max(ys), max(zs))
    return Face(net.name, panel, pose, ring, shapes.shapes[panel.name], low, high)


def _narrow(face: Face) -> float:
    """How wide a face is at its narrowest, about, in mm: twice its area by half its border."""
    return 4.0 * face.shape.area / face.shape.length
