"""A drawing's lines split where they meet, so that each stretch stands there just once.

The way: every crossing and every end becomes a *node* (points closer than `SNAP` are one); lines
are split at the nodes that lie on them, which leaves *pieces* that either coincide from end to end
or not at all; of those that coincide one is kept.

A node is put where two lines cross rather than where an end was drawn, so that a line stays
straight where others end on it.

This module needs shapely; whoever brings no drawing does not import it.
"""

from __future__ import annotations

import itertools
import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

import numpy as np
import shapely
from numpy.typing import NDArray

from cutlayers.bringing.lines import Edge, Kind
from cutlayers.frozen import frozen
from cutlayers.geometry.crossings import crossings
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Point
from cutlayers.net.chains import Nodes
from cutlayers.telling.errors import NetError

SNAP = 0.01
"""mm; points closer than this are one point: less than a knife or a pen can place, and more than
files with two decimals of an inch's 72nd part round away."""

STEEP = 0.05
"""Sine of the angle from which the crossing of two lines is a better corner than their ends."""

MOST_MEETINGS, MOST_CROSSINGS = 250_000, 40_000
"""Places where two lines of a drawing meet, and those inside of a line, two where both cross. Lines
of boxes, 50,000 of them, have some 100,000 corners, and a thousand boxes 30,000 creases that end on
an outline. Each costs time."""

_INSIDE = 1e-3
"""Of a line's length from its ends."""

AT_ONCE = 20_000
"""Lines asked for their neighbours at a time, which bounds the memory."""

STRONGER = (Kind.CUT, Kind.PERFORATE, Kind.SCORE)
"""What is done where lines of several kinds run along each other: the first of these."""


@frozen
class Piece:
    """A stretch of line from node to node; `edge` runs from the tail to the head."""

    tail: int
    head: int
    edge: Edge

    def reversed(self) -> Piece:
        """The same stretch walked the other way."""
        return Piece(self.head, self.tail, along(self.edge, self.edge.segment.reversed()))


def along(edge: Edge, segment: Segment) -> Edge:
    """An edge elsewhere. (`replace` takes five times as long, of a hundred thousand edges.)"""
    return Edge(segment, edge.kind, edge.sources, edge.fold_deg, edge.fold)


@frozen
class Noded:
    """Pieces between nodes, and how they came about.

    `split` are the places inside lines where these were split, `doubled` the pieces that lay on
    others of their kind, `outdone` those that lay on others of a stronger kind; `vanished` are the
    numbers of lines of which nothing is left, being shorter than a node is wide.
    """

    points: tuple[Point, ...]
    pieces: tuple[Piece, ...]
    split: int
    doubled: int
    outdone: int
    vanished: tuple[int, ...]

    @property
    def degrees(self) -> list[int]:
        """How many pieces meet in each node."""
        count = [0] * len(self.points)
        for piece in self.pieces:
            count[piece.tail] += 1
            count[piece.head] += 1
        return count


def noded(edges: Sequence[Edge]) -> Noded:
    """Split lines where they meet and keep one of those that coincide.

    Raises NetError where there are more crossings than a drawing of a box can have.
    """
    nodes = Nodes(SNAP)
    segments = [edge.segment for edge in edges]
    marks: list[list[tuple[float, int]]] = [[] for _ in edges]
    ends: list[tuple[int, float, Point]] = []
    met = crossed = 0
    for one, other, shared in _meetings(segments):
        met += len(shared)
        crossed += sum(_INSIDE < share < 1.0 - _INSIDE for each in shared for share in each[:2])
        if met > MOST_MEETINGS or crossed > MOST_CROSSINGS:
            many = f"meet in more than {MOST_MEETINGS:,}"
            if crossed > MOST_CROSSINGS:
                many = f"cross in more than {MOST_CROSSINGS // 2:,}"
            raise NetError(
                f"the lines {many} places, which those of no box do; "
                "take hatches and other filling lines out of the drawing"
            )
        for here, there, point, steep in shared:
            if steep:
                node = nodes.find(point)
                marks[one].append((here, node))
                marks[other].append((there, node))
            else:
                ends += [(one, here, point), (other, there, point)]
    tips = [(nodes.find(each.start), nodes.find(each.end)) for each in segments]
    for index, at, point in ends:
        marks[index].append((at, nodes.find(point)))
    split: set[int] = set()
    pieces: list[Piece] = []
    vanished: list[int] = []
    for edge, (tail, head), found in zip(edges, tips, marks, strict=True):
        whole = list(_between(edge, tail, head, found, nodes.points))
        if not whole:
            vanished += edge.sources
        split.update(piece.head for piece in whole[:-1])
        pieces += whole
    kept, doubled, outdone = _once(pieces)
    return Noded(tuple(nodes.points), tuple(kept), len(split), doubled, outdone, tuple(vanished))


