"""Lines made whole again: many short ones that follow an arc or a circle, and straight ones that
were drawn in several goes.

A blade stops and turns at each corner of a chain of short lines; on an arc it runs smooth.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from cutlayers.bringing.lines import Kind
from cutlayers.bringing.noding import Noded, Piece
from cutlayers.frozen import frozen
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import turn_between

NEAR_ARC = 0.02
"""mm; how far lines may lie off the arc, or the crease, that takes their place."""

NEAR_LINE = 0.004
"""mm; the same for a straight cut: what files round away, so that no arc beside it is eaten up."""

FEWEST = 3
"""Lines that make an arc; two always do."""

FLATTEST = 2 * NEAR_ARC
"""mm; how far an arc rises above its chord at least: less may be a line drawn unsteadily."""

MOST_TURN = 1.5 * math.pi
"""Radians of one arc; beyond, a bulge grows steep and loses digits."""

MOST_BEND = math.radians(60)
"""Between two lines of one arc: six make a circle 0.3 mm across within `NEAR_ARC`."""

_Fit = Callable[[Sequence[Piece]], Segment | None]


@frozen
class Smoothed:
    """Lines made whole: how many arcs were found, and in how many short lines."""

    graph: Noded
    arcs: int
    short_lines: int


def smoothed(graph: Noded) -> Smoothed:
    """Make one piece of those between two crossings that lie on one line or one arc."""
    pieces: list[Piece] = []
    arcs = short_lines = 0
    for chain, closed in _chains(graph):
        last = None  # the second half of a circle counts no more
        for segment, members in _whole(chain, closed):
            short = sum(not member.edge.segment.bulge for member in members)
            if segment.bulge and short:
                arcs += segment.start != last
                short_lines += short
            last = segment.end if abs(segment.bulge) == 1.0 else None
            pieces.append(_as_one(segment, members))
    return Smoothed(replace(graph, pieces=tuple(pieces)), arcs, short_lines)


def _as_one(segment: Segment, members: Sequence[Piece]) -> Piece:
    first = members[0]
    if len(members) == 1:
        return first
    sources = sorted({number for member in members for number in member.edge.sources})
    edge = replace(first.edge, segment=segment, sources=tuple(sources))
    return Piece(first.tail, members[-1].head, edge)


def _chains(graph: Noded) -> Iterator[tuple[list[Piece], bool]]:
    """Pieces that follow one another where nothing else ends and nothing changes, each chain in
    one direction; and whether it comes back to where it began."""
    leaving: dict[int, list[int]] = defaultdict(list)
    for index, piece in enumerate(graph.pieces):
        leaving[piece.tail].append(index)
        leaving[piece.head].append(index)
    used = [False] * len(graph.pieces)

    def onward(piece: Piece, index: int) -> tuple[Piece, int] | None:
        ways = leaving[piece.head]
        if len(ways) != 2:
            return None
        following = ways[0] if ways[1] == index else ways[1]
        found = graph.pieces[following]
        if used[following] or _nature(found) != _nature(piece):
            return None
        return (found if found.tail == piece.head else found.reversed()), following

    def walk(piece: Piece, index: int) -> list[Piece]:
        found = []
        while step := onward(piece, index):
            piece, index = step
            used[index] = True
            found.append(piece)
        return found

    for index, piece in enumerate(graph.pieces):
        if used[index]:
            continue
        used[index] = True
        ahead = walk(piece, index)
        behind = walk(piece.reversed(), index)
        chain = [*(each.reversed() for each in reversed(behind)), piece, *ahead]
        start = chain[0].tail
        closed = len(chain) > 1 and start == chain[-1].head and len(leaving[start]) == 2
        yield chain, closed


def _nature(piece: Piece) -> tuple[Kind, float | None, str]:
    return piece.edge.kind, piece.edge.fold_deg, piece.edge.fold


def _whole(chain: list[Piece], closed: bool) -> Iterator[tuple[Segment, Sequence[Piece]]]:
    """The lines and arcs that a chain is made of, each with its pieces."""
    if closed:
        circle = _circle(chain)
        if circle:
            yield from circle
            return
        turns = [_bend(*each) for each in zip((chain[-1], *chain[:-1]), chain, strict=True)]
        sharpest = turns.index(max(turns))
        chain = [*chain[sharpest:], *chain[:sharpest]]
    near = NEAR_LINE if chain[0].edge.kind is Kind.CUT else NEAR_ARC
    at = 0
    while at < len(chain):
        straight = _longest(chain, at, lambda pieces: _line(pieces, near))
        arc = _longest(chain, at, _arc)
        if arc[0] > 1 and abs(arc[1].bulge) * arc[1].chord / 2.0 <= FLATTEST:
            arc = straight
        count, segment = max(straight, arc, key=lambda found: found[0])
        yield segment, chain[at : at + count]
        at += count


def _bend(one: Piece, other: Piece) -> float:
    """Radians that a chain turns between two pieces."""
    arriving, leaving = one.edge.segment.direction_at(1.0), other.edge.segment.direction_at(0.0)
    return abs(turn_between(arriving, leaving))


def _longest(chain: Sequence[Piece], at: int, fit: _Fit) -> tuple[int, Segment]:
    """How many pieces from one on make a single line, and that line: sought in steps that double,
    then halve."""
    best, found = 1, chain[at].edge.segment
    low, step = 1, 1
    left = len(chain) - at
    if left == 1 or _bend(chain[at], chain[at + 1]) > MOST_BEND:
        return best, found
    for tried in (2, 3, 4):
        if tried <= left and (segment := fit(chain[at : at + tried])):
            best, found, low = tried, segment, tried
    if best == 1:
        return best, found
    high = left + 1
    while low + step < high:
        segment = fit(chain[at : at + low + step])
        if segment is None:
            high = low + step
            break
        low, found = low + step, segment
        step *= 2
    while high - low > 1:
        middle = (low + high) // 2
        segment = fit(chain[at : at + middle])
        if segment is None:
            high = middle
        else:
            low, found = middle, segment
    return low, found


def _line(pieces: Sequence[Piece], near: float) -> Segment | None:
    """The straight line in place of some, or None."""
    if any(piece.edge.segment.bulge for piece in pieces):
        return None
    points = _corners(pieces)
    way = points[-1] - points[0]
    length = float(np.hypot(*way))
    if length <= near:
        return None
    inner = points[1:-1] - points[0]
    aside = np.abs(way[0] * inner[:, 1] - way[1] * inner[:, 0]) / length
    along = (points - points[0]) @ way
    if aside.max() > near or np.any(np.diff(along) <= 0.0):
        return None
    return Segment(pieces[0].edge.segment.start, pieces[-1].edge.segment.end)


def _arc(pieces: Sequence[Piece]) -> Segment | None:
    """The arc in place of some lines and arcs, or None.

    Source: the chord to a point on an arc and the one from there turn by half of the arc's angle.
    """
    short = sum(not piece.edge.segment.bulge for piece in pieces)
    if short and len(pieces) < FEWEST:
        return None
    points = _corners(pieces)
    start, end = points[0], points[-1]
    if np.hypot(*(end - start)) <= NEAR_ARC:
        return None
    arriving, leaving = points[1:-1] - start, end - points[1:-1]
    turned = arriving[:, 0] * leaving[:, 1] - arriving[:, 1] * leaving[:, 0]
    ahead = (arriving * leaving).sum(axis=1)
    turns = np.arctan2(turned, ahead)
    # Ends are ill told by points close to them.
    weights = np.hypot(*arriving.T) * np.hypot(*leaving.T)
    half = float((turns * weights).sum() / weights.sum())
    if abs(half) < 1e-6 or 2 * abs(half) > MOST_TURN:
        return None
    first, last = pieces[0].edge.segment.start, pieces[-1].edge.segment.end
    arc = Segment(first, last, math.tan(half / 2.0))
    return (
        arc if _follows(pieces, points, arc.centre, arc.radius, math.copysign(1.0, half)) else None
    )


def _circle(chain: Sequence[Piece]) -> list[tuple[Segment, Sequence[Piece]]] | None:
    """Two half circles in place of a closed chain, or None.

    Source: a circle by linear least squares, x² + y² = 2ax + 2by + c.
    """
    if sum(abs(piece.edge.segment.sweep) for piece in chain) == 0.0 and len(chain) < 2 * FEWEST:
        return None
    points = _corners(chain)[:-1]
    middle = points.mean(axis=0)
    bent = [piece for piece in chain if piece.edge.segment.bulge]
    samples = np.concatenate([points, _middles(bent)]) - middle
    columns = np.column_stack([2 * samples, np.ones(len(samples))])
    (a, b, c), *_ = np.linalg.lstsq(columns, (samples**2).sum(axis=1), rcond=None)
    square = c + a * a + b * b
    if not square > 0.0:
        return None
    radius, centre = math.sqrt(square), (float(a + middle[0]), float(b + middle[1]))
    sign = math.copysign(1.0, _turned(chain))
    if not _follows(chain, np.vstack([points, points[:1]]), centre, radius, sign):
        return None
    right, left = (centre[0] + radius, centre[1]), (centre[0] - radius, centre[1])
    half = len(chain) // 2
    return [(Segment(right, left, sign), chain[:half]), (Segment(left, right, sign), chain[half:])]


def _turned(chain: Sequence[Piece]) -> float:
    """Twice the area that a closed chain encloses, positive to the left."""
    total = 0.0
    for piece in chain:
        (x0, y0), (x1, y1) = piece.edge.segment.start, piece.edge.segment.end
        total += x0 * y1 - x1 * y0 + piece.edge.segment.bulge * piece.edge.segment.chord**2
    return total


def _follows(
    pieces: Sequence[Piece],
    points: NDArray[np.float64],
    centre: tuple[float, float],
    radius: float,
    sign: float,
) -> bool:
    """Whether pieces lie on a circle, and all go round it one way."""
    spokes, halfway = points - centre, _middles(pieces) - centre
    if np.abs(np.hypot(*spokes.T) - radius).max() > NEAR_ARC:
        return False
    if np.abs(np.hypot(*halfway.T) - radius).max() > NEAR_ARC + NEAR_LINE:
        return False
    before, after = spokes[:-1], spokes[1:]
    round_by = sign * (before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0])
    bulges = np.array([piece.edge.segment.bulge for piece in pieces])
    long_way = sign * bulges >= 1.0
    return bool(np.all((round_by > 0.0) | long_way))


def _corners(pieces: Sequence[Piece]) -> NDArray[np.float64]:
    """The ends of pieces that follow one another."""
    segments = [piece.edge.segment for piece in pieces]
    return np.array([segments[0].start, *(segment.end for segment in segments)])


def _middles(pieces: Sequence[Piece]) -> NDArray[np.float64]:
    return np.array([piece.edge.segment.point_at(0.5) for piece in pieces]).reshape(-1, 2)
