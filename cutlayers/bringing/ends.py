"""Loose ends of lines: brought to where the lines meet, or cut back to there.

A loose end is one that no other line reaches. Gaps are closed by moving ends along, not by little
lines between them; a corner that is missing stands where the lines through it cross.

This module needs shapely; whoever brings no drawing does not import it.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np
import shapely

from cutlayers.bringing.lines import Edge, Kind
from cutlayers.bringing.noding import SNAP, STEEP, Noded, Piece
from cutlayers.frozen import frozen
from cutlayers.geometry.crossings import crossings
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Point

REACH = 3.0
"""mm; how far a crease may stop short of an outline, or run past it, and still be meant to end
there. Creases are kept 1 to 2 mm off the edge of thick card; common practice, no source."""

ASIDE = 0.05
"""mm; how far beside its own line a crease may find what it ends on."""


@frozen
class Joined:
    """Lines with their loose ends moved: `gaps` that were closed, creases `lengthened`."""

    edges: tuple[Edge, ...]
    gaps: int
    lengthened: int


@frozen
class _End:
    """A loose end: its node and piece, where it is, and the direction in which it points."""

    node: int
    piece: int
    at: Point
    out: Point
    crease: bool


def joined(graph: Noded, join: float, reach: float) -> Joined:
    """Move loose ends to where lines meet: any end up to `join` mm, a crease's up to `reach` along
    its own line. The lines are to be noded again."""
    ends = {end.node: end for end in _loose_ends(graph)}
    if not ends:
        return Joined(tuple(piece.edge for piece in graph.pieces), 0, 0)
    around = _Around(graph)
    targets, gaps = _gathered(graph, ends, join, around)
    lengthened = 0
    for node, end in ends.items():
        if node in targets:
            continue
        target = around.ahead(end, join, SNAP)
        if target is not None:
            gaps += 1
        elif end.crease and reach:
            target = around.ahead(end, reach, ASIDE)
            lengthened += target is not None
        if target is not None:
            targets[node] = target
    edges = []
    for piece in graph.pieces:
        segment = _moved(piece.edge.segment, targets.get(piece.tail), targets.get(piece.head))
        if segment is not None:
            edges.append(replace(piece.edge, segment=segment))
    return Joined(tuple(edges), gaps, lengthened)


def trimmed(graph: Noded, join: float, reach: float) -> tuple[Noded, int]:
    """Take away what runs past the line it should end on: up to `join` mm of any line, up to
    `reach` of a crease. Also gives how many ends were."""
    pieces = list(graph.pieces)
    count = 0
    while True:
        left = replace(graph, pieces=tuple(pieces))
        degrees = left.degrees
        kept = [piece for piece in pieces if not _runs_past(piece, degrees, join, reach)]
        if len(kept) == len(pieces):
            return left, count
        count += len(pieces) - len(kept)
        pieces = kept


def loose(pieces: Iterable[Piece], degrees: Sequence[int]) -> Iterator[Piece]:
    """The pieces that end where no other does."""
    return (piece for piece in pieces if 1 in (degrees[piece.tail], degrees[piece.head]))


def _runs_past(piece: Piece, degrees: Sequence[int], join: float, reach: float) -> bool:
    fewer, more = sorted((degrees[piece.tail], degrees[piece.head]))
    most = join if piece.edge.kind is Kind.CUT else max(join, reach)
    return fewer == 1 and more >= 3 and piece.edge.segment.length <= most


def _loose_ends(graph: Noded) -> Iterator[_End]:
    degrees = graph.degrees
    for index, piece in enumerate(graph.pieces):
        segment, crease = piece.edge.segment, piece.edge.kind is not Kind.CUT
        if degrees[piece.head] == 1:
            yield _End(piece.head, index, segment.end, segment.direction_at(1.0), crease)
        if degrees[piece.tail] == 1:
            x, y = segment.direction_at(0.0)
            yield _End(piece.tail, index, segment.start, (-x, -y), crease)


class _Around:
    """What lies around an end."""

    def __init__(self, graph: Noded) -> None:
        self._pieces = graph.pieces
        segments = [piece.edge.segment for piece in graph.pieces]
        self._boxes = shapely.box(*np.array([each.bounds() for each in segments]).T)
        self._tree = shapely.STRtree(self._boxes)
        used = sorted({node for piece in graph.pieces for node in (piece.tail, piece.head)})
        self._nodes = np.array(used)
        self._points = shapely.STRtree(shapely.points([graph.points[node] for node in used]))

    def nodes(self, point: Point, distance: float) -> list[int]:
        """Nodes no farther from a point."""
        found = self._points.query(shapely.Point(point), "dwithin", distance)
        return sorted(self._nodes[found].tolist())

    def ahead(self, end: _End, reach: float, aside: float) -> Point | None:
        """Where a line that goes on from its end meets the next one, at most `reach` mm on and
        `aside` beside it."""
        (x, y), (ux, uy) = end.at, end.out
        way = Segment(end.at, (x + reach * ux, y + reach * uy))
        left, bottom, right, top = way.bounds()
        box = shapely.box(left - aside, bottom - aside, right + aside, top + aside)
        best: tuple[float, Point] | None = None
        for index in sorted(self._tree.query(box).tolist()):
            other = self._pieces[index].edge.segment
            if index == end.piece:
                continue
            for _, there, point in crossings(way, other, aside):
                forward = (point[0] - x) * ux + (point[1] - y) * uy
                turn = other.direction_at(there)
                steep = abs(ux * turn[1] - uy * turn[0]) > STEEP
                if forward > SNAP / 2 and (steep or there in (0.0, 1.0)):
                    best = min(best or (forward, point), (forward, point))
        return best[1] if best else None


def _gathered(
    graph: Noded, ends: Mapping[int, _End], join: float, around: _Around
) -> tuple[dict[int, Point], int]:
    """Where ends go that lie near other ends or near a node, and how many gaps that closes."""
    beside: dict[int, set[int]] = {node: set() for node in ends}
    for piece in graph.pieces:
        for one, other in ((piece.tail, piece.head), (piece.head, piece.tail)):
            if one in beside:
                beside[one].add(other)
    pairs: list[tuple[float, int, int]] = []
    for node, end in ends.items():
        for other in around.nodes(end.at, 2 * join):
            if other == node or other in beside[node]:
                continue
            apart = math.dist(end.at, graph.points[other])
            if apart <= join or (other in ends and _corner([end, ends[other]], join)):
                pairs.append((apart, min(node, other), max(node, other)))
    group = {node: {node} for node in ends}
    anchors: dict[int, int] = {}
    gaps = 0
    for _, one, other in sorted(set(pairs)):
        if one in ends and other in ends:
            if group[one] is group[other] or _anchored(one, other, group, anchors):
                continue
            both = group[one] | group[other]
            for node in both:
                group[node] = both
            gaps += 1
        else:
            moving, held = (one, other) if one in ends else (other, one)
            if not any(node in anchors for node in group[moving]):
                anchors[moving] = held
                gaps += 1
    targets: dict[int, Point] = {}
    for node in ends:
        members = sorted(group[node])
        fixed = [anchors[each] for each in members if each in anchors]
        if fixed:
            targets[node] = graph.points[fixed[0]]
        elif len(members) > 1:
            targets[node] = _meeting([ends[each] for each in members], join)
    return targets, gaps


def _anchored(
    one: int, other: int, group: Mapping[int, set[int]], anchors: Mapping[int, int]
) -> bool:
    """Whether both groups are held by nodes already, or grow beyond a corner's few lines."""
    held = [any(node in anchors for node in group[each]) for each in (one, other)]
    return all(held) or len(group[one]) + len(group[other]) > MOST_AT_A_CORNER


