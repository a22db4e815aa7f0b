"""Fold angles that close a net whose sizes were rounded.

A style's fold angles belong to its exact sizes: a roof that is half a millimetre longer leans
otherwise. Card finds the angle by itself when it is folded; here it is found by Gauss-Newton
steps, each the smallest change of angles that closes all loops to first order.

What must meet: both ends of every hinge that closes a loop, and the corners of a glue tab with
the face of the panel that it lands on. Hinges that lie flat or are folded right over stay so.
Derivative: a point p carried by a hinge through a, about the unit vector u, moves by u × (p − a).
"""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Mapping, Sequence
from dataclasses import replace

from cutlayers.frozen import frozen
from cutlayers.geometry.transforms import Point
from cutlayers.net.folding import glued_apart, joined_to
from cutlayers.net.model import Net
from cutlayers.net.panel import Hinge
from cutlayers.net.space import Pose, Vector, cross, dot, minus, moved, turned_about

CLOSED = 1e-9
"""mm; loops that miss by less are closed."""

ROUNDS = 12
"""Gauss-Newton doubles the right digits each time; what needs more does not close."""

LEVER = 10.0
"""mm; an angle that is off counts like the gap that it makes at this distance."""

AXES: tuple[Vector, ...] = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))


@frozen
class _Way:
    """How a panel hangs on the root: hinges with the panel that carries each, from the root. One
    that a joint holds lies so many mm outside of a panel that it is `glued` to."""

    hinges: tuple[int, ...]
    carriers: tuple[str, ...]
    glued: tuple[str, float] | None = None


def settled(net: Net) -> Net:
    """The net with its hinges at angles at which its loops close, as nearly as they can.

    Nets without loops, and those that close already, come back unchanged. Curved hinges are not
    for this: rigid panels cannot fold along them.
    """
    ways, loops = _ways(net)
    angles = [hinge.fold_deg for hinge in net.hinges]
    tree = {index for way in ways.values() for index in way.hinges}
    free = [i for i in sorted(tree) if 0.0 < abs(angles[i]) < 180.0]
    residual, slopes = _misses(net, ways, loops, angles, free)
    if not free or not residual or max(map(abs, residual)) <= CLOSED:
        return net
    import numpy

    best = (max(map(abs, residual)), angles)
    for _ in range(ROUNDS):
        change, *_ = numpy.linalg.lstsq(numpy.array(slopes), -numpy.array(residual), rcond=1e-9)
        angles = list(angles)
        for index, turn in zip(free, change.tolist(), strict=True):
            angles[index] += math.degrees(turn)
        residual, slopes = _misses(net, ways, loops, angles, free)
        miss = max(map(abs, residual))
        if miss >= best[0]:
            break
        best = (miss, angles)
        if miss <= CLOSED:
            break
    return _with_angles(net, ways, loops, best[1])


def _with_angles(
    net: Net, ways: Mapping[str, _Way], loops: Sequence[int], angles: Sequence[float]
) -> Net:
    """The net with new angles; hinges that close loops take what their panels have."""
    poses = _poses(net, ways, angles)
    final = list(angles)
    for index in loops:
        hinge = net.hinges[index]
        measured = _angle_deg(hinge, poses)
        # Of ±180, which are one position, the net's own sign says which way it was folded.
        if abs(hinge.fold_deg) == 180.0 and abs(abs(measured) - 180.0) < 1e-6:
            measured = hinge.fold_deg
        final[index] = measured
    hinges = tuple(
        replace(hinge, fold_deg=angle) for hinge, angle in zip(net.hinges, final, strict=True)
    )
    return replace(net, hinges=hinges)


def _ways(net: Net) -> tuple[dict[str, _Way], list[int]]:
    ways = {net.root.name: _Way((), ())}
    queue = deque([net.root.name])
    used: set[int] = set()
    while queue:
        carrier = queue.popleft()
        for index, hinge in enumerate(net.hinges):
            if carrier not in (hinge.first, hinge.second):
                continue
            carried = hinge.second if hinge.first == carrier else hinge.first
            if carried not in ways:
                way = ways[carrier]
                ways[carried] = _Way((*way.hinges, index), (*way.carriers, carrier))
                used.add(index)
                queue.append(carried)
        joined = None if queue else joined_to(net, ways)
        if joined is not None:
            one, other = joined
            out = net.caliper * glued_apart(net, one, other)
            ways[other] = replace(ways[one], glued=(one, out))
            queue.append(other)
    return ways, [index for index in range(len(net.hinges)) if index not in used]


