"""Relief: what keeps thick card from tearing and bulging where lines end.

A crease that runs up to an inner corner of a cut stops short of it. Where a cut ends in a point (an
acute inner corner, or a slit that ends in card) and where four or more creases meet in card, a
round hole takes the point away.

Relief is in the lines that are worked and not in the net: a crease that stops short still folds
about all of its edge, and the holes lie where panels turn about each other.

Source: that notches tear from their points, and rounds of the card's own thickness do not, is
common practice, no source.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from cutlayers.frozen import frozen
from cutlayers.geometry.crossings import crossings, distance_to
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.strokes import Operation, Part, Stroke
from cutlayers.geometry.transforms import Point, turn_between
from cutlayers.net.edges import COINCIDENT, same_place
from cutlayers.net.linework import Linework
from cutlayers.net.overlaps import boxes_meet, fraction_on
from cutlayers.net.relief_holes import Hole, leaves_ear, outside, round_holes

LEAST_TURN = math.radians(15)
"""A border that turns in by less runs on all but straight, and does not tear there. Common
practice, no source."""

ACUTE_TURN = math.radians(90) + 1e-6
"""A border that turns in by more leaves an acute gap."""

LEAST_MEETING = 4
"""Creases that meet in card, at least: fewer fold up to no point."""


@frozen
class Relieved:
    """Lines with their relief: in how many places creases stop short of a cut, and how many holes
    there are."""

    lines: Linework
    stops: int = 0
    holes: int = 0


def relieved(lines: Linework, size: float) -> Relieved:
    """The lines of a net with relief of `size` mm, the radius of its holes and how far creases stop
    short. Windows and letters within panels stay as they are drawn.

    A hole is left out where card narrower than its radius would be left beside it; creases then
    stop short of the point. A crease that would lose more than half of its length runs on to its
    end.
    """
    if size <= COINCIDENT:
        return Relieved(lines)
    holes: list[Hole] = []
    for hole in _wanted(lines, size):
        if _has_room(hole, holes, lines):
            holes.append(hole)
    taken = {hole.at for hole in holes}
    corners = (point for stroke in lines for point in _inner_corners(stroke, LEAST_TURN))
    ends = (end for end, _ in _slit_ends(lines))
    stops = [each for each in dict.fromkeys((*corners, *ends)) if each not in taken]

    found: list[Stroke] = []
    stopped: set[Point] = set()
    for stroke in lines:
        paths = [stroke.path]
        if stroke.part is Part.FOLD:
            for whole in outside(paths, holes):
                for crease, short in _stopped(whole, stops, size):
                    stopped.update(short)
                    found.append(replace(stroke, path=crease))
        elif _is_slit(stroke):
            found += (replace(stroke, path=path) for path in outside(paths, holes))
        else:
            found.append(_led_round(stroke, holes) if _is_border(stroke) else stroke)
    # Holes are cut before the outline that they lie in, as openings are.
    border = next(stroke for stroke in lines if _is_border(stroke))
    first = next(index for index, stroke in enumerate(found) if _is_border(stroke))
    found[first:first] = _openings(holes, border)
    return Relieved(tuple(found), len(stopped), len(holes))


def _is_border(stroke: Stroke) -> bool:
    """Whether it is the outer border of a piece. An opening between panels is a relief itself."""
    return stroke.operation is Operation.CUT and stroke.part is Part.OUTLINE


def _is_slit(stroke: Stroke) -> bool:
    return stroke.operation is Operation.CUT and stroke.part is Part.SLIT


def _inner_corners(stroke: Stroke, least: float) -> Iterator[Point]:
    """Where a border turns in by so many radians or more."""
    if _is_border(stroke):
        edges = stroke.path.segments
        for here, following in itertools.pairwise((*edges, edges[0])):
            if turn_between(here.direction_at(1.0), following.direction_at(0.0)) < -least:
                yield here.end


def _slit_ends(lines: Linework) -> Iterator[tuple[Point, Point]]:
    """Where slits end in card, and not on another cut, each with the way back along the slit."""
    cuts = [stroke for stroke in lines if stroke.operation is Operation.CUT]
    for slit in filter(_is_slit, cuts):
        others = [cut.path for cut in cuts if cut is not slit]
        for path in (slit.path, slit.path.reversed()):
            if not path.closed and not _meets(others, path.start):
                yield path.start, path.segments[0].direction_at(0.0)


def _wanted(lines: Linework, size: float) -> Iterator[Hole]:
    """The holes that there should be."""
    creases = [stroke.path for stroke in lines if stroke.part is Part.FOLD]
    cuts = [stroke.path for stroke in lines if stroke.operation is Operation.CUT]
    for stroke in lines:
        for corner in _inner_corners(stroke, ACUTE_TURN):
            yield Hole(corner, corner, size)
    for (x, y), (dx, dy) in _slit_ends(lines):
        # What a slit holds goes by its length; only a crease that begins at its end meets the
        # middle of a hole.
        by = 0.0 if _meets(creases, (x, y)) else size
        yield Hole((x, y), (x + by * dx, y + by * dy), size)
    for point in dict.fromkeys(_shared_points(creases)):
        if _arms(creases, point) >= LEAST_MEETING and not _meets(cuts, point):
            yield Hole(point, point, size)


def _meets(paths: Iterable[Path], point: Point) -> bool:
    """Whether a point lies on any path."""
    return any(distance_to(edge, point) <= COINCIDENT for path in paths for edge in path.segments)


def _shared_points(paths: Iterable[Path]) -> Iterator[Point]:
    """Where paths meet or cross each other."""
    boxed = ((path, path.bounds) for path in paths)
    for (one, here), (other, there) in itertools.combinations(boxed, 2):
        if not boxes_meet(here, there, -COINCIDENT):
            continue
        for edge, twin in itertools.product(one.segments, other.segments):
            yield from (point for _, _, point in crossings(edge, twin, COINCIDENT))


def _arms(paths: Iterable[Path], point: Point) -> int:
    """How many ways lead from a point along some paths."""
    return sum(
        1 if same_place(edge.start, point) or same_place(edge.end, point) else 2
        for path in paths
        for edge in path.segments
        if distance_to(edge, point) <= COINCIDENT
    )


def _has_room(hole: Hole, others: Iterable[Hole], lines: Linework) -> bool:
    """Whether a hole of twice the size would meet no other cuts than those that it is for, these
    but once, no narrow ear of card is left, and every crease keeps half of its length."""
    if any(math.dist(hole.centre, other.centre) < 3 * hole.radius for other in others):
        return False
    wide = replace(hole, radius=2 * hole.radius)
    for stroke in lines:
        path = stroke.path
        if stroke.operation is Operation.CUT:
            rest = outside([path], [wide])
            if rest == [path]:
                continue
            if not _meets([path], hole.at) or not (_is_slit(stroke) or _is_border(stroke)):
                return False
            if len(rest) != 1 or (_is_border(stroke) and leaves_ear(hole, path)):
                return False
        elif stroke.part is Part.FOLD:
            rest = outside([path], [hole])
            if 2 * math.fsum(each.length for each in rest) < path.length:
                return False
    return True


def _led_round(border: Stroke, holes: Sequence[Hole]) -> Stroke:
    """A border that runs round the holes in its corners."""
    path, glued = round_holes(border.path, holes), tuple(outside(border.glued, holes))
    return replace(border, path=path, glued=glued)


def _openings(holes: Iterable[Hole], border: Stroke) -> Iterator[Stroke]:
    """The holes that no border runs round."""
    for hole in holes:
        if not _meets([border.path], hole.at):
            yield replace(border, path=hole.path.reversed(), part=Part.OPENING, glued=())


def _stopped(
    path: Path, stops: Iterable[Point], size: float
) -> Iterator[tuple[Path, tuple[Point, ...]]]:
    """The parts of a crease that stop short of some points, each with those that it does; a part
    that would lose more than half of its length goes on to its ends."""
    on = [point for point in stops if _meets([path], point)]
    for part in _parted(path, on):
        short = tuple(
            point for point in on if same_place(point, part.start) or same_place(point, part.end)
        )
        rest = outside([part], [Hole(point, point, size) for point in short])
        if short and len(rest) == 1 and 2 * rest[0].length >= part.length:
            yield rest[0], short
        else:
            yield part, ()


def _parted(path: Path, points: Sequence[Point]) -> Iterator[Path]:
    """An open path in parts, from each of some points on it to the next."""
    run: list[Segment] = []
    for edge in path.segments:
        inside = (fraction_on(edge, point) for point in points)
        marks = sorted({0.0, *(mark for mark in inside if mark is not None), 1.0})
        for low, high in itertools.pairwise(marks):
            if (high - low) * edge.length <= COINCIDENT:
                continue
            run.append(edge.part(low, high) if high - low < 1.0 else edge)
            if any(same_place(run[-1].end, point) for point in points):
                yield Path.from_segments(run, closed=False)
                run = []
    if run:
        yield Path.from_segments(run, closed=False)