def _between(
    edge: Edge, tail: int, head: int, found: Iterable[tuple[float, int]], points: Sequence[Point]
) -> Iterator[Piece]:
    """The pieces of a line between the nodes on it."""
    bulge = edge.segment.bulge
    if not bulge:
        nodes = {tail, head, *(node for _, node in found)}
        ux, uy = edge.segment.direction_at(0.0)
        # Where nodes lie as near as one is wide, an end may have been taken for the inner one.
        along_it = {node: points[node][0] * ux + points[node][1] * uy for node in nodes}
        for start, end in itertools.pairwise(
            sorted(nodes, key=lambda node: (along_it[node], node))
        ):
            yield Piece(start, end, along(edge, Segment(points[start], points[end])))
        return
    places = {node: at for at, node in sorted(found, reverse=True) if node not in (tail, head)}
    inner = sorted((at, node) for node, at in places.items())
    for (begin, start), (finish, end) in itertools.pairwise([(0.0, tail), *inner, (1.0, head)]):
        if start == end:
            continue
        part = math.tan(math.atan(bulge) * (finish - begin))
        piece = Segment(points[start], points[end], part)
        yield Piece(start, end, along(edge, piece))


def _once(pieces: Iterable[Piece]) -> tuple[list[Piece], int, int]:
    """One of each set of pieces that coincide, and how many lay on others of the same and of a
    stronger kind."""
    between: dict[tuple[int, int], list[list[Piece]]] = defaultdict(list)
    groups: list[list[Piece]] = []
    for piece in pieces:
        forward = piece if piece.tail < piece.head else piece.reversed()
        middle = forward.edge.segment.point_at(0.5)
        for group in between[forward.tail, forward.head]:
            if math.dist(group[0].edge.segment.point_at(0.5), middle) <= 2 * SNAP:
                group.append(forward)
                break
        else:
            group = [forward]
            between[forward.tail, forward.head].append(group)
            groups.append(group)
    doubled = outdone = 0
    kept = []
    for group in groups:
        if len(group) > 1:
            kinds = [piece.edge.kind for piece in group]
            best = min(kinds, key=STRONGER.index)
            doubled += kinds.count(best) - 1
            outdone += len(kinds) - kinds.count(best)
            group = [_together([piece for piece in group if piece.edge.kind is best], group)]
        kept.append(group[0])
    return kept, doubled, outdone


def _together(best: Sequence[Piece], every: Sequence[Piece]) -> Piece:
    """One piece in place of several: an arc rather than a chord of it, and what any says of its
    fold."""
    chosen = max(best, key=lambda piece: abs(piece.edge.segment.bulge))
    sources = sorted({number for piece in every for number in piece.edge.sources})
    angles = [piece.edge.fold_deg for piece in best if piece.edge.fold_deg is not None]
    ways = [piece.edge.fold for piece in best if piece.edge.fold]
    edge = replace(
        chosen.edge,
        sources=tuple(sources),
        fold_deg=angles[0] if angles else None,
        fold=ways[0] if ways else "",
    )
    return replace(chosen, edge=edge)


