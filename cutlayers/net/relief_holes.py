"""Round holes, and what they leave of the lines and of the card about them."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence

from cutlayers.frozen import frozen
from cutlayers.geometry.crossings import crossings, distance_to
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Point
from cutlayers.net.edges import COINCIDENT
from cutlayers.net.overlaps import encloses

MOST_NARROWED = math.radians(45)
"""By how much less of a circle of twice a hole's size may lie in card; where it is more, an ear of
card narrower than the hole would be left beside it."""


@frozen
class Hole:
    """A hole for the point `at`, about which it lies or, at the end of a slit, on which it ends;
    lengths in mm."""

    at: Point
    centre: Point
    radius: float

    @property
    def path(self) -> Path:
        """Its edge, counter-clockwise."""
        return Path.circle(self.centre, self.radius)


def outside(paths: Iterable[Path], holes: Sequence[Hole]) -> list[Path]:
    """What holes leave of some paths; a path that none meets is left as it is."""
    rest = list(paths)
    for hole in holes:
        rest = [piece for path in rest for piece in _outside_one(path, hole)]
    return rest


def _outside_one(path: Path, hole: Hole) -> list[Path]:
    if not _boxed(path, hole):
        return [path]
    reach = hole.radius
    runs: list[list[Segment]] = [[]]
    for edge in path.segments:
        if distance_to(edge, hole.centre) >= reach:
            runs[-1].append(edge)
            continue
        meeting = (
            here for arc in hole.path.segments for here, _, _ in crossings(edge, arc, COINCIDENT)
        )
        for low, high in itertools.pairwise(sorted({0.0, *meeting, 1.0})):
            if (high - low) * edge.length <= COINCIDENT:
                continue
            if math.dist(edge.point_at((low + high) / 2), hole.centre) > reach:
                runs[-1].append(edge.part(low, high) if high - low < 1.0 else edge)
            else:
                runs.append([])
    if len(runs) == 1:
        return [path]
    if path.closed:
        runs[0] = runs.pop() + runs[0]
    return [Path.from_segments(run, closed=False) for run in runs if run]


def _boxed(path: Path, hole: Hole) -> bool:
    """Whether a hole reaches into the box round a path."""
    left, bottom, right, top = path.bounds
    (x, y), reach = hole.centre, hole.radius
    return left - reach < x < right + reach and bottom - reach < y < top + reach


def cut(outline: Path, holes: Iterable[Hole]) -> tuple[list[Path], list[Path]]:
    """What holes leave of the card inside an outline: its parts, each led round the holes that meet
    it, and the edges of the holes that lie within, clockwise."""
    parts, within = [outline], []
    for hole in holes:
        left: list[Path] = []
        for part in parts:
            runs = _outside_one(part, hole)
            if runs != [part]:
                left += _led_round(runs, hole)
                continue
            left.append(part)
            if _boxed(part, hole) and encloses(part, hole.centre):
                within.append(hole.path.reversed())
        parts = left
    return parts, within


def _led_round(runs: Sequence[Path], hole: Hole) -> Iterator[Path]:
    """Outlines of what a hole leaves of an outline, each run joined to the one that follows on
    round the hole."""
    waiting = list(runs)
    while waiting:
        first = waiting[0]
        edges: list[Segment] = []
        following: Path | None = None
        while following is not first:
            edges += (following or first).segments
            end = edges[-1].end
            following = min(waiting, key=lambda run: _sweep(hole, end, run.start))
            edges += _arcs(hole, end, following.start)
            if following is not first:
                waiting.remove(following)
        waiting.remove(first)
        yield Path.from_segments(edges, closed=True)


def leaves_ear(hole: Hole, border: Path) -> bool:
    """Whether an outline meets a hole, or one of twice its size, more than once, or turns back
    beside it, so that an ear of card would be left."""
    wide = Hole(hole.at, hole.centre, 2 * hole.radius)
    near, far = _outside_one(border, hole), _outside_one(border, wide)
    if len(near) != 1 or len(far) != 1:
        return True
    close, apart = (_sweep(hole, rest.end, rest.start) for rest in (*near, *far))
    return close - apart > MOST_NARROWED


def _arcs(hole: Hole, start: Point, end: Point) -> Iterator[Segment]:
    """From one point of a hole's edge to another, clockwise: with the card on the left. Two arcs,
    since the bulge of one of more than three quarters of a circle is steep."""
    x, y = hole.centre
    sweep = _sweep(hole, start, end)
    half = math.atan2(start[1] - y, start[0] - x) - sweep / 2
    middle = (x + hole.radius * math.cos(half), y + hole.radius * math.sin(half))
    bulge = -math.tan(sweep / 8)
    yield Segment(start, middle, bulge)
    yield Segment(middle, end, bulge)


def _sweep(hole: Hole, start: Point, end: Point) -> float:
    """From one point round the middle of a hole to another, clockwise, in radians."""
    x, y = hole.centre
    first, last = (math.atan2(point[1] - y, point[0] - x) for point in (start, end))
    return (first - last) % math.tau