def _poses(net: Net, ways: Mapping[str, _Way], angles: Sequence[float]) -> dict[str, Pose]:
    poses: dict[str, Pose] = {}
    for name, way in ways.items():  # carriers come before what they carry
        if way.glued is not None:
            on, out = way.glued
            poses[name] = poses[on].after(Pose(origin=(0.0, 0.0, out)))
            continue
        if not way.hinges:
            poses[name] = Pose()
            continue
        index, carrier = way.hinges[-1], way.carriers[-1]
        start, along = _line(net.hinges[index], carrier)
        poses[name] = poses[carrier].after(turned_about(start, along, angles[index]))
    return poses


def _line(hinge: Hinge, carrier: str) -> tuple[Point, Point]:
    edge = hinge.edge if hinge.first == carrier else hinge.edge.reversed()
    return edge.start, edge.direction_at(0.5)


def _misses(
    net: Net,
    ways: Mapping[str, _Way],
    loops: Sequence[int],
    angles: Sequence[float],
    free: Sequence[int],
) -> tuple[list[float], list[list[float]]]:
    """What does not meet, in mm, and how each amount changes with each free angle in radians."""
    poses = _poses(net, ways, angles)
    columns = {index: column for column, index in enumerate(free)}
    residual: list[float] = []
    slopes: list[list[float]] = []

    def drift(panel: str, place: Vector) -> dict[int, Vector]:
        found = {}
        way = ways[panel]
        for index, carrier in zip(way.hinges, way.carriers, strict=True):
            if index in columns:
                start, (ux, uy) = _line(net.hinges[index], carrier)
                pose = poses[carrier]
                axis = pose.direction((ux, uy, 0.0))
                found[columns[index]] = cross(axis, minus(place, pose.place(start)))
        return found

    def add(amount: float, *parts: tuple[Mapping[int, Vector], Vector]) -> None:
        residual.append(amount)
        row = [0.0] * len(free)
        for drifts, along in parts:
            for column, way in drifts.items():
                row[column] += dot(way, along)
        slopes.append(row)

    def lie_flat(panel: str, point: Point, target: str, off: float = 0.0) -> None:
        """A point of a panel is to lie `off` mm in front of the plane of another."""
        place, plane = poses[panel].place(point), poses[target]
        height = plane.flat(place)[2]
        # The plane moves with that point of it which lies below the corner.
        foot = moved(place, plane.normal, -height)
        add(
            height - off,
            (drift(panel, place), plane.normal),
            (drift(target, foot), moved((0.0, 0.0, 0.0), plane.normal, -1.0)),
        )

    for index in loops:
        hinge = net.hinges[index]
        for end in (hinge.edge.start, hinge.edge.end):
            one, other = poses[hinge.first].place(end), poses[hinge.second].place(end)
            drifts = drift(hinge.first, one), drift(hinge.second, other)
            gap = minus(one, other)
            for axis, unit in enumerate(AXES):
                add(gap[axis], (drifts[0], unit), (drifts[1], moved((0.0, 0.0, 0.0), unit, -1.0)))
        if abs(hinge.fold_deg) == 180.0:
            (x, y), (ux, uy) = hinge.edge.point_at(0.5), hinge.edge.direction_at(0.5)
            lie_flat(hinge.second, (x + LEVER * uy, y - LEVER * ux), hinge.first)
    for panel in net.panels:
        if panel.lands_on in poses:
            off = -net.caliper if panel.under else net.caliper
            for corner in panel.outline.vertices:
                lie_flat(panel.name, corner, panel.lands_on, off)
    return residual, slopes


def _angle_deg(hinge: Hinge, poses: Mapping[str, Pose]) -> float:
    first, second = poses[hinge.first], poses[hinge.second]
    ux, uy = hinge.edge.direction_at(0.5)
    axis = first.direction((ux, uy, 0.0))
    turned = dot(axis, cross(first.normal, second.normal))
    return math.degrees(math.atan2(turned, dot(first.normal, second.normal)))
