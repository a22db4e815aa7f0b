"""Loose ends of lines: brought to where the lines meet, or cut back to there.

A loose end is one that no other line reaches. Gaps are closed by moving ends along, not by little
lines between them; a corner that is missing stands where the lines through it cross.

This module needs shapely; whoever brings no drawing does not import it.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Mapping, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from cutlayers.bringing.lines import Edge, Kind
from cutlayers.bringing.noding import SNAP, STEEP, Noded, Piece, along, noded
from cutlayers.bringing.on_card import on_card
from cutlayers.bringing.overshoots import overshoots, trimmed
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
class Met:
    """Lines that meet: `drawn` as they did at first, `graph` as they do once ends are mended;
    `gaps` that were closed, creases `lengthened`, and ends `trimmed`."""

    drawn: Noded
    graph: Noded
    gaps: int
    lengthened: int
    trimmed: int


@frozen
class _End:
    """A loose end: its node and piece, where it is, and the direction in which it points."""

    node: int
    piece: int
    at: Point
    out: Point
    crease: bool


def met(edges: Sequence[Edge], join: float, reach: float) -> Met:
    """Let lines meet: any end may move by up to `join` mm, that of a crease by up to `reach` along
    its own line. Raises NetError where lines meet in more places than those of a box can.

    What runs past a line goes before what stops short is lengthened, which would end on it.
    """
    edges, off_card = on_card(edges, join, reach) if reach else (edges, 0)
    drawn = noded(edges)
    moved, gaps = _joined(drawn, join, reach)
    graph, cut_back = trimmed(noded(moved) if gaps else drawn, join, reach)
    longer, lengthened = _lengthened(graph, reach) if reach else ([], 0)
    if lengthened:
        graph, more = trimmed(noded(longer), join, reach)
        cut_back += more
    return Met(drawn, graph, gaps, lengthened, cut_back + off_card)


def _joined(graph: Noded, join: float, reach: float) -> tuple[list[Edge], int]:
    """The lines with their loose ends where others are, and how many gaps that closes."""
    ends = {end.node: end for end in _loose_ends(graph)}
    if not ends:
        return [], 0
    ran_past = {id(piece) for piece in overshoots(graph, join, reach)}
    past = {node for node, end in ends.items() if id(graph.pieces[end.piece]) in ran_past}
    targets, gaps = _gathered(graph, ends, past, join, _Around(graph))
    return _at(graph, targets), gaps


def _lengthened(graph: Noded, reach: float) -> tuple[list[Edge], int]:
    """The lines with creases that stop short ending on what lies ahead, and how many do."""
    creases = [end for end in _loose_ends(graph) if end.crease]
    targets = _Around(graph).ahead(creases, reach, ASIDE) if creases else {}
    return _at(graph, targets), len(targets)


def _at(graph: Noded, targets: Mapping[int, Point]) -> list[Edge]:
    """The lines with some of their ends elsewhere, to be noded again."""
    moved = (
        (piece.edge, _moved(piece.edge.segment, targets.get(piece.tail), targets.get(piece.head)))
        for piece in graph.pieces
    )
    return [along(edge, segment) for edge, segment in moved if segment is not None]


def loose(pieces: Iterable[Piece], degrees: Sequence[int]) -> Iterator[Piece]:
    """The pieces that end where no other does."""
    return (piece for piece in pieces if 1 in (degrees[piece.tail], degrees[piece.head]))


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
    """What lies around ends; many are asked for at once, which takes a tenth of the time."""

    def __init__(self, graph: Noded) -> None:
        self._graph = graph
        bounds = np.array([piece.edge.segment.bounds() for piece in graph.pieces])
        self._tree = shapely.STRtree(shapely.box(*bounds.T))

    def nodes(self, ends: Sequence[_End], distance: float) -> Iterator[tuple[_End, int]]:
        """Each end with the nodes that lie no farther from it, its own and its piece's other one
        left out."""
        graph = self._graph
        used = sorted({node for piece in graph.pieces for node in (piece.tail, piece.head)})
        tree = shapely.STRtree(shapely.points([graph.points[node] for node in used]))
        places = shapely.points([end.at for end in ends])
        for place, found in _pairs(tree.query(places, "dwithin", distance)):
            end, node = ends[place], used[found]
            piece = graph.pieces[end.piece]
            if node not in (piece.tail, piece.head):
                yield end, node

    def ahead(self, ends: Sequence[_End], reach: float, aside: float) -> dict[int, Point]:
        """Where lines that go on from their ends meet the next one, at most `reach` mm on and
        `aside` beside it; by the ends' nodes."""
        ways = [
            Segment(end.at, (end.at[0] + reach * end.out[0], end.at[1] + reach * end.out[1]))
            for end in ends
        ]
        bounds = np.array([way.bounds() for way in ways])
        bounds += np.array([-aside, -aside, aside, aside])
        best: dict[int, tuple[float, Point]] = {}
        for place, found in _pairs(self._tree.query(shapely.box(*bounds.T))):
            end, (ux, uy) = ends[place], ends[place].out
            other = self._graph.pieces[found].edge.segment
            for _, there, point in (
                crossings(ways[place], other, aside) if found != end.piece else ()
            ):
                if there in (0.0, 1.0):  # near an end is at it
                    point = other.end if there else other.start
                forward = _forward(end, point)
                way = other.direction_at(there)
                steep = abs(ux * way[1] - uy * way[0]) > STEEP
                if forward > SNAP / 2 and (steep or there in (0.0, 1.0)):
                    best[end.node] = min(best.get(end.node, (forward, point)), (forward, point))
        return {node: point for node, (_, point) in best.items()}


