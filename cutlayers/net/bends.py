"""Panels that bend without a crease, on their way from one layer to another.

A tongue that goes through a slit, or an end that hooks into another, leaves the layer of its panel
and lies on another one beyond. Nothing is scored there: the card gives over a short *ramp*. For
folding, the panel is cut along both ends of the ramp into flat parts, as `Net.facets` has it; the
blank stays whole.

Source: two turns of one angle, against each other, move what lies beyond by the ramp's length
times the sine of it.
"""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import replace

from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.strokes import Operation
from cutlayers.geometry.transforms import Point
from cutlayers.net.edges import COINCIDENT, same_place
from cutlayers.net.model import Net
from cutlayers.net.panel import Hinge, Panel
from cutlayers.telling.errors import NetError

STEEPEST = 0.5
"""Sine of the steepest ramp: at more than 30° card would rather crease than bend."""


@frozen
class Ramp:
    """Where a panel bends, across it from border to border: `near` begins the ramp, `far` ends it,
    both with the part that stays on their left. What lies beyond is moved `inward` mm to the
    inside of the panel, or to its outside where that is negative."""

    panel: str
    near: Segment
    far: Segment
    inward: float


def ramp_length(layers: float, caliper: float, play: float) -> float:
    """How long a ramp over so many calipers is on the flat, `play` mm more than it must be."""
    return layers * caliper / STEEPEST + play


def ramp_reach(long: float, inward: float) -> float:
    """How far a ramp of that length reaches along its panel once it is bent, in mm."""
    return math.sqrt(long**2 - inward**2)


def bent(net: Net, *ramps: Ramp) -> Net:
    """The net with panels cut into flat parts along their ramps, to be folded in its stead.

    The part that stays keeps the panel's name, what is worked inside and what hangs on it. Raises
    NetError where a ramp does not go across its panel, or is shorter than what it rises.
    """
    for ramp in ramps:
        direction = ramp.near.direction_at(0.5)
        across = (ramp.far.start[0] - ramp.near.start[0], ramp.far.start[1] - ramp.near.start[1])
        long = abs(direction[0] * across[1] - direction[1] * across[0])
        if abs(ramp.inward) >= long:
            raise NetError(f"panel {ramp.panel!r} cannot rise {ramp.inward:g} mm over {long:g} mm")
        turn = math.degrees(math.asin(ramp.inward / long))
        middle, end = f"{ramp.panel} bend", f"{ramp.panel} end"
        net = _cut(net, ramp.panel, middle, ramp.near, turn)
        net = _cut(net, middle, end, ramp.far, -turn)
    return net


def ramps(net: Net) -> frozenset[str]:
    """The names of the ramps of a net cut into flat parts: what turns one way on the one side of a
    part and the other way on the other."""
    turns: dict[str, list[float]] = defaultdict(list)
    for hinge in net.hinges:
        if hinge.operation is Operation.DRAW:
            turns[hinge.first].append(hinge.fold_deg)
            turns[hinge.second].append(hinge.fold_deg)
    return frozenset(name for name, each in turns.items() if min(each) < 0 < max(each))


def _cut(net: Net, name: str, beyond: str, along: Segment, turn_deg: float) -> Net:
    panel = net.panel(name)
    stays = _left_of(panel, along, beyond)
    rest = _left_of(panel, along.reversed(), name)
    gone = replace(rest, name=beyond, features=(), lands_on=None)
    hinge = Hinge(name, beyond, along, turn_deg, Operation.DRAW, 0.0)
    panels = tuple(stays if each is panel else each for each in net.panels)
    return replace(net, panels=(*panels, gone), hinges=(*net.hinges, hinge))


def _left_of(panel: Panel, along: Segment, edge: str) -> Panel:
    """The part of a panel on the left of a line across it, which becomes the edge of that name."""
    start, end = _on_border(panel, along.start), _on_border(panel, along.end)
    count = len(panel.edges)
    ring: list[tuple[Point, float, str]] = [(along.start, 0.0, edge)]
    ring.append((along.end, panel.outline.bulges[end], panel.edges[end]))
    index = end
    while index != start:
        index = (index + 1) % count
        ring.append(
            (panel.outline.vertices[index], panel.outline.bulges[index], panel.edges[index])
        )
    kept = [
        each
        for each, following in zip(ring, [*ring[1:], ring[0]], strict=True)
        if not same_place(each[0], following[0])
    ]
    vertices, bulges, names = zip(*kept, strict=True)
    return replace(panel, outline=Path(vertices, bulges, closed=True), edges=names)


def _on_border(panel: Panel, point: Point) -> int:
    """The index of the straight edge that a point lies on."""
    for index, edge in enumerate(panel.outline.segments):
        if edge.bulge:
            continue
        ux, uy = edge.direction_at(0.5)
        dx, dy = point[0] - edge.start[0], point[1] - edge.start[1]
        ahead = ux * dx + uy * dy
        if abs(ux * dy - uy * dx) <= COINCIDENT and -COINCIDENT <= ahead <= edge.chord + COINCIDENT:
            return index
    raise NetError(f"a bend does not end on the border of {panel.name!r}")
