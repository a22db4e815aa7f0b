"""The angles of hinges at which sides of a net meet and rings of hinges close.

Every side that meets another has to run as that one does, opposite, which does not ask how thick
card steps the creases; rings of hinges have to close, and sides that lie apart on the sheet, as a
tube's seam, have to come to one place.

Source: least squares by Gauss and Newton with Moore and Penrose's inverse, so that hinges of which
nothing is said keep the angle they begin with; a point p beyond a hinge moves by ω × (p − o) with
its angle, a direction d by ω × d. A pair that will not meet loses weight from round to round (M.
Cauchy's robust estimate), so that a wrong one does not spoil the others.

This module needs numpy.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from cutlayers.frozen import frozen
from cutlayers.geometry.transforms import Point
from cutlayers.net.folding import Branch, folding_order, poses_along
from cutlayers.net.model import Hinge, Net
from cutlayers.net.space import Pose

Array = NDArray[np.float64]

ROUNDS = 60

SETTLED = 1e-10
"""Radians; a smaller step is the last one."""

STEEPEST = 0.3
"""Radians that a hinge turns in one round at most."""

FAINT = 1e-4
"""Share of the strongest way of moving below which a way is none."""

ASTRAY = 0.05
"""Radians; a pair of sides that runs so far apart weighs half."""


@frozen
class Pair:
    """A line on one panel and one on another that have to run alike, from where they meet; with
    `place` their ends have to come to one place too."""

    one: str
    start: Point
    end: Point
    other: str
    other_start: Point
    other_end: Point
    place: bool = False

    @property
    def length(self) -> float:
        """Of the first line, in mm."""
        return math.dist(self.start, self.end)


def with_angles(net: Net, angles: Sequence[float]) -> Net:
    """The net with its hinges' angles, in degrees, in the order of its hinges."""
    hinges = zip(net.hinges, angles, strict=True)
    return replace(net, hinges=tuple(replace(each, fold_deg=angle) for each, angle in hinges))


def poses_of(net: Net) -> dict[str, Pose]:
    """Where the panels of a net lie with its root kept still."""
    tree, _ = folding_order(net)
    return poses_along(net, tree, 1.0, Pose())


def ring_pairs(net: Net) -> list[Pair]:
    """What has to hold for the rings of a net's hinges to close."""
    _, loops = folding_order(net)
    return [
        Pair(h.first, h.edge.start, h.edge.end, h.second, h.edge.start, h.edge.end, place=True)
        for h in loops
    ]


def meeting_angles(
    net: Net, begin: Sequence[float], pairs: Sequence[Pair], fixed: Sequence[bool]
) -> tuple[float, ...]:
    """The angles in degrees next to those that hinges begin with at which pairs meet; `fixed`
    ones are kept. Those of hinges that close rings follow from the others."""
    tree, loops = folding_order(net)
    number = {id(hinge): index for index, hinge in enumerate(net.hinges)}
    order = [number[id(hinge)] for _, _, hinge in tree if hinge is not None]
    chains = _chains(net, tree)
    angles = list(begin)
    still = [slot for slot, index in enumerate(order) if fixed[index]]
    if pairs:
        for _ in range(ROUNDS):
            poses = poses_of(with_angles(net, angles))
            misses, slopes = _misses(poses, tree, chains, pairs)
            slopes[:, still] = 0.0
            step = -np.linalg.pinv(slopes, rcond=FAINT) @ misses
            most = float(np.abs(step).max(initial=0.0))
            step *= min(1.0, STEEPEST / max(most, STEEPEST))
            for index, radians in zip(order, step, strict=True):
                angles[index] += math.degrees(radians)
            if most < SETTLED:
                break
    angles = [math.remainder(angle, 360.0) for angle in angles]
    poses = poses_of(with_angles(net, angles))
    for hinge in loops:
        index = number[id(hinge)]
        if not fixed[index]:
            angles[index] = turn_between(hinge, poses)
    return tuple(180.0 if abs(angle + 180.0) < 1e-6 else angle for angle in angles)


def turn_between(hinge: Hinge, poses: Mapping[str, Pose]) -> float:
    """By how many degrees the second panel of a hinge is turned against the first about it."""
    first, second = poses[hinge.first], poses[hinge.second]
    axis = np.array(first.direction((*hinge.edge.direction_at(0.5), 0.0)))
    one, other = np.array(first.normal), np.array(second.normal)
    return math.degrees(math.atan2(float(axis @ np.cross(one, other)), float(one @ other)))


def astray(poses: Mapping[str, Pose], pair: Pair) -> tuple[float, float]:
    """How far the ends of two lines lie apart in mm, and their directions in radians."""
    starts = [poses[pair.one].place(pair.start), poses[pair.other].place(pair.other_start)]
    ends = [poses[pair.one].place(pair.end), poses[pair.other].place(pair.other_end)]
    one, other = (np.array(end) - np.array(start) for start, end in zip(starts, ends, strict=True))
    cosine = float(one @ other) / float(np.linalg.norm(one) * np.linalg.norm(other))
    return max(math.dist(*starts), math.dist(*ends)), math.acos(max(-1.0, min(1.0, cosine)))


def _chains(net: Net, tree: Sequence[Branch]) -> dict[str, Array]:
    """For each panel which hinges of the tree carry it: 1 or 0."""
    own = iter(np.eye(len(tree)))
    chains = {net.root.name: np.zeros(len(tree))}
    for carrier, carried, _ in tree:
        chains[carried] = chains[carrier] + next(own)
    return chains


def _misses(
    poses: Mapping[str, Pose],
    tree: Sequence[Branch],
    chains: Mapping[str, Array],
    pairs: Sequence[Pair],
) -> tuple[Array, Array]:
    """By how much pairs miss, and how that changes with each hinge of the tree, per radian."""
    edges = [
        (poses[near], hinge.edge if hinge.first == near else hinge.edge.reversed())
        for near, _, hinge in tree
        if hinge is not None
    ]
    axes = np.array([pose.direction((*edge.direction_at(0.5), 0.0)) for pose, edge in edges])
    places = np.array([pose.place(edge.start) for pose, edge in edges])

    def line(panel: str, start: Point, end: Point) -> tuple[Array, Array, Array]:
        pose = poses[panel]
        return np.array(pose.place(start)), np.array(pose.place(end)), chains[panel]

    rows, slopes = [], []
    for pair in pairs:
        a0, a1, along = line(pair.one, pair.start, pair.end)
        b0, b1, back = line(pair.other, pair.other_start, pair.other_end)
        one = (a1 - a0) / np.linalg.norm(a1 - a0)
        other = (b1 - b0) / np.linalg.norm(b1 - b0)
        moved = along[:, None] * np.cross(axes, one) - back[:, None] * np.cross(axes, other)
        weight = 1.0 / math.hypot(1.0, float(np.linalg.norm(one - other)) / ASTRAY)
        if pair.place:
            weight = 1.0
            for here, there in ((a0, b0), (a1, b1)):
                rows.append((here - there) / pair.length)
                slopes.append(
                    (
                        along[:, None] * np.cross(axes, here - places)
                        - back[:, None] * np.cross(axes, there - places)
                    )
                    / pair.length
                )
        rows.append(weight * (one - other))
        slopes.append(weight * moved)
    return np.concatenate(rows), np.concatenate([each.T for each in slopes])
