"""What is finer than the tool: sharp points, narrow gaps, and slivers of card.

Nothing is changed here. Each finding names the place and the size, so that the maker can choose
another tool or another dimension before a sheet is spoiled.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from functools import lru_cache

from cutlayers.geometry.crossings import crossings, distance_to
from cutlayers.geometry.offsetting import offset_parts
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.strokes import Operation, Part, Stroke
from cutlayers.geometry.transforms import Point, Transform, turn_between
from cutlayers.profile.tools import Tool, ToolType
from cutlayers.telling.findings import Finding, Severity, Subject, at_least, details
from cutlayers.telling.quantities import angle as angle_of
from cutlayers.telling.quantities import count, length
from cutlayers.toolpaths.places import ON_A_CUT

SHAPES_KEPT = 1024
"""Paths last measured whose narrow places are kept."""

GAP_CHORD = 0.02
"""mm by which chords may stray from arcs when distances between cuts are measured."""


def finest(tool: Tool) -> float:
    """Width in mm of the narrowest gap or strip that a tool makes: what the profile says, or its
    kerf or the offset of its blade."""
    return tool.finest or max(tool.kerf, tool.offset)


def small_features(strokes: Sequence[Stroke], tool: Tool) -> tuple[Finding, ...]:
    """Findings for the nominal lines of a sheet that the tool which cuts cannot make well."""
    cuts = [stroke for stroke in strokes if stroke.operation is Operation.CUT]
    contours = [stroke for stroke in cuts if stroke.part in (Part.OUTLINE, Part.OPENING)]
    least = finest(tool)
    found: list[Finding] = []
    for stroke in contours:
        found += _corners(stroke, tool)
        if least > tool.kerf:
            found += _narrow(stroke, least, "narrow-gap")
        if least:
            found += _narrow(stroke, least, "narrow-strip")
    if least:
        found += _between(cuts, least)
    return tuple(found)


def _narrow(stroke: Stroke, least: float, code: str) -> Iterator[Finding]:
    """Places where a disc of the finest width does not fit, in the gaps or in the card.

    Measured: narrow-gap: the width of a gap between two edges of one piece. narrow-strip: the width
    of a strip of card, between two edges of one piece or between two cuts beside each other. Both
    against the finest that the tool makes: `finest` in the profile, or else the kerf of a beam or
    wheel and the offset of a trailing blade.

    Why: a trailing blade swings its tip about while it turns, and in a gap or strip finer than its
    offset it lifts the card, tears it off or rolls it up. A beam burns both of its sides, and a
    strip that thin chars or falls out.

    Cure: widen the place by another size or option; move pieces apart where the strip lies between
    two cuts. If a scrap shows that the tool can make it, set `finest` of the tool in the profile.

    Source: common practice, no source.
    """
    side = 1.0 if code == "narrow-gap" else -1.0
    path, there = _at_origin(stroke.path)
    for width, place in _narrow_places(path, least, side):
        yield Finding(
            code,
            Severity.WARNING,
            stroke.found_at(there.apply(place)),
            (length(width),),
            at_least(length(least)),
        )


def _at_origin(path: Path) -> tuple[Path, Transform]:
    """The path as all lie that differ from it in nothing but their place, its first edge on the x
    axis, and the motion from there to its own place."""
    start, end = path.vertices[:2]
    there = Transform.onto((0.0, 0.0), (1.0, 0.0), start, end)
    here = path.transformed(there.inverse())
    vertices = tuple((round(x, 9) + 0.0, round(y, 9) + 0.0) for x, y in here.vertices)
    bulges = tuple(round(bulge, 9) for bulge in here.bulges)
    return Path(vertices, bulges, here.closed), there


@lru_cache(SHAPES_KEPT)
def _narrow_places(path: Path, least: float, side: float) -> tuple[tuple[float, Point], ...]:
    """The width in mm and the middle of each narrow place; `side` as in `across`."""
    return tuple(_narrow_in(path, least, side))


def _narrow_in(path: Path, least: float, side: float) -> Iterator[tuple[float, Point]]:
    for loss in offset_parts(path, side * least / 2).losses:
        if loss.is_corner:
            continue
        width = across(path, loss.path, least, side)
        # A step in a border is lost to a disc as well, but there is room beside it.
        if width < least - ON_A_CUT:
            yield width, loss.middle


def across(path: Path, lost: Path, reach: float, side: float) -> float:
    """Width in mm of a narrow place: the shortest way straight across from the middle of one of
    its edges to another part of the path; at most `reach`. `side` 1 looks right, -1 left."""
    widths = [reach]
    for edge in lost.segments:
        (x, y), (dx, dy) = edge.point_at(0.5), edge.direction_at(0.5)
        nx, ny = side * dy, -side * dx
        sight = Segment((x + ON_A_CUT * nx, y + ON_A_CUT * ny), (x + reach * nx, y + reach * ny))
        widths += [
            math.dist((x, y), point)
            for other in path.segments
            for _, _, point in crossings(sight, other, 0.0)
        ]
    return min(widths)


def _corners(stroke: Stroke, tool: Tool) -> Iterator[Finding]:
    """Points of card that tear."""
    points: list[tuple[float, Point]] = []
    edges = stroke.path.segments
    for here, following in itertools.pairwise((*edges, edges[0])):
        turn = turn_between(here.direction_at(1.0), following.direction_at(0.0))
        inner = math.pi - abs(turn)
        if turn > 0:
            points.append((math.degrees(inner), here.end))
    sharp = [point for point in points if point[0] < tool.sharpest_deg]
    if sharp and tool.type is ToolType.DRAG_BLADE:
        angle, corner = min(sharp)
        yield _sharp_point(stroke.found_at(corner), angle, len(sharp), tool)


def _sharp_point(place: Subject, angle: float, points: int, tool: Tool) -> Finding:
    """Points of card so sharp that a trailing blade tears them.

    Measured: the angle of the sharpest point of card on an outline, and how many points are sharper
    than `sharpest_deg` of the tool.

    Why: at a point a trailing blade swings round its tip in card that hardly holds together any
    more; the point is dragged along, folds over or tears off.

    Cure: blunt the points by another size or option, a taper for one. If a scrap shows that your
    blade makes them, lower `sharpest_deg` of the tool in the profile.

    Source: common practice, no source.
    """
    return Finding(
        "sharp-point",
        Severity.WARNING,
        place,
        (angle_of(angle),),
        at_least(angle_of(tool.sharpest_deg)),
        details=details(points=count(points)),
    )


def _between(cuts: Sequence[Stroke], least: float) -> Iterator[Finding]:
    """Different cuts that leave a strip narrower than the tool makes between them."""
    boxes = [stroke.path.bounds for stroke in cuts]
    order = sorted(range(len(cuts)), key=lambda number: boxes[number][0])
    lines = [_Flat(stroke.path) for stroke in cuts]
    for place, one in enumerate(order):
        _, bottom, right, top = boxes[one]
        for other in itertools.islice(order, place + 1, None):
            box = boxes[other]
            if box[0] > right + least:
                break
            if box[1] > top + least or box[3] < bottom - least:
                continue
            gap, (x, y) = lines[one].nearest(lines[other], least)
            if ON_A_CUT < gap < least - ON_A_CUT:
                first, second = sorted((one, other))
                yield Finding(
                    "narrow-strip",
                    Severity.WARNING,
                    cuts[first].found_at((x, y)),
                    (length(gap),),
                    at_least(length(least)),
                    (cuts[second].found_at((x, y)),),
                )


class _Flat:
    """A path as short straight pieces, to measure how near it comes to another."""

    def __init__(self, path: Path) -> None:
        points = path.points(GAP_CHORD)
        if path.closed:
            points.append(points[0])
        self.pieces = tuple(itertools.pairwise(points))

    def nearest(self, other: _Flat, reach: float) -> tuple[float, Point]:
        """Shortest distance to another path, and a point of this one there; pieces farther
        apart than `reach` do not count."""
        best: tuple[float, Point] = (math.inf, (0.0, 0.0))
        for here in self.pieces:
            left, right = sorted((here[0][0], here[1][0]))
            bottom, top = sorted((here[0][1], here[1][1]))
            for there in other.pieces:
                (x0, y0), (x1, y1) = there
                if (
                    min(x0, x1) <= right + reach
                    and max(x0, x1) >= left - reach
                    and min(y0, y1) <= top + reach
                    and max(y0, y1) >= bottom - reach
                ):
                    best = min(best, *_apart(here, there))
        return best


def _apart(here: tuple[Point, Point], there: tuple[Point, Point]) -> list[tuple[float, Point]]:
    """Distances of two straight pieces, each with a point of the first; 0 where they cross."""
    one, other = Segment(*here), Segment(*there)
    meeting = crossings(one, other, 0.0)
    if meeting:
        return [(0.0, meeting[0][2])]
    return [
        *((distance_to(other, end), end) for end in here),
        *((distance_to(one, end), end) for end in there),
    ]