MOST_AT_A_CORNER = 8
"""Lines that one gap may join; more near each other are no corner."""


def _meeting(ends: Sequence[_End], join: float) -> Point:
    """The point where lines meet whose ends lie near each other."""
    corner = _corner(ends, join)
    if corner is not None:
        return corner
    xs, ys = zip(*(end.at for end in ends), strict=True)
    return math.fsum(xs) / len(ends), math.fsum(ys) / len(ends)


def _corner(ends: Sequence[_End], join: float) -> Point | None:
    """Where the steepest two of some lines cross, if no end is more than `join` from there."""
    best, steepest = None, STEEP
    for one, other in itertools.combinations(ends, 2):
        (ax, ay), (bx, by) = one.out, other.out
        turned = ax * by - ay * bx
        if abs(turned) > steepest:
            dx, dy = other.at[0] - one.at[0], other.at[1] - one.at[1]
            along = (dx * by - dy * bx) / turned
            place = (one.at[0] + along * ax, one.at[1] + along * ay)
            if all(math.dist(place, end.at) <= join for end in ends):
                best, steepest = place, abs(turned)
    return best


def _moved(segment: Segment, start: Point | None, end: Point | None) -> Segment | None:
    """A line with its ends elsewhere, an arc with its radius kept; None if nothing is left."""
    if start is None and end is None:
        return segment
    first, last = start or segment.start, end or segment.end
    chord = math.dist(first, last)
    if chord <= SNAP:
        return None
    bulge = segment.bulge
    if bulge:
        # Source: half the included angle of an arc has the sine chord / (2 · radius).
        half = math.asin(min(1.0, chord / (2.0 * segment.radius)))
        half = math.pi - half if abs(bulge) > 1.0 else half
        bulge = math.copysign(math.tan(half / 2.0), bulge)
    return Segment(first, last, bulge)
