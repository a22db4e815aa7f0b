"""Panels with their thickness: which of them share room in the folded box, and how deep.

A folded panel is a *slab*: its mid-surface, which is where folding has put the panel, and half a
caliper of card to either side. Two slabs share room where one would have to be pushed aside to be
clear of the other; the *depth* is how far, the shorter way. Of two panels that lie in one plane it
is a whole caliper, of two half a caliper apart a half, and of one that stands through another what
is nearest: the end of either.

Two panels that are hinged together always share room where they fold, and the card gives there. So
of such a pair what lies within one caliper of the hinge, the *crease zone*, is left out. Panels
that meet in a corner without a hinge between them have no such zone. The flat parts that stand for
one bent panel are one there: its crease gives all along, also where a part lies beside that part of
the other panel which the next one is hinged to.

Windows and slots are open: what goes through them shares no room there. Round holes, which only
match each other, count as card. The depth is exact for convex panels; others are taken apart into
convex parts, and the deepest of these is told, which is a lower bound.

Source: separating axes of convex bodies (S. Gottschalk, M. C. Lin, D. Manocha, "OBBTree",
SIGGRAPH 1996): two convex polyhedra are apart exactly where their shadows are on some line along
a face's normal or across an edge of each, and of the overlaps of the shadows the least is the way
out.

This module needs shapely and numpy; whoever need not measure does not import it.
"""

from __future__ import annotations

import itertools
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from functools import cache, cached_property
from typing import cast

import numpy as np
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from cutlayers.frozen import frozen
from cutlayers.geometry.convex import convex_parts
from cutlayers.geometry.overlays import as_area, together, without
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.strokes import Operation
from cutlayers.net.assembly import Assembly
from cutlayers.net.faces import Face, without_windows
from cutlayers.net.model import Net
from cutlayers.net.space import Vector
from cutlayers.net.stacking import Key, key

Array = np.ndarray

ROUNDING = 1e-6
"""mm; slabs that share less touch."""

SMALL = 1e-9
"""A direction shorter than this is the rounding of none: two edges that are parallel."""


@frozen
class SharedRoom:
    """Two panels whose slabs share room, and how deep in mm."""

    one: Face
    other: Face
    depth: float


@frozen(slots=False)
class Plate:
    """One convex part of a slab: corners in space, and the directions of its normals and edges."""

    corners: Array
    normals: Array
    edges: Array

    @cached_property
    def low(self) -> list[float]:
        """Lowest corner of the box around it."""
        return cast(list[float], self.corners.min(axis=0).tolist())

    @cached_property
    def high(self) -> list[float]:
        """Highest corner of the box around it."""
        return cast(list[float], self.corners.max(axis=0).tolist())


def allowed(caliper: float) -> float:
    """mm that two slabs of so thick card may share outside of a crease zone; card gives as much.

    Common practice, no source.
    """
    return 0.05 + 0.1 * caliper


def shared_room(box: Assembly, calipers: Mapping[str, float]) -> tuple[SharedRoom, ...]:
    """The pairs of panels of a folded box that share room, deepest first; `calipers` are those of
    its nets in mm, by their names.

    Card without thickness shares none.
    """
    hinges = {pair: tuple(creases) for pair, creases in _hinges(box).items()}
    faces = {key(face): face for face in box.faces}

    # The parts of bent panels have the same creases between them, pair by pair.
    @cache
    def zones(creases: tuple[Segment, ...], caliper: float) -> BaseGeometry:
        return together(_zone(crease, caliper) for crease in creases)

    @cache
    def clear(name: Key, creases: tuple[Segment, ...] = ()) -> tuple[Plate, ...]:
        face, caliper = faces[name], calipers[name[0]]
        left = without_windows(face)
        if creases:
            left = as_area(without(left, zones(creases, caliper)))
        return tuple(plate(face, part, caliper) for part in _convex(left))

    found = []
    there = [name for name in faces if calipers[name[0]] > ROUNDING]
    for first, second in itertools.combinations(there, 2):
        one, other = faces[first], faces[second]
        ones, others = clear(first), clear(second)
        if not _near(ones, others):
            continue
        creases = hinges.get((first, second), ())
        if creases:
            ones, others = clear(first, creases), clear(second, creases)
        depth = deepest(ones, others)
        if depth > ROUNDING:
            found.append(SharedRoom(one, other, depth))
    return tuple(sorted(found, key=lambda each: -each.depth))


def plates(face: Face, shape: Polygon, caliper: float) -> tuple[Plate, ...]:
    """The slab over a part of a face, as convex plates."""
    return tuple(plate(face, part, caliper) for part in convex_parts(shape))


def deepest(ones: Sequence[Plate], others: Sequence[Plate]) -> float:
    """The greatest depth that a plate of one slab shares with one of another; 0 for none."""
    return max((depth(one, other) for one, other in _meeting(ones, others)), default=0.0)


