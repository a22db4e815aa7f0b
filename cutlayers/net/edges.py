"""When two points are one, and when two edges run along each other."""

from __future__ import annotations

from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Point

COINCIDENT = 1e-6
"""mm; points closer than this are one point. Far above the rounding of a net's coordinates
(1e-12 for a metre) and far below anything a tool can place."""

ALIKE_BULGE = 1e-9
"""Arcs whose bulges differ by less are one arc; two formulas may differ in the last bits."""


def shared_edge(host: Segment, guest: Segment) -> Segment | None:
    """The part of `host` that `guest` runs along in the opposite direction, or None."""
    if host.bulge or guest.bulge:
        alike = (
            same_place(host.start, guest.end)
            and same_place(host.end, guest.start)
            and abs(host.bulge + guest.bulge) <= ALIKE_BULGE
        )
        return host if alike else None
    ux, uy = host.direction_at(0.5)
    marks = []
    for x, y in (guest.end, guest.start):
        dx, dy = x - host.start[0], y - host.start[1]
        if abs(ux * dy - uy * dx) > COINCIDENT:
            return None
        marks.append(ux * dx + uy * dy)
    low, high = max(0.0, marks[0]), min(host.chord, marks[1])
    if high - low <= COINCIDENT:
        return None
    start = host.start if low <= COINCIDENT else guest.end
    end = host.end if high >= host.chord - COINCIDENT else guest.start
    return Segment(start, end)


def same_place(one: Point, other: Point) -> bool:
    """Whether two points are one."""
    return abs(one[0] - other[0]) <= COINCIDENT and abs(one[1] - other[1]) <= COINCIDENT
