"""Do panels pass through one another in the folded box?

Measured: the length along which two panels cut each other in the folded box. Panels may touch: a
flap's edge on a wall, a tab flat on its panel. They collide where one goes right through the
other. Each panel is first drawn in by one caliper on all sides (0.05 mm at least); what then
still cuts the other panel's shrunken shape goes through it by more than its thickness. Through a
window or a slot a panel may go. A cut of less than 0.1 mm is two corners that touch.

Why: two pieces of card cannot be in one place. At the table the box stops folding there; pressed
on, the thinner flap buckles or a crease cracks.

Cure: make one of the two panels smaller (a shorter flap, a narrower tuck), make the box larger,
or change the angle between them.

Source: common practice, no source; the tolerance is one thickness of the card.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence

import shapely

from cutlayers.construction.card import Card
from cutlayers.frozen import frozen
from cutlayers.geometry.overlays import rings_of
from cutlayers.geometry.transforms import Point
from cutlayers.net.assembly import Assembly
from cutlayers.net.faces import Face, without_windows
from cutlayers.net.space import Vector, cross, dot
from cutlayers.telling.findings import Finding, Severity
from cutlayers.telling.quantities import length as length_of

LEAST = 0.05
"""mm; the tolerance for card thinner than this."""

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


def check_colliding(box: Assembly, card: Card) -> tuple[Finding, ...]:
    """An error for each pair of panels that pass through one another."""
    by = [-max(card.of(face.net).caliper, LEAST) for face in box.faces]
    shrunk = shapely.buffer(list(map(without_windows, box.faces)), by, join_style="mitre")
    cores = list(filter(None, map(_core, box.faces, rings_of(list(shrunk)))))
    return tuple(
        Finding(
            "collision",
            Severity.ERROR,
            one.face.subject,
            (length_of(length),),
            others=(other.face.subject,),
        )
        for one, other, length in _crossings(cores)
    )


def _core(face: Face, shrunk: Sequence[Sequence[Point]]) -> _Core | None:
    rings = tuple(tuple(map(face.pose.place, ring[:-1])) for ring in shrunk)
    if not rings:
        return None
    xs, ys, zs = zip(*itertools.chain(*rings), strict=True)
    return _Core(face, rings, (min(xs), min(ys), min(zs)), (max(xs), max(ys), max(zs)))


def _crossings(cores: Sequence[_Core]) -> Iterator[tuple[_Core, _Core, float]]:
    for one, other in itertools.combinations(cores, 2):
        if any(one.low[i] > other.high[i] or other.low[i] > one.high[i] for i in range(3)):
            continue
        along = cross(one.face.pose.normal, other.face.pose.normal)
        if dot(along, along) < CROSSING_SINE_SQUARED:
            continue
        length = _common(_spans(one, other, along), _spans(other, one, along))
        if length > LENGTH:
            yield one, other, length


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