_Shared = list[tuple[float, float, Point, bool]]
"""Fractions of both lines, the place, and whether lines cross there steeply."""


def _meetings(segments: Sequence[Segment]) -> Iterator[tuple[int, int, _Shared]]:
    """Pairs of lines with the places that they share."""
    if not segments:
        return
    boxes = np.array([segment.bounds() for segment in segments])
    left, bottom, right, top = boxes.T
    shapes = shapely.box(left - SNAP, bottom - SNAP, right + SNAP, top + SNAP)
    tree = shapely.STRtree(shapes)
    straight = np.array([not segment.bulge for segment in segments])
    lines = np.array([(*segment.start, *segment.end) for segment in segments])
    for begin in range(0, len(segments), AT_ONCE):
        ones, others = tree.query(shapes[begin : begin + AT_ONCE])
        ones = ones + begin
        order = np.lexsort((others, ones))
        ones, others = ones[order], others[order]
        once = ones < others
        ones, others = ones[once], others[once]
        both = straight[ones] & straight[others]
        found = _straight_meetings(lines, ones[both], others[both])
        for one, other in zip(ones[~both].tolist(), others[~both].tolist(), strict=True):
            shared = [(*each, False) for each in crossings(segments[one], segments[other], SNAP)]
            if shared:
                found[one, other] = shared
        for (one, other), shared in sorted(found.items()):
            yield one, other, shared


def _straight_meetings(
    lines: NDArray[np.float64], ones: NDArray[np.int64], others: NDArray[np.int64]
) -> dict[tuple[int, int], _Shared]:
    """Where pairs of straight lines meet: by where both cross, else by ends that lie on the other.

    Source: the crossing of two lines by cross products of their directions.
    """
    found: dict[tuple[int, int], _Shared] = defaultdict(list)
    a, b = lines[ones], lines[others]
    ax, ay = a[:, 2] - a[:, 0], a[:, 3] - a[:, 1]
    bx, by = b[:, 2] - b[:, 0], b[:, 3] - b[:, 1]
    long_a, long_b = np.hypot(ax, ay), np.hypot(bx, by)
    turned = ax * by - ay * bx
    sine = np.abs(turned) / (long_a * long_b)
    dx, dy = b[:, 0] - a[:, 0], b[:, 1] - a[:, 1]
    with np.errstate(divide="ignore", invalid="ignore"):
        here = (dx * by - dy * bx) / turned
        there = (dx * ay - dy * ax) / turned
    near_a, near_b = SNAP / long_a, SNAP / long_b
    inside = (here > 0) & (here < 1) & (there > 0) & (there < 1) & (sine > 1e-9)
    steep = (here >= -near_a) & (here <= 1 + near_a) & (there >= -near_b) & (there <= 1 + near_b)
    steep &= sine > STEEP
    for at in np.flatnonzero(inside | steep).tolist():
        share = here[at]
        point = (float(a[at, 0] + share * ax[at]), float(a[at, 1] + share * ay[at]))
        pair = int(ones[at]), int(others[at])
        found[pair].append((float(share), float(there[at]), point, True))
    loose = ~steep
    for of, on, x, y in (
        (0, 1, b[:, 0], b[:, 1]),
        (1, 1, b[:, 2], b[:, 3]),
        (0, 0, a[:, 0], a[:, 1]),
        (1, 0, a[:, 2], a[:, 3]),
    ):
        line, lx, ly, length = (a, ax, ay, long_a) if on else (b, bx, by, long_b)
        px, py = x - line[:, 0], y - line[:, 1]
        along = (px * lx + py * ly) / length**2
        apart = np.abs(lx * py - ly * px) / length
        touch = loose & (apart <= SNAP) & (along * length > SNAP)
        touch &= (1 - along) * length > SNAP
        for at in np.flatnonzero(touch).tolist():
            point = (float(x[at]), float(y[at]))
            fraction = float(along[at])
            shares = (fraction, float(of)) if on else (float(of), fraction)
            found[int(ones[at]), int(others[at])].append((*shares, point, False))
    return found
