"""Where lines and arcs meet, and how far a point is from one."""

from __future__ import annotations

import math

from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Point

Crossing = tuple[float, float, Point]
"""Fraction of the first edge's length, fraction of the second's, and the point they share."""


def crossings(one: Segment, other: Segment, slack: float) -> list[Crossing]:
    """Points shared by two edges, ends included; an end counts if it is within `slack` mm.

    Edges that run along each other share a stretch: the ends of that stretch are given.
    """
    if not one.bulge and not other.bulge:
        points = _line_line(one, other)
    elif not one.bulge:
        points = _line_circle(one, other)
    elif not other.bulge:
        points = _line_circle(other, one)
    else:
        points = _circle_circle(one, other)
    # Ends touching the other edge are where tangent and overlapping edges begin to share.
    points += [one.start, one.end, other.start, other.end]
    found: list[Crossing] = []
    for point in points:
        here = fraction_at(one, point, slack)
        there = fraction_at(other, point, slack)
        if here is not None and there is not None:
            found.append((here, there, point))
    return found


def fraction_at(edge: Segment, point: Point, slack: float) -> float | None:
    """Where on an edge a point lies, as a fraction 0…1 of its length; None if it does not.

    Points within `slack` mm of the edge lie on it; within `slack` of an end, they are the end.
    """
    if math.dist(point, edge.start) <= slack:
        return 0.0
    if math.dist(point, edge.end) <= slack:
        return 1.0
    fraction, gap = _nearest(edge, point)
    return fraction if gap <= slack and 0.0 < fraction < 1.0 else None


def distance_to(edge: Segment, point: Point) -> float:
    """Shortest distance from a point to an edge, in mm."""
    fraction, gap = _nearest(edge, point)
    if 0.0 <= fraction <= 1.0:
        return gap
    return min(math.dist(point, edge.start), math.dist(point, edge.end))


def _nearest(edge: Segment, point: Point) -> tuple[float, float]:
    """Foot of a point on the edge's whole line or circle, and its distance from that."""
    if not edge.bulge:
        (x0, y0), (x1, y1) = edge.start, edge.end
        dx, dy = x1 - x0, y1 - y0
        chord = math.hypot(dx, dy)
        px, py = point[0] - x0, point[1] - y0
        return (px * dx + py * dy) / chord**2, abs(dx * py - dy * px) / chord
    cx, cy = edge.centre
    first = math.atan2(edge.start[1] - cy, edge.start[0] - cx)
    here = math.atan2(point[1] - cy, point[0] - cx)
    sweep = edge.sweep
    ahead = ((here - first) * math.copysign(1.0, sweep)) % (2 * math.pi)
    return ahead / abs(sweep), abs(math.dist(point, (cx, cy)) - edge.radius)


def _line_line(one: Segment, other: Segment) -> list[Point]:
    (x0, y0), (x1, y1) = one.start, one.end
    (x2, y2), (x3, y3) = other.start, other.end
    ax, ay, bx, by = x1 - x0, y1 - y0, x3 - x2, y3 - y2
    cross = ax * by - ay * bx
    if abs(cross) <= 1e-14 * math.hypot(ax, ay) * math.hypot(bx, by):
        return []
    share = ((x2 - x0) * by - (y2 - y0) * bx) / cross
    return [(x0 + share * ax, y0 + share * ay)]


def _line_circle(line: Segment, arc: Segment) -> list[Point]:
    cx, cy = arc.centre
    (x0, y0), chord = line.start, line.chord
    ux, uy = (line.end[0] - x0) / chord, (line.end[1] - y0) / chord
    along = (cx - x0) * ux + (cy - y0) * uy
    fx, fy = x0 + along * ux, y0 + along * uy
    square = arc.radius**2 - (fx - cx) ** 2 - (fy - cy) ** 2
    # A miss by rounding is a touch.
    if square < -1e-9 * arc.radius**2:
        return []
    half = math.sqrt(max(0.0, square))
    if not half:
        return [(fx, fy)]
    return [(fx - half * ux, fy - half * uy), (fx + half * ux, fy + half * uy)]


def _circle_circle(one: Segment, other: Segment) -> list[Point]:
    (x0, y0), (x1, y1) = one.centre, other.centre
    r0, r1 = one.radius, other.radius
    gap = math.dist((x0, y0), (x1, y1))
    if gap <= 1e-12 * (r0 + r1):
        return []
    along = (gap**2 + r0**2 - r1**2) / (2.0 * gap)
    square = r0**2 - along**2
    if square < -1e-9 * r0**2:
        return []
    half = math.sqrt(max(0.0, square))
    ux, uy = (x1 - x0) / gap, (y1 - y0) / gap
    fx, fy = x0 + along * ux, y0 + along * uy
    if not half:
        return [(fx, fy)]
    return [(fx - half * uy, fy + half * ux), (fx + half * uy, fy - half * ux)]
