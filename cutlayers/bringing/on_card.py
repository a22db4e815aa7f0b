"""Creases that leave the card, cut back to where they do.

A crease that comes to a corner between two cuts and goes on beyond runs in a hole or beside the
outline, or along one of the cuts: whatever it reaches there is nothing to it. So does one that
crosses a cut and then ends in nothing. Both are cut back before lines are made to meet, or others
would end on what should not be there.

This module needs shapely; whoever brings no drawing does not import it.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from cutlayers.bringing.lines import Edge, Kind
from cutlayers.bringing.noding import SNAP, STEEP, along
from cutlayers.frozen import frozen
from cutlayers.geometry.crossings import crossings, distance_to
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Point
from cutlayers.net.chains import Nodes

Floats = NDArray[np.float64]


@frozen
class _Ends:
    """One end of each of some straight creases: the creases' numbers, where they end, the
    directions in which they do, and their lengths."""

    numbers: list[int]
    at: Floats
    out: Floats
    lengths: Floats


def on_card(edges: Sequence[Edge], join: float, reach: float) -> tuple[list[Edge], int]:
    """The lines with straight creases that leave the card by up to `reach` mm, and less than half
    of their length, ending there; and how many ends that cuts back. What comes to another line
    within `join` mm does not end in nothing."""
    found = list(edges)
    creases = [
        number
        for number, edge in enumerate(edges)
        if edge.kind is not Kind.CUT and not edge.segment.bulge and edge.segment.length > SNAP
    ]
    if not creases or len(creases) == len(edges):
        return found, 0
    lines = np.array([(*edges[at].segment.start, *edges[at].segment.end) for at in creases], float)
    lengths = np.hypot(*(lines[:, 2:] - lines[:, :2]).T)
    out = (lines[:, 2:] - lines[:, :2]) / lengths[:, None]
    starts = _cut_back(edges, _Ends(creases, lines[:, :2], -out, lengths), join, reach)
    ends = _cut_back(edges, _Ends(creases, lines[:, 2:], out, lengths), join, reach)
    for number in {*starts, *ends}:
        segment = edges[number].segment
        shorter = Segment(starts.get(number, segment.start), ends.get(number, segment.end))
        found[number] = along(edges[number], shorter)
    return found, len(starts) + len(ends)


def _cut_back(edges: Sequence[Edge], ends: _Ends, join: float, reach: float) -> Mapping[int, Point]:
    """Where creases leave the card, by their numbers; of several places the first."""
    first: dict[int, tuple[float, Point]] = {}
    for number, past, place in (
        *_past_corners(edges, ends, reach),
        *_past_cuts(edges, ends, join, reach),
    ):
        first[number] = max(first.get(number, (past, place)), (past, place))
    return {number: place for number, (_, place) in first.items()}


def _past_corners(
    edges: Sequence[Edge], ends: _Ends, reach: float
) -> Iterator[tuple[int, float, Point]]:
    """Creases that pass a corner, how far they go on, and where it is."""
    corners = _corners(edges)
    if not corners:
        return
    places, ways = list(corners), list(corners.values())
    tree = shapely.STRtree(shapely.points(places))
    ones, others = tree.query(shapely.points(ends.at), "dwithin", reach)
    off, out = ends.at[ones] - np.array(places)[others], ends.out[ones]
    past = (off * out).sum(axis=1)
    aside = np.abs(off[:, 0] * out[:, 1] - off[:, 1] * out[:, 0])
    behind = (aside <= SNAP) & (past > SNAP) & (past < ends.lengths[ones] / 2)
    for pair in np.flatnonzero(behind).tolist():
        one, other = int(ones[pair]), int(others[pair])
        if _leaves(ends.out[one], ways[other]):
            yield ends.numbers[one], float(past[pair]), places[other]


def _corners(edges: Sequence[Edge]) -> Mapping[Point, list[Point]]:
    """Where ends of cuts meet, with the directions in which these leave."""
    nodes = Nodes(SNAP)
    leaving: dict[int, list[Point]] = defaultdict(list)
    for edge in edges:
        if edge.kind is Kind.CUT:
            segment = edge.segment
            x, y = segment.direction_at(1.0)
            leaving[nodes.find(segment.start)].append(segment.direction_at(0.0))
            leaving[nodes.find(segment.end)].append((-x, -y))
    return {nodes.points[node]: ways for node, ways in leaving.items() if len(ways) > 1}


def _leaves(out: Floats, ways: Iterable[Point]) -> bool:
    """Whether a line that goes on beyond a corner has cuts on both sides, or one ahead."""
    ux, uy = float(out[0]), float(out[1])
    across = [(ux * y - uy * x, ux * x + uy * y) for x, y in ways]
    if any(abs(sine) <= STEEP and cosine < 0.0 for sine, cosine in across):
        return False
    sines = [sine for sine, _ in across]
    return min(map(abs, sines)) <= STEEP or min(sines) < 0.0 < max(sines)


def _past_cuts(
    edges: Sequence[Edge], ends: _Ends, join: float, reach: float
) -> Iterator[tuple[int, float, Point]]:
    """Creases that cross a cut and then end in nothing, how far they go on, and where it is."""
    tree = shapely.STRtree(shapely.box(*np.array([edge.segment.bounds() for edge in edges]).T))
    back = ends.at - ends.out * np.minimum(reach, ends.lengths / 2)[:, None]
    tails = shapely.linestrings(np.stack([back, ends.at], axis=1))
    passed: dict[int, list[int]] = defaultdict(list)
    for one, other in zip(*tree.query(tails, "intersects").tolist(), strict=True):
        if edges[other].kind is Kind.CUT:
            passed[one].append(other)
    for one, others in sorted(passed.items()):
        at: Point = (float(ends.at[one, 0]), float(ends.at[one, 1]))
        tail = Segment((float(back[one, 0]), float(back[one, 1])), at)
        ux, uy = float(ends.out[one, 0]), float(ends.out[one, 1])
        met = [
            ((1.0 - here) * tail.length, point)
            for other in sorted(others)
            for here, there, point in crossings(tail, edges[other].segment, SNAP)
            if 0.0 < here < 1.0 and 0.0 < there < 1.0 and _steep((ux, uy), edges[other], there)
        ]
        if not met:
            continue
        ahead = Segment(at, (at[0] + join * ux, at[1] + join * uy))
        near = tree.query(shapely.Point(at), "dwithin", max(join, SNAP)).tolist()
        others = [number for number in near if number != ends.numbers[one]]
        if not any(_ends_on(at, ahead, edges[number].segment) for number in others):
            yield (ends.numbers[one], *max(met))


def _steep(out: Point, edge: Edge, there: float) -> bool:
    x, y = edge.segment.direction_at(there)
    return abs(out[0] * y - out[1] * x) > STEEP


def _ends_on(at: Point, ahead: Segment, other: Segment) -> bool:
    return distance_to(other, at) <= SNAP or bool(crossings(ahead, other, SNAP))
