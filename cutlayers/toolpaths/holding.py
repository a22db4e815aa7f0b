"""Where bridges may stand on the cuts of a sheet, and what each of them would hold together.

Pieces may lie so near to each other that one cut parts them, or that the cut of one runs through
what would hold the other. A bridge between them then holds both, and every cut that passes there
leaves it. A piece that hangs on others alone is held only if one of those is held by the sheet.
"""

from __future__ import annotations

import itertools
from collections.abc import Hashable, Iterable, Iterator, Sequence

from cutlayers.frozen import frozen
from cutlayers.geometry.crossings import distance_to, fraction_at
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Bounds, Segment
from cutlayers.geometry.strokes import Stroke
from cutlayers.geometry.transforms import Point
from cutlayers.toolpaths.places import ON_A_CUT, Lines, Region

FRAME = "frame"
"""The waste that goes on to the edge of the sheet."""


@frozen
class Room:
    """A stretch of a worked line on which the middle of a bridge may stand.

    `low` and `high` are mm along the line of that number, `beside` the pieces that the bridge would
    hold, by their numbers. `joins` are those and the waste beside them, if there is any.
    """

    line: int
    low: float
    high: float
    beside: tuple[int, ...]
    joins: tuple[Hashable, ...]


class Holding:
    """The pieces of a sheet as they are drawn, and the lines by which they are cut out of it.

    `pieces` are closed outlines, `lines` the same after a `kerf` was taken up; `beside` is how far
    in mm a line runs from the border that it cuts.
    """

    def __init__(self, pieces: Sequence[Stroke], lines: Sequence[Stroke], kerf: float) -> None:
        self.pieces, self.lines = pieces, lines
        self._kerf = kerf
        self.beside = kerf / 2 + ON_A_CUT
        self._borders = [Lines([piece.path], self.beside) for piece in pieces]
        self._boxes = [line.path.bounds for line in lines]
        self._near = list(_near(self._boxes, [each.path.bounds for each in pieces], kerf))
        self._regions = self._waste()

    def rooms(self, margin: float) -> Iterator[Room]:
        """All stretches on which a bridge would hold a piece: off glue tabs, and `margin` mm from
        corners, from the ends of arcs and from where another piece begins."""
        for number, line in enumerate(self.lines):
            near = self._near[number]
            if not near:
                continue
            glued = [border for each in near for border in self.pieces[each].glued]
            tabs = Lines(glued, self.beside)
            corners = [at for each in near for at in self.pieces[each].path.vertices]
            at = 0.0
            for edge in line.path.segments:
                for part in _parted(edge, corners if len(near) > 1 else (), self.beside):
                    low, high = at + margin, at + part.length - margin
                    at += part.length
                    if low > high or self._on_tab(part, glued, tabs):
                        continue
                    middle = part.point_at(0.5)
                    beside = tuple(each for each in near if self._cuts_out(line, each, middle))
                    if len(beside) >= (1 if line.path.closed else 2):
                        waste = self._regions[number] if len(beside) == 1 else ()
                        yield Room(number, low, high, beside, (*beside, *waste))

    def passing(self, own: int, point: Point) -> Iterator[tuple[int, float]]:
        """The lines that a bridge at a point of a line interrupts, its own and contours so near
        that their kerf would burn it: their numbers, and where, in mm."""
        reach = self._kerf + ON_A_CUT
        for number, line in enumerate(self.lines):
            if number != own and not (line.path.closed and self._near[number]):
                continue
            if _within(point, self._boxes[number], reach):
                at = along(line.path, point, reach)
                if at is not None:
                    yield number, at

    def _cuts_out(self, line: Stroke, piece: int, point: Point) -> bool:
        """Whether a line cuts a piece at a point: a contour beside its border, a slit on it."""
        if line.path.closed:
            return self._borders[piece].touch(point)
        return along(self.pieces[piece].path, point, ON_A_CUT) is not None

    def _on_tab(self, edge: Segment, glued: Sequence[Path], tabs: Lines) -> bool:
        """Whether any part of an edge runs along a glue tab: its middle, or a tab's on the edge."""
        if tabs.touch(edge.point_at(0.5)):
            return True
        return any(
            distance_to(edge, border.point_at(0.5)) <= self.beside
            for path in glued
            for border in path.segments
        )

    def _waste(self) -> list[tuple[Hashable, ...]]:
        """For each line the waste beside it: what is enclosed between pieces, or the frame."""
        pockets = [
            (number, Region(line.path))
            for number, line in enumerate(self.lines)
            if line.path.closed and line.path.area < 0 and self._near[number]
        ]
        found: list[tuple[Hashable, ...]] = []
        for number, line in enumerate(self.lines):
            if line.path.closed and line.path.area < 0:
                found.append((f"pocket {number}",))
                continue
            middle = line.path.segments[0].point_at(0.5)
            around = [(pocket.area, each) for each, pocket in pockets if pocket.holds(middle)]
            found.append((f"pocket {min(around)[1]}" if around else FRAME,))
        return found


def along(path: Path, point: Point, reach: float) -> float | None:
    """How far along a path the place nearest to a point is, in mm; None beyond `reach` mm."""
    at, best = 0.0, None
    for edge in path.segments:
        if _within(point, edge.bounds(), reach):
            fraction = fraction_at(edge, point, reach)
            if fraction is not None:
                gap = distance_to(edge, point)
                if best is None or gap < best[0]:
                    best = gap, at + fraction * edge.length
        at += edge.length
    return None if best is None else best[1]


def _near(lines: Sequence[Bounds], pieces: Sequence[Bounds], kerf: float) -> Iterator[list[int]]:
    """For the box of each line the numbers of those boxes of pieces that it meets."""
    reach = kerf + ON_A_CUT
    for left, bottom, right, top in lines:
        yield [
            number
            for number, (x0, y0, x1, y1) in enumerate(pieces)
            if x0 <= right + reach
            and x1 >= left - reach
            and y0 <= top + reach
            and y1 >= bottom - reach
        ]


def _parted(edge: Segment, corners: Iterable[Point], reach: float) -> Iterator[Segment]:
    """An edge parted where corners lie on it."""
    found = (
        fraction_at(edge, corner, reach)
        for corner in corners
        if _within(corner, edge.bounds(), reach)
    )
    marks = sorted({0.0, 1.0, *(each for each in found if each is not None)})
    if len(marks) == 2:
        yield edge
        return
    for start, end in itertools.pairwise(marks):
        yield edge.part(start, end)


def _within(point: Point, box: Bounds, reach: float) -> bool:
    x, y = point
    return box[0] - reach <= x <= box[2] + reach and box[1] - reach <= y <= box[3] + reach
