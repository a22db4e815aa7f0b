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
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Point
from cutlayers.net.folding import folding_order
from cutlayers.net.model import Net
from cutlayers.net.panel import Hinge
from cutlayers.net.space import Pose, turned_about

Array = NDArray[np.float64]

ROUNDS = 60

SETTLED = 1e-10
"""Radians; a smaller step is the last one."""

STEEPEST = 0.3
"""Radians that a hinge turns in one round at most."""

FAINT = 1e-4
"""Share of the strongest way of moving below which a way is none."""

HALF_TURN = 1e-6
"""Degrees; −180 is 180 but for rounding."""

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


@frozen
class Tree:
    """How the panels of a net carry one another: carrier, carried, the hinge by its number, its
    crease with the carrier on its left, and that one's direction; and which hinges close rings."""

    net: Net
    branches: tuple[tuple[str, str, int, Segment, Point], ...]
    rings: tuple[int, ...]
    carried: Mapping[str, frozenset[int]]
    """Panel → the numbers of the hinges that carry it."""

    def poses(self, angles: Sequence[float]) -> dict[str, Pose]:
        """Where the panels lie at these angles of the hinges, the root kept still."""
        poses = {self.net.root.name: Pose()}
        for carrier, carried, hinge, edge, along in self.branches:
            poses[carried] = poses[carrier].after(turned_about(edge.start, along, angles[hinge]))
        return poses

    def between(self, one: str, other: str) -> frozenset[int]:
        """The hinges on the way from one panel to another."""
        return self.carried[one] ^ self.carried[other]

    @property
    def ring_pairs(self) -> list[Pair]:
        """What has to hold for the rings to close, in their order."""
        hinges = [self.net.hinges[index] for index in self.rings]
        return [
            Pair(h.first, h.edge.start, h.edge.end, h.second, h.edge.start, h.edge.end, place=True)
            for h in hinges
        ]


def tree_of(net: Net) -> Tree:
    """The tree of a net from its first panel outwards. Raises NetError where no hinge connects
    all panels."""
    order, loops = folding_order(net)
    number = {id(hinge): index for index, hinge in enumerate(net.hinges)}
    branches = []
    carried = {net.root.name: frozenset[int]()}
    for carrier, beyond, hinge in order:
        assert hinge is not None, "a net that was drawn has no joints"
        edge = hinge.edge if hinge.first == carrier else hinge.edge.reversed()
        index = number[id(hinge)]
        branches.append((carrier, beyond, index, edge, edge.direction_at(0.5)))
        carried[beyond] = carried[carrier] | {index}
    return Tree(net, tuple(branches), tuple(number[id(hinge)] for hinge in loops), carried)


def with_angles(net: Net, angles: Sequence[float]) -> Net:
    """The net with its hinges' angles, in degrees, in the order of its hinges."""
    hinges = zip(net.hinges, angles, strict=True)
    return replace(net, hinges=tuple(replace(each, fold_deg=angle) for each, angle in hinges))


def meeting_angles(
    tree: Tree,
    begin: Sequence[float],
    pairs: Sequence[Pair],
    fixed: Sequence[bool],
    alike: Sequence[int] | None = None,
) -> tuple[float, ...]:
    """The angles in degrees next to those that hinges begin with at which pairs meet; `fixed`
    ones are kept, and those of one number in `alike` turn alike. Those of hinges that close rings
    follow from the others."""
    angles = list(begin)
    kinds = [slot if alike is None else alike[b[2]] for slot, b in enumerate(tree.branches)]
    together = np.equal.outer(kinds, sorted(set(kinds))).astype(float)
    still = [slot for slot, branch in enumerate(tree.branches) if fixed[branch[2]]]
    for _ in range(ROUNDS if pairs else 0):
        misses, slopes = _misses(tree, angles, pairs)
        turns, turning = _ring_turns(tree, angles, fixed, alike)
        misses, slopes = np.concatenate([misses, turns]), np.concatenate([slopes, turning])
        slopes[:, still] = 0.0
        step = -together @ np.linalg.pinv(slopes @ together, rcond=FAINT) @ misses
        most = float(np.abs(step).max(initial=0.0))
        step *= min(1.0, STEEPEST / max(most, STEEPEST))
        for branch, radians in zip(tree.branches, step, strict=True):
            angles[branch[2]] += math.degrees(radians)
        if most < SETTLED:
            break
    return with_rings(tree, [math.remainder(angle, 360.0) for angle in angles], fixed)


def with_rings(tree: Tree, angles: Sequence[float], fixed: Sequence[bool]) -> tuple[float, ...]:
    """The angles with those of hinges that close rings as the others leave them."""
    found = list(angles)
    poses = tree.poses(angles)
    for index in tree.rings:
        if not fixed[index]:
            found[index] = turn_between(tree.net.hinges[index], poses)
    return tuple(180.0 if abs(angle + 180.0) < HALF_TURN else angle for angle in found)


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


def _ring_turns(
    tree: Tree, angles: Sequence[float], fixed: Sequence[bool], alike: Sequence[int] | None
) -> tuple[Array, Array]:
    """By how much hinges that close rings miss the angle that is fixed, or that of a hinge which
    turns alike, in radians, and how that changes with each hinge of the tree."""
    poses = tree.poses(angles)
    axes = np.array([poses[near].direction((*way, 0.0)) for near, _, _, _, way in tree.branches])
    slots = {branch[2]: slot for slot, branch in enumerate(tree.branches)}
    misses, slopes = [], []
    for index in tree.rings:
        hinge = tree.net.hinges[index]
        like = [i for i in slots if alike is not None and alike[i] == alike[index]]
        if not fixed[index] and not like:
            continue
        to = index if fixed[index] else like[0]
        axis = np.array(poses[hinge.first].direction((*hinge.edge.direction_at(0.5), 0.0)))
        slope = axes @ axis
        for i, slot in slots.items():
            slope[slot] *= (i in tree.carried[hinge.second]) - (i in tree.carried[hinge.first])
        if to in slots:
            slope[slots[to]] -= 1.0
        turn = turn_between(hinge, poses) - angles[to]
        misses.append(math.radians(math.remainder(turn, 360.0)))
        slopes.append(slope)
    return np.array(misses), np.array(slopes).reshape(len(misses), len(slots))


def _misses(tree: Tree, angles: Sequence[float], pairs: Sequence[Pair]) -> tuple[Array, Array]:
    """By how much pairs miss, and how that changes with each hinge of the tree, per radian."""
    poses = tree.poses(angles)
    axes = np.array([poses[near].direction((*way, 0.0)) for near, _, _, _, way in tree.branches])
    places = np.array([poses[near].place(edge.start) for near, _, _, edge, _ in tree.branches])
    slots = [branch[2] for branch in tree.branches]

    def line(panel: str, start: Point, end: Point) -> tuple[Array, Array, Array]:
        pose, chain = poses[panel], tree.carried[panel]
        along = np.array([1.0 if slot in chain else 0.0 for slot in slots])
        return np.array(pose.place(start)), np.array(pose.place(end)), along

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
