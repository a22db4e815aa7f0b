"""Which panels of a folded box go right through one another.

Panels may touch: a flap's edge on a wall, a tab flat on its panel. So each is first drawn in on all
sides; what then still cuts the other goes through it. Through a window or a slot a panel may go.

This module needs shapely; whoever need not measure does not import it.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence

import shapely

from cutlayers.frozen import frozen
from cutlayers.geometry.overlays import rings_of
from cutlayers.geometry.transforms import Point
from cutlayers.net.faces import Face, without_windows
from cutlayers.net.space import Vector, cross, dot

LENGTH = 0.1
"""mm; a cut shorter than this is two corners that touch."""

CROSSING_SINE_SQUARED = 1e-12
"""Panels closer to parallel than this lie in one plane or never meet."""


@frozen
class _Core:
    """A face drawn in on all sides, as rings of points in space."""

    face: Face
    rings: tuple[tuple[Vector, ...], ...]
    low: Vector
    high: Vector


def crossing_faces(
    faces: Sequence[Face], drawn_in: Sequence[float]
) -> Iterator[tuple[Face, Face, float]]:
    """Each pair of faces that pass through one another, each drawn in by so many mm, and how long
    the cut is in mm."""
    by = [-each for each in drawn_in]
    shrunk = shapely.buffer(list(map(without_windows, faces)), by, join_style="mitre")
    cores = list(filter(None, map(_core, faces, rings_of(list(shrunk)))))
    for one, other in itertools.combinations(cores, 2):
        if any(one.low[i] > other.high[i] or other.low[i] > one.high[i] for i in range(3)):
            continue
        along = cross(one.face.pose.normal, other.face.pose.normal)
        if dot(along, along) < CROSSING_SINE_SQUARED:
            continue
        length = _common(_spans(one, other, along), _spans(other, one, along))
        if length > LENGTH:
            yield one.face, other.face, length


def _core(face: Face, shrunk: Sequence[Sequence[Point]]) -> _Core | None:
    rings = tuple(tuple(map(face.pose.place, ring[:-1])) for ring in shrunk)
    if not rings:
        return None
    xs, ys, zs = zip(*itertools.chain(*rings), strict=True)
    return _Core(face, rings, (min(xs), min(ys), min(zs)), (max(xs), max(ys), max(zs)))


def _spans(core: _Core, cutting: _Core, along: Vector) -> list[tuple[float, float]]:
    """Where a face meets the other's plane, as stretches along the line of the two planes."""
    pose = cutting.face.pose
    normal, level = pose.normal, dot(pose.normal, pose.origin)
    scale = dot(along, along) ** 0.5
    marks: list[float] = []
    for ring in core.rings:
        heights = [dot(normal, point) - level for point in ring]
        for index, point in enumerate(ring):
            before, here = heights[index - 1], heights[index]
            if (before > 0) != (here > 0):
                share = before / (before - here)
                start, end = dot(along, ring[index - 1]), dot(along, point)
                marks.append((start + share * (end - start)) / scale)
    marks.sort()
    return list(zip(marks[::2], marks[1::2], strict=True))


def _common(ones: Sequence[tuple[float, float]], others: Sequence[tuple[float, float]]) -> float:
    """Total length that two lists of stretches share."""
    return sum(max(0.0, min(a1, b1) - max(a0, b0)) for a0, a1 in ones for b0, b1 in others)