def _pairs(found: NDArray[np.int64]) -> list[tuple[int, int]]:
    """What a tree has found, in order."""
    return sorted(zip(*found.tolist(), strict=True))


def _forward(end: _End, point: Point) -> float:
    """How far a point lies before an end, in mm."""
    return (point[0] - end.at[0]) * end.out[0] + (point[1] - end.at[1]) * end.out[1]


def _aside(end: _End, point: Point) -> float:
    """How far a point lies beside the line that goes on from an end."""
    return abs((point[0] - end.at[0]) * end.out[1] - (point[1] - end.at[1]) * end.out[0])


def _gathered(
    graph: Noded, ends: Mapping[int, _End], past: set[int], join: float, around: _Around
) -> tuple[dict[int, Point], int]:
    """Where ends go that lie near other ends, a node or a line, and how many gaps that closes.

    What a line meets when it goes straight on comes first, the nearest before all; only then what
    is merely near. Those that may have run `past` another line go to nodes straight ahead only.
    """
    some = list(ends.values())
    ways: list[tuple[bool, float, int, int]] = []
    for end, node in around.nodes(some, 2 * join):
        apart = math.dist(end.at, graph.points[node])
        if apart <= join or (node in ends and _corner((end, ends[node]), join)):
            straight = _ahead_of(end, graph.points[node], SNAP if end.node in past else 2 * SNAP)
            if past.isdisjoint((end.node, node)):
                straight = straight or _to_corner(end, ends.get(node), join)
            elif end.node not in past or not straight:
                continue
            ways.append((not straight, apart, end.node, node))
    hits = around.ahead(some, join, SNAP)
    corners = {(node, graph.points[other]) for _, _, node, other in ways}
    ways += [
        (False, math.dist(ends[node].at, at), node, -1)
        for node, at in hits.items()
        if (node, at) not in corners and node not in past
    ]
    group = {node: {node} for node in ends}
    anchors: dict[int, Point] = {}
    gaps = 0
    for aslant, _, one, other in sorted(ways):
        held = _anchor(group[one], anchors)
        if (aslant or other < 0) and (held or len(group[one]) > 1):
            continue
        if other in ends:
            if group[one] is group[other] or (held and _anchor(group[other], anchors)):
                continue
            both = group[one] | group[other]
            if len(both) > MOST_AT_A_CORNER:
                continue
            group.update(dict.fromkeys(both, both))
        elif held:
            continue
        else:
            anchors[one] = hits[one] if other < 0 else graph.points[other]
        gaps += 1
    targets: dict[int, Point] = {}
    for node in ends:
        held = _anchor(group[node], anchors)
        if held or len(group[node]) > 1:
            members = [ends[each] for each in sorted(group[node])]
            targets[node] = held or _meeting(members, join)
    return targets, gaps


def _anchor(group: Iterable[int], anchors: Mapping[int, Point]) -> Point | None:
    """What holds a group of ends, if anything does."""
    return next((anchors[node] for node in sorted(group) if node in anchors), None)


def _ahead_of(end: _End, point: Point, aside: float) -> bool:
    """Whether an end comes to a point by going straight on."""
    return _aside(end, point) <= aside and _forward(end, point) > 0.0


def _to_corner(end: _End, other: _End | None, join: float) -> bool:
    """Whether two ends come to a corner by going straight on, each of them."""
    corner = None if other is None else _corner((end, other), join)
    if other is None or corner is None:
        return False
    return min(_forward(end, corner), _forward(other, corner)) >= -SNAP


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
