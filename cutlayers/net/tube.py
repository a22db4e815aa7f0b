"""The creases that go round a tube: a ring of panels that a glue tab closes, all one way.

A carton, a sleeve and the skirt of a lid are tubes. An envelope is none: its tabs stand across its
one fold. A ring of two panels is none either, since those lie on each other, or bow as a pillow
pack's do; nor is a bag, whose gussets have creases that lie open.
"""

from __future__ import annotations

from collections import defaultdict

from cutlayers.net.model import Net
from cutlayers.net.panel import Hinge
from cutlayers.net.parts import joints

LEAST_PANELS = 3
"""Of a ring that stands open by itself."""

PARALLEL = 1e-3
"""Sine of the angle up to which two creases run one way."""


def tube_creases(net: Net) -> tuple[Hinge, ...]:
    """The creases round the first tube of a net, from its glue tab on; empty where it has none."""
    for panel in net.panels:
        if panel.lands_on is None or panel.name in net.joints:
            continue
        for hinge in net.hinges_of([panel.name]):
            ring = _ring(net, hinge, panel.name, panel.lands_on)
            if len(ring) >= LEAST_PANELS:
                return ring
    return ()


def _ring(net: Net, first: Hinge, tab: str, goal: str) -> tuple[Hinge, ...]:
    """The creases from a tab by its hinge to the panel that it lands on, all parallel and turned to
    one side; empty where there is no such way."""
    beside: dict[str, list[Hinge]] = defaultdict(list)
    for hinge in net.hinges:
        if hinge.fold_deg * first.fold_deg > 0 and parallel(hinge, first):
            beside[hinge.first].append(hinge)
            beside[hinge.second].append(hinge)
    joined: dict[str, list[str]] = defaultdict(list)
    for one, other in joints(net):
        joined[one].append(other)
        joined[other].append(one)
    ways: dict[str, tuple[Hinge, ...]] = {tab: (), _other(first, tab): (first,)}
    waiting = [_other(first, tab)] if beside[tab] else []
    while waiting:
        panel = waiting.pop(0)
        if panel == goal:
            return ways[panel]
        for hinge in beside[panel]:
            other = _other(hinge, panel)
            if other not in ways:
                ways[other] = (*ways[panel], hinge)
                waiting.append(other)
        for other in joined[panel]:
            if other not in ways:
                ways[other] = ways[panel]
                waiting.append(other)
    return ()


def _other(hinge: Hinge, panel: str) -> str:
    return hinge.second if hinge.first == panel else hinge.first


def parallel(one: Hinge, other: Hinge) -> bool:
    """Whether two straight creases run one way."""
    if one.edge.bulge or other.edge.bulge:
        return False
    (ax, ay), (bx, by) = one.edge.direction_at(0.5), other.edge.direction_at(0.5)
    return abs(ax * by - ay * bx) <= PARALLEL
