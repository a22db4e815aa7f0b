"""A net's lines sorted into what a person works in one go.

Straight upright and level lines become rows, one for each distance from an edge; slanted and
curved ones become joins between named points. What lies on the edge of the blank is made by
trimming it and is not told again.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Sequence

from cutlayers.frozen import frozen
from cutlayers.geometry.paths import HALF_CIRCLE, QUARTER_CIRCLE
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Point
from cutlayers.guide.by_hand import Curve, Edge, Join, Mark, Row, Span
from cutlayers.guide.ruler import Ruler

SAME = 1e-6
"""mm; lengths that differ less are one length."""

LETTERS = "ABCDEFGHJKLMNPRSTUVWXYZ"
"""Without I, O and Q, which are taken for 1 and 0 on a crowded drawing."""


@frozen
class Line:
    """A straight line or an arc on the blank, y down from its top edge, and what it is."""

    segment: Segment
    name: str

    @property
    def upright(self) -> bool:
        """Straight down."""
        return not self.segment.bulge and abs(self.segment.start[0] - self.segment.end[0]) < SAME

    @property
    def level(self) -> bool:
        """Straight across."""
        return not self.segment.bulge and abs(self.segment.start[1] - self.segment.end[1]) < SAME


def down_rows(lines: Iterable[Line], width: float, height: float) -> tuple[Row, ...]:
    """The upright lines, told from the left edge, without those on the blank's own edges."""
    return _rows(((each, 0) for each in lines if each.upright), width, height)


def across_rows(lines: Iterable[Line], width: float, height: float) -> tuple[Row, ...]:
    """The level lines, told from the top edge, without those on the blank's own edges."""
    return _rows(((each, 1) for each in lines if each.level), height, width)


def seen_from(row: Row, size: float, length: float, *, flip_at: bool, flip_spans: bool) -> Row:
    """A row told from the opposite edge of a blank `size` mm wide (`flip_at`), its spans from
    the other end of lines `length` mm long (`flip_spans`)."""
    spans = row.spans
    if flip_spans:
        spans = tuple(Span(length - s.end, length - s.start) for s in reversed(spans))
    return Row(size - row.at if flip_at else row.at, spans, row.through, row.names)


class Marks:
    """Names for points, given out in the order in which they are asked for."""

    def __init__(self) -> None:
        self._names: dict[tuple[int, int], str] = {}
        self.marks: list[Mark] = []

    def name(self, point: Point) -> str:
        """The name of a point."""
        key = (round(point[0] / SAME / 10), round(point[1] / SAME / 10))
        if key not in self._names:
            number = len(self._names)
            turn, letter = divmod(number, len(LETTERS))
            self._names[key] = LETTERS[letter] + (str(turn) if turn else "")
            self.marks.append(Mark(self._names[key], point[0], point[1]))
        return self._names[key]


def joins(lines: Iterable[Line], marks: Marks, ruler: Ruler) -> tuple[Join, ...]:
    """The slanted and curved lines, each between two named points."""
    return tuple(
        _join(line.segment, marks, ruler) for line in lines if not line.upright and not line.level
    )


def _join(segment: Segment, marks: Marks, ruler: Ruler) -> Join:
    start, end = marks.name(segment.start), marks.name(segment.end)
    if not segment.bulge:
        return Join(start, end, Curve.STRAIGHT)
    # y runs down here, so what turns left in the net's coordinates was turned over with it.
    middle = segment.point_at(0.5)
    (x0, y0), (x1, y1) = segment.start, segment.end
    off = (middle[0] - (x0 + x1) / 2, middle[1] - (y0 + y1) / 2)
    left_of_way = (y1 - y0) * off[0] - (x1 - x0) * off[1] > 0
    towards = _edge_towards(off)
    size = abs(segment.bulge)
    if math.isclose(size, HALF_CIRCLE, abs_tol=1e-6):
        return Join(start, end, Curve.HALF, left_of_way, segment.chord / 2, towards)
    if math.isclose(size, QUARTER_CIRCLE, abs_tol=1e-6):
        return Join(start, end, Curve.QUARTER, left_of_way, math.hypot(*off), towards)
    rise = ruler.length(ruler.nearest(math.hypot(*off)))
    if not rise:
        return Join(start, end, Curve.STRAIGHT)
    return Join(start, end, Curve.ARC, left_of_way, rise, towards)


def _edge_towards(direction: Point) -> Edge:
    across, down = direction
    if abs(across) > abs(down):
        return Edge.RIGHT if across > 0 else Edge.LEFT
    return Edge.BOTTOM if down > 0 else Edge.TOP


def _rows(lines: Iterable[tuple[Line, int]], size: float, length: float) -> tuple[Row, ...]:
    found: dict[int, list[tuple[float, float, str]]] = defaultdict(list)
    at: dict[int, float] = {}
    for line, axis in lines:
        where = line.segment.start[axis]
        if SAME < where < size - SAME:
            key = round(where / SAME / 10)
            at.setdefault(key, where)
            ends = sorted((line.segment.start[1 - axis], line.segment.end[1 - axis]))
            found[key].append((ends[0], ends[1], line.name))
    rows = []
    for key in sorted(found):
        spans = _joined(found[key])
        through = len(spans) == 1 and spans[0].start < SAME and spans[0].end > length - SAME
        names = tuple(dict.fromkeys(name for _, _, name in sorted(found[key])))
        rows.append(Row(at[key], spans, through, names))
    return tuple(rows)


def _joined(pieces: Sequence[tuple[float, float, str]]) -> tuple[Span, ...]:
    """Pieces of one line, those that touch made one."""
    spans: list[Span] = []
    for start, end, _ in sorted(pieces):
        if spans and start <= spans[-1].end + SAME:
            spans[-1] = Span(spans[-1].start, max(end, spans[-1].end))
        else:
            spans.append(Span(start, end))
    return tuple(spans)
