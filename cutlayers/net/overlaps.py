"""Panels that lie on one another, or an outline that crosses itself: found before lines are made.

Borders are already split where a corner lies on them, so two borders that share no stretch
either cross inside a stretch of each or not at all; and where none cross, panels overlap only
if a stretch of one lies inside the other.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence

from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Bounds, Segment, union_bounds
from cutlayers.geometry.transforms import Point
from cutlayers.net.edges import COINCIDENT
from cutlayers.net.model import Net
from cutlayers.telling.errors import NetError

_Border = tuple[Segment, Bounds]
"""A piece of border and the box round it."""

PROBES = (0.5, 0.31, 0.77)
"""Where along a piece of border to look whether it lies inside a panel. One place would do, did
arcs not touch an edge in their middle; a piece with all three on an edge runs along it."""


def refuse_overlaps(net: Net, pieces: dict[str, list[Segment]]) -> None:
    """Raise NetError, naming panels and place, where material would lie on material.

    `pieces` holds each panel's border, split at every corner of the net that lies on it.
    Touching, along a line or in a point, is no overlap, nor is less than `COINCIDENT`.
    """
    borders = [[(piece, piece.bounds()) for piece in pieces[panel.name]] for panel in net.panels]
    boxes = [union_bounds(box for _, box in border) for border in borders]
    for panel, border in zip(net.panels, borders, strict=True):
        for place in _crossings(itertools.combinations(border, 2)):
            raise NetError(
                f"net {net.name!r}: the outline of panel {panel.name!r} crosses itself "
                f"near ({place[0]:.1f}, {place[1]:.1f}) mm"
            )
    for one, other in itertools.combinations(range(len(borders)), 2):
        if not boxes_meet(boxes[one], boxes[other], COINCIDENT):
            continue
        first, second = net.panels[one], net.panels[other]
        for place in itertools.chain(
            _crossings(itertools.product(borders[one], borders[other])),
            _inside(borders[one], second.outline, boxes[other]),
            _inside(borders[other], first.outline, boxes[one]),
        ):
            raise overlap_error(net.name, first.name, second.name, place)


def overlap_error(net: str, first: str, second: str, place: Point) -> NetError:
    """The error for two panels that overlap."""
    return NetError(
        f"net {net!r}: panels {first!r} and {second!r} overlap "
        f"near ({place[0]:.1f}, {place[1]:.1f}) mm"
    )


def crossing(one: Segment, other: Segment) -> Point | None:
    """Where two edges cross inside both, or None; an end that lies on the other is no crossing."""
    for point in _meetings(one, other):
        if all(
            fraction_on(edge, point) is not None
            and min(math.dist(point, edge.start), math.dist(point, edge.end)) > COINCIDENT
            for edge in (one, other)
        ):
            return point
    return None


def fraction_on(segment: Segment, point: Point) -> float | None:
    """Where a point lies inside an edge, as a fraction of its length; None if it does not."""
    if segment.bulge:
        cx, cy = segment.centre
        if abs(math.dist(point, (cx, cy)) - segment.radius) > COINCIDENT:
            return None
        first = math.atan2(segment.start[1] - cy, segment.start[0] - cx)
        here = math.atan2(point[1] - cy, point[0] - cx)
        sweep = segment.sweep
        ahead = ((here - first) * math.copysign(1.0, sweep)) % (2 * math.pi)
        fraction = ahead / abs(sweep)
    else:
        (x0, y0), (x1, y1) = segment.start, segment.end
        chord = segment.chord
        ux, uy = (x1 - x0) / chord, (y1 - y0) / chord
        dx, dy = point[0] - x0, point[1] - y0
        if abs(ux * dy - uy * dx) > COINCIDENT:
            return None
        fraction = (ux * dx + uy * dy) / chord
    return fraction if 0.0 < fraction < 1.0 else None


def encloses(outline: Path, point: Point) -> bool:
    """Whether a closed path runs round a point that does not lie on it.

    Source: winding number, the angle swept as seen from the point; an arc sweeps as its chord
    does, and a full turn more where the point lies in the slice between the two.
    """
    x, y = point
    swept = 0.0
    for segment in outline.segments:
        (x0, y0), (x1, y1) = segment.start, segment.end
        ax, ay, bx, by = x0 - x, y0 - y, x1 - x, y1 - y
        turn = ax * by - ay * bx + 0.0  # the sum turns -0.0 into 0.0, a half turn to the left
        swept += math.atan2(turn, ax * bx + ay * by)
        if segment.bulge:
            on_arc_side = turn < 0 if segment.bulge > 0 else turn >= 0
            if on_arc_side and math.dist(point, segment.centre) < segment.radius:
                swept += math.copysign(2 * math.pi, segment.bulge)
    return abs(swept) > math.pi


def _crossings(pairs: Iterable[tuple[_Border, _Border]]) -> Iterator[Point]:
    for (one, box), (other, other_box) in pairs:
        if boxes_meet(box, other_box, -COINCIDENT):
            place = crossing(one, other)
            if place:
                yield place


def _inside(border: Sequence[_Border], outline: Path, box: Bounds) -> Iterator[Point]:
    """Points on pieces of border that lie inside another panel."""
    for piece, piece_box in border:
        if not boxes_meet(piece_box, box, -COINCIDENT):
            continue
        for probe in PROBES:
            point = piece.point_at(probe)
            if all(fraction_on(edge, point) is None for edge in outline.segments):
                if encloses(outline, point):
                    yield point
                break


def boxes_meet(one: Bounds, other: Bounds, depth: float) -> bool:
    """Whether two boxes reach more than `depth` into each other, both ways."""
    return (
        one[0] + depth < other[2]
        and other[0] + depth < one[2]
        and one[1] + depth < other[3]
        and other[1] + depth < one[3]
    )


def _meetings(one: Segment, other: Segment) -> Iterator[Point]:
    """Where the lines or circles of two edges cross; touching is no crossing."""
    if not one.bulge and not other.bulge:
        yield from _lines_cross(one, other)
    elif one.bulge and other.bulge:
        yield from _circles_cross(one, other)
    elif one.bulge:
        yield from _line_crosses_circle(other, one)
    else:
        yield from _line_crosses_circle(one, other)


def _lines_cross(one: Segment, other: Segment) -> Iterator[Point]:
    (x0, y0), (x1, y1) = other.start, other.end
    ux, uy = one.direction_at(0.5)
    ax, ay = x0 - one.start[0], y0 - one.start[1]
    bx, by = x1 - one.start[0], y1 - one.start[1]
    # Heights of the other edge's ends over this line; it crosses only between its ends.
    begin, finish = ux * ay - uy * ax, ux * by - uy * bx
    if min(begin, finish) < -COINCIDENT and max(begin, finish) > COINCIDENT:
        share = begin / (begin - finish)
        yield (x0 + share * (x1 - x0), y0 + share * (y1 - y0))


def _line_crosses_circle(line: Segment, arc: Segment) -> Iterator[Point]:
    (cx, cy), radius = arc.centre, arc.radius
    ux, uy = line.direction_at(0.5)
    dx, dy = cx - line.start[0], cy - line.start[1]
    along, height = ux * dx + uy * dy, ux * dy - uy * dx
    if radius - abs(height) <= COINCIDENT:
        return
    half = math.sqrt(radius**2 - height**2)
    for distance in (along - half, along + half):
        yield (line.start[0] + distance * ux, line.start[1] + distance * uy)


def _circles_cross(one: Segment, other: Segment) -> Iterator[Point]:
    (x0, y0), (x1, y1) = one.centre, other.centre
    r0, r1 = one.radius, other.radius
    apart = math.dist((x0, y0), (x1, y1))
    if apart - abs(r0 - r1) <= COINCIDENT or r0 + r1 - apart <= COINCIDENT:
        return
    along = (apart**2 + r0**2 - r1**2) / (2 * apart)
    half = math.sqrt(max(0.0, r0**2 - along**2))
    ux, uy = (x1 - x0) / apart, (y1 - y0) / apart
    for side in (half, -half):
        yield (x0 + along * ux - side * uy, y0 + along * uy + side * ux)
