"""Creases that run past a corner of cuts, cut back to it.

A crease that comes to a corner between two cuts and goes on beyond leaves the card there: what runs
on lies in a hole or beside the outline, or along one of the cuts. Whatever it reaches there is
nothing to it, so this is done before lines are made to meet.

This module needs shapely; whoever brings no drawing does not import it.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from cutlayers.bringing.lines import Edge, Kind
from cutlayers.bringing.noding import SNAP, STEEP, along
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Point
from cutlayers.net.chains import Nodes


def ended_at_corners(edges: Sequence[Edge], reach: float) -> tuple[list[Edge], int]:
    """The lines with straight creases that run past corners of cuts, by up to `reach` mm, ending
    there, and how many ends that cuts back."""
    corners = _corners(edges)
    creases = [
        index
        for index, edge in enumerate(edges)
        if edge.kind is not Kind.CUT and not edge.segment.bulge and edge.segment.length > SNAP
    ]
    found = list(edges)
    if not corners or not creases:
        return found, 0
    lines = np.array([(*edges[at].segment.start, *edges[at].segment.end) for at in creases])
    tree = shapely.STRtree(shapely.points(list(corners)))
    ways = list(corners.values())
    places = list(corners)
    ends: dict[int, list[Point | None]] = {}
    for side, here, other in ((0, lines[:, :2], lines[:, 2:]), (1, lines[:, 2:], lines[:, :2])):
        out = here - other
        lengths = np.hypot(*out.T)
        out /= lengths[:, None]
        ones, at = tree.query(shapely.points(here), "dwithin", reach)
        off = np.array(places)[at] - here[ones]
        past = -(off * out[ones]).sum(axis=1)
        aside = np.abs(off[:, 0] * out[ones, 1] - off[:, 1] * out[ones, 0])
        behind = (aside <= SNAP) & (past > SNAP) & (past < lengths[ones] - SNAP)
        nearest: dict[int, tuple[float, Point]] = {}
        for pair in np.flatnonzero(behind).tolist():
            crease, corner = int(ones[pair]), int(at[pair])
            if _leaves_card(out[crease], ways[corner]):
                this = float(past[pair]), places[corner]
                nearest[crease] = min(nearest.get(crease, this), this)
        for crease, (_, place) in nearest.items():
            ends.setdefault(crease, [None, None])[side] = place
    count = 0
    for crease, (start, end) in ends.items():
        edge = edges[creases[crease]]
        segment = Segment(start or edge.segment.start, end or edge.segment.end)
        found[creases[crease]] = along(edge, segment)
        count += (start is not None) + (end is not None)
    return found, count


def _corners(edges: Sequence[Edge]) -> Mapping[Point, list[Point]]:
    """Where ends of cuts meet, with the directions in which these leave."""
    nodes = Nodes(SNAP)
    leaving: dict[int, list[Point]] = defaultdict(list)
    for edge in edges:
        if edge.kind is Kind.CUT:
            segment = edge.segment
            (x, y) = segment.direction_at(1.0)
            leaving[nodes.find(segment.start)].append(segment.direction_at(0.0))
            leaving[nodes.find(segment.end)].append((-x, -y))
    return {nodes.points[node]: ways for node, ways in leaving.items() if len(ways) > 1}


def _leaves_card(out: NDArray[np.float64], ways: Sequence[Point]) -> bool:
    """Whether a line that goes on beyond a corner has cuts on both sides, or one ahead."""
    ux, uy = out.tolist()
    across = [ux * y - uy * x for x, y in ways]
    on = [ux * x + uy * y for x, y in ways]
    straight = [abs(each) <= STEEP for each in across]
    if any(is_on and forward < 0.0 for is_on, forward in zip(straight, on, strict=True)):
        return False
    return any(straight) or (min(across) < 0.0 < max(across))