def slid(start: Plate, way: Vector, far: float) -> Plate:
    """What a plate passes through while it slides `far` mm along a unit vector; convex too.

    Source: the sum of a convex body and a segment, whose sides run along the segment.
    """
    along = np.array(way)
    corners = np.concatenate([start.corners, start.corners + far * along])
    sides = _cross(start.edges, along)
    size = np.sqrt((sides * sides).sum(axis=1))
    sides = sides[size > SMALL] / size[size > SMALL, None]
    return Plate(
        corners,
        np.concatenate([start.normals, sides]),
        np.concatenate([start.edges, along[None, :]]),
    )


def depth(one: Plate, other: Plate) -> float:
    """How far one of two plates must move to be clear of the other in mm; 0 where it is."""
    crossed = _cross(one.edges[:, None, :], other.edges[None, :, :]).reshape(-1, 3)
    axes = np.concatenate([one.normals, other.normals, crossed])
    size = np.sqrt((axes * axes).sum(axis=1))
    axes = axes[size > SMALL] / size[size > SMALL, None]
    first, second = axes @ one.corners.T, axes @ other.corners.T
    ways = np.minimum(
        first.max(axis=1) - second.min(axis=1), second.max(axis=1) - first.min(axis=1)
    )
    return max(0.0, float(ways.min()))


def plate(face: Face, part: Polygon, caliper: float) -> Plate:
    """The slab over a convex part of a face."""
    ring = shapely.get_coordinates(shapely.force_2d(part.exterior))[:-1]
    pose = face.pose
    right, up, normal, origin = (
        np.array(each) for each in (pose.right, pose.up, pose.normal, pose.origin)
    )
    middle = origin + ring[:, :1] * right + ring[:, 1:] * up
    corners = np.concatenate([middle - caliper / 2 * normal, middle + caliper / 2 * normal])
    along = np.concatenate([middle[1:], middle[:1]]) - middle
    along = along / np.sqrt((along * along).sum(axis=1))[:, None]
    sides = _cross(along, normal)
    return Plate(
        corners, np.concatenate([normal[None, :], sides]), np.concatenate([normal[None, :], along])
    )


def _cross(one: Array, other: Array) -> Array:
    """Vector products of the last axes, as they broadcast; the library's own, which takes any axes,
    takes ten times as long for a few."""
    x, y, z = one[..., 0], one[..., 1], one[..., 2]
    u, v, w = other[..., 0], other[..., 1], other[..., 2]
    return np.stack([y * w - z * v, z * u - x * w, x * v - y * u], axis=-1)


def clear_parts(face: Face, creases: Sequence[Segment], caliper: float) -> tuple[Polygon, ...]:
    """Convex parts of a face on the flat, but for its windows and what lies within a caliper of
    these creases."""
    left = without_windows(face)
    if creases:
        left = as_area(without(left, together(_zone(crease, caliper) for crease in creases)))
    return _convex(left)


def _convex(area: BaseGeometry) -> tuple[Polygon, ...]:
    return tuple(
        convex
        for part in shapely.get_parts(area)
        if not part.is_empty
        for convex in convex_parts(part)
    )


def _zone(crease: Segment, caliper: float) -> Polygon:
    """What lies within a caliper of a crease on the flat, with square ends."""
    line = shapely.LineString([crease.start, crease.end])
    zone = line.buffer(caliper, cap_style="square")
    assert isinstance(zone, Polygon)
    return zone


def _hinges(box: Assembly) -> dict[tuple[Key, Key], list[Segment]]:
    """The hinges between two panels, whichever is named first: their own, or of bent panels those
    between all their parts."""
    found: dict[tuple[Key, Key], list[Segment]] = defaultdict(list)
    for folded in box.boxes:
        net = folded.net
        parts = _bent(net)
        for hinge in net.hinges:
            pair = (parts[hinge.first], parts[hinge.second])
            one_panel = pair[0] == pair[1]
            firsts, seconds = ((hinge.first,), (hinge.second,)) if one_panel else pair
            for first, second in itertools.product(firsts, seconds):
                keys = ((net.name, first), (net.name, second))
                for one, other in (keys, keys[::-1]):
                    found[one, other].append(hinge.edge)
    return found


def _bent(net: Net) -> dict[str, tuple[str, ...]]:
    """For each panel the parts of the bent one that it is of: nothing is worked between them."""
    parts: dict[str, tuple[str, ...]] = {panel.name: (panel.name,) for panel in net.panels}
    for hinge in net.hinges:
        first, second = parts[hinge.first], parts[hinge.second]
        if hinge.operation is Operation.DRAW and first != second:
            parts |= dict.fromkeys((*first, *second), (*first, *second))
    return parts


def _near(ones: Sequence[Plate], others: Sequence[Plate]) -> bool:
    return next(_meeting(ones, others), None) is not None


def _meeting(ones: Sequence[Plate], others: Sequence[Plate]) -> Iterator[tuple[Plate, Plate]]:
    """The plates of two slabs round which the boxes overlap."""
    if not (ones and others):
        return
    low, high, bottom, top = (
        np.array([getattr(each, end) for each in slab])
        for slab in (ones, others)
        for end in ("low", "high")
    )
    overlap = (low[:, None] < top[None] - ROUNDING) & (bottom[None] < high[:, None] - ROUNDING)
    for one, other in zip(*np.nonzero(overlap.all(axis=2)), strict=True):
        yield ones[one], others[other]
