"""Nets of a drawing that are one net several times over.

Two nets are alike where a motion in the plane, a turn and a shift, lays all corners and middles of
arcs of the one, panel borders and features too, on those of the other. A mirrored one is another
net: its outside is the other face of the card.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right, insort
from collections import defaultdict
from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from cutlayers.bringing.panels import FlatNet
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.net.model import Net

SAME = 0.1
"""mm; drawn copies miss by less. Half of what a hand cuts off, common practice, no source."""

Points = NDArray[np.float64]


def alike(nets: Sequence[FlatNet]) -> tuple[tuple[FlatNet, int], ...]:
    """The different nets in the order in which they were drawn, each with how often it is there."""
    found: list[tuple[FlatNet, int]] = []
    # Only nets of one make whose lines are as long are laid on each other, of a thousand a few.
    makes: dict[tuple[object, ...], list[tuple[float, int]]] = defaultdict(list)
    for flat in nets:
        lengths, own = makes[_make(flat)], math.fsum(path.length for path in _paths(flat.net))
        slack = 2 * SAME * len(_points(flat.net))
        near = lengths[bisect_left(lengths, (own - slack, 0)) :]
        near = near[: bisect_right(near, (own + slack, len(nets)))]
        for index in sorted(index for _, index in near):
            first, count = found[index]
            if _alike(first.net, flat.net):
                found[index] = (first, count + 1)
                break
        else:
            insort(lengths, (own, len(found)))
            found.append((flat, 1))
    return tuple(found)


def _make(flat: FlatNet) -> tuple[object, ...]:
    """What alike nets have the same of, to the letter."""
    net = flat.net
    hinges = sorted(
        (hinge.operation.value, str(given))
        for hinge, given in zip(net.hinges, flat.given, strict=True)
    )
    works = sorted(each.work.value for panel in net.panels for each in panel.features)
    return len(net.panels), tuple(hinges), tuple(works), len(_points(net))


def _alike(one: Net, other: Net) -> bool:
    edges = [segment for panel in one.panels for segment in panel.outline.segments]
    longest = max(edges, key=lambda segment: segment.chord)
    here, there = _points(one), _points(other)
    return any(
        _lies_on(move.apply_all(map(tuple, here.tolist())), there) for move in _onto(longest, other)
    )


def _onto(edge: Segment, net: Net) -> Iterator[Transform]:
    """The motions that lay an edge on an edge of a net that is as long, and as curved."""
    for panel in net.panels:
        for segment in panel.outline.segments:
            if abs(segment.chord - edge.chord) <= SAME and (
                abs(segment.bulge - edge.bulge) * edge.chord / 2 <= SAME
            ):
                yield Transform.onto(edge.start, edge.end, segment.start, segment.end)


def _points(net: Net) -> Points:
    return np.array([point for path in _paths(net) for point in _marks(path)])


def _paths(net: Net) -> Iterator[Path]:
    for panel in net.panels:
        yield panel.outline
        yield from (feature.path for feature in panel.features)


def _marks(path: Path) -> Iterator[Point]:
    for segment in path.segments:
        yield segment.start
        if segment.bulge:
            yield segment.point_at(0.5)
    if not path.closed:
        yield path.end


def _lies_on(points: Sequence[Point], others: Points) -> bool:
    """Whether each point lies on one of the others, and each of these has one on it."""
    own = np.array(points)
    apart = np.hypot(*(own[:, None, :] - others[None, :, :]).transpose(2, 0, 1))
    return bool(max(apart.min(axis=0).max(), apart.min(axis=1).max()) <= 2 * SAME)
