"""Relief: what keeps thick card from tearing and bulging where lines end.

A crease that runs up to an inner corner of a cut stops short of it. Where a cut ends in a point (an
acute inner corner, or a slit that ends in card) and where four or more creases meet in card, a
round hole takes the point away.

Between its end and the corner a crease is left unscored, and not cut: a slit there would be a notch
again, only with its point nearer to the fold. Whole card bends there as the crease beside it does.

Inner corners of a right angle or more stay sharp, those of slots and notches too: no fold pulls
their sides apart, and what goes into a slot fills it. A slot is as wide as a caliper and its play,
so rounds of a caliper would take most of its end, on which a strip stands or a tongue is held.

Panels and hinges stay as the net has them, and with them whatever folding measures: a crease that
stops short folds about all of its edge. Holes are taken from whatever card lies where they are.

Source: that notches tear from their points and rounds of the card's own thickness do not, and that
creases end about a caliper before cuts, is common practice, no source.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import cached_property

from cutlayers.frozen import frozen
from cutlayers.geometry.crossings import crossings, distance_to
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.strokes import Operation, Part, Stroke
from cutlayers.geometry.transforms import Point, turn_between
from cutlayers.net.edges import COINCIDENT, same_place, shared_edge
from cutlayers.net.linework import Linework, linework
from cutlayers.net.model import Net
from cutlayers.net.overlaps import boxes_meet, fraction_on
from cutlayers.net.relief_holes import Hole, cut, leaves_ear, outside

LEAST_TURN = math.radians(15)
"""A border that turns in by less runs on all but straight, and does not tear there. Common
practice, no source."""

ACUTE_TURN = math.radians(90) + 1e-6
"""A border that turns in by more leaves an acute gap."""

LEAST_MEETING = 4
"""Creases that meet in card, at least: fewer fold up to no point."""


@frozen(slots=False)
class Relieved:
    """A net and the relief of its card: `size` mm is the radius of its holes and how far creases
    stop short, 0 for none. Windows and letters within panels stay as they are drawn. Each thing is
    worked out once, when it is first asked for, and raises NetError as `linework` does.
    """

    net: Net
    size: float = 0.0

    @cached_property
    def borders(self) -> Linework:
        """The lines that follow from the net alone."""
        return linework(self.net)

    @cached_property
    def holes(self) -> tuple[Hole, ...]:
        """The holes. One is left out where card narrower than its radius would be left beside it;
        creases then stop short of the point."""
        found: list[Hole] = []
        for hole in _wanted(self.borders, self.size) if self.size > COINCIDENT else ():
            if _has_room(hole, found, self.borders):
                found.append(hole)
        return tuple(found)

    @cached_property
    def lines(self) -> Linework:
        """The lines that are worked: a hole that lies in the card is cut before the outline, as
        openings are."""
        if self.size <= COINCIDENT:
            return self.borders
        found: list[Stroke] = []
        for stroke in self.borders:
            if stroke.part is Part.FOLD:
                found += (replace(stroke, path=path) for path, _ in self._creases[stroke])
            elif _is_slit(stroke):
                paths = outside([stroke.path], self.holes)
                found += (replace(stroke, path=path) for path in paths)
            elif _is_border(stroke):
                outlines, openings = cut(stroke.path, self.holes)
                glued = tuple(outside(stroke.glued, self.holes))
                found += (
                    replace(stroke, path=path, part=Part.OPENING, glued=()) for path in openings
                )
                found += (replace(stroke, path=path, glued=glued) for path in outlines)
            else:
                found.append(stroke)
        return tuple(found)

    @cached_property
    def unscored(self) -> tuple[Segment, ...]:
        """What creases stop short by: from each corner to where a crease begins, as chords."""
        return tuple(each for ends in self._creases.values() for _, short in ends for each in short)

    @property
    def stops(self) -> int:
        """In how many places creases stop short."""
        return len({short.start for short in self.unscored})

    def scored(self, edge: Segment) -> list[Segment]:
        """What is worked of the straight edge of a hinge."""
        parts = [
            path.segments[0] for path in outside([Path.line(edge.start, edge.end)], self.holes)
        ]
        for short in self.unscored:
            along = shared_edge(edge, short) or shared_edge(edge, short.reversed())
            if along is not None:
                parts = [rest for part in parts for rest in _without(part, along)]
        return parts

    @cached_property
    def _creases(self) -> dict[Stroke, list[tuple[Path, tuple[Segment, ...]]]]:
        """What is left of each crease, in parts, each with what it stops short by; one that would
        lose more than half of its length runs on to its end."""
        if self.size <= COINCIDENT:
            return {}
        taken = {hole.at for hole in self.holes}
        corners = (point for stroke in self.borders for point in _inner_corners(stroke, LEAST_TURN))
        ends = (end for end, _ in _slit_ends(self.borders))
        stops = [each for each in dict.fromkeys((*corners, *ends)) if each not in taken]
        return {
            stroke: [
                part
                for whole in outside([stroke.path], self.holes)
                for part in _stopped(whole, stops, self.size)
            ]
            for stroke in self.borders
            if stroke.part is Part.FOLD
        }


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


def _stopped(
    path: Path, stops: Iterable[Point], size: float
) -> Iterator[tuple[Path, tuple[Segment, ...]]]:
    """The parts of a crease that stop short of some points, each with what it stops short by."""
    on = [point for point in stops if _meets([path], point)]
    for part in _parted(path, on):
        short = [point for point in on if same_place(point, part.start)]
        late = [point for point in on if same_place(point, part.end)]
        rest = outside([part], [Hole(point, point, size) for point in (*short, *late)])
        if len(rest) == 1 and 2 * rest[0].length >= part.length:
            begin, end = rest[0].start, rest[0].end
            missing = [*(Segment(p, begin) for p in short), *(Segment(p, end) for p in late)]
            yield rest[0], tuple(missing)
        else:
            yield part, ()


def _without(part: Segment, along: Segment) -> Iterator[Segment]:
    """What is left of a straight edge beside a stretch of the line that it lies on."""
    ux, uy = part.direction_at(0.5)
    (x0, y0), long = part.start, part.chord
    low, high = sorted(
        min(max((x - x0) * ux + (y - y0) * uy, 0.0), long) for x, y in (along.start, along.end)
    )
    if low > COINCIDENT:
        yield part.part(0.0, low / long)
    if high < long - COINCIDENT:
        yield part.part(high / long, 1.0)


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
