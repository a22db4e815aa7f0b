"""A flat net that is to be folded up, and what comes of the angles of an attempt.

This module needs shapely and numpy.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence, Set
from dataclasses import replace

import numpy as np

from cutlayers.bringing.landing import (
    ALONG,
    COVERED,
    Shapes,
    angles_onto,
    covered,
    landings,
    meets,
    passing,
    shapes_of,
)
from cutlayers.bringing.meeting_angles import Tree, astray, tree_of
from cutlayers.bringing.panels import FlatNet
from cutlayers.bringing.sides import Sheet, reach, sheet_of
from cutlayers.frozen import frozen
from cutlayers.net.model import Net
from cutlayers.net.space import Pose, dot, turned_about

CLOSED = 3.0
"""mm; sides that are farther apart have not met, and rings that gape by more do not close: card of
a millimetre steps its creases by one or two."""

LEAST_UNSEEN = 0.02
"""mm; an angle that was solved is taken for a round one where that moves its panel less."""

OVER = 165.0
"""Degrees; a fold by more lays one panel on another, which is no way for sides to meet."""

BETTER = 0.1
"""Share of a panel by which it has to lie better than at an angle that is nearer."""

PAGE = 0.9
"""Share of a panel that another is as large as at least to be a page like it, not a tab."""

STRAIGHT_ON = 2.0
"""Degrees the wrong way that a tab which goes straight on may be drawn."""

ASKEW = 0.2
"""Sine, about, of the angle between axes from which they are clearly not in one plane."""

LEANING = 4.0
"""Degrees; planes that are turned more against each other do not lie face to face."""

EXACT = 1e-6
"""Degrees; what is nearer is the rounding of it."""


@frozen
class Tried:
    """Angles of one attempt, how far in mm sides that meet lie apart, which hinges something
    tests, and whether rings close and nothing passes through anything."""

    angles: tuple[float, ...]
    gap: float
    tested: frozenset[int]
    fits: bool


@frozen
class Case:
    """A net to be folded up, with its largest panel first, and what is given of its hinges."""

    net: Net
    tree: Tree
    sheet: Sheet
    shapes: Shapes
    given: tuple[float | None, ...]
    signs: tuple[int, ...]

    @property
    def fixed(self) -> tuple[bool, ...]:
        """Which hinges have their angle from the drawing."""
        return tuple(angle is not None for angle in self.given)

    def all_at(self, angle: float) -> list[float]:
        """An angle for all hinges but those given."""
        pairs = zip(self.given, self.signs, strict=True)
        return [sign * angle if given is None else given for given, sign in pairs]


def case_of(flat: FlatNet, way: int = 1) -> Case:
    """A net that was drawn, made ready; folds of which nothing is said are mountains, or with −1
    valleys. Raises NetError where no hinge connects all panels."""
    largest = max(flat.net.panels, key=lambda panel: panel.outline.area)
    panels = (largest, *(panel for panel in flat.net.panels if panel is not largest))
    net = replace(flat.net, panels=panels)
    given = tuple(float(each) if isinstance(each, int | float) else None for each in flat.given)
    signs = tuple(_way(each) or way for each in flat.given)
    return Case(net, tree_of(net), sheet_of(net), shapes_of(net), given, signs)


def mostly(flat: FlatNet) -> int:
    """How many folds more are said to be mountains than valleys."""
    return sum(map(_way, flat.given))


def _way(given: float | str | None) -> int:
    """1 for a mountain, −1 for a valley, 0 where it is not said."""
    if isinstance(given, str):
        return {"mountain": 1, "valley": -1}.get(given, 0)
    return 0 if not given else int(math.copysign(1, given))


def snapped(case: Case, hinge: int, angle: float, unseen: float) -> float:
    """An angle, or the multiple of 15° that moves the panel beyond the hinge by no more than so
    many mm."""
    near = round(angle / 15.0) * 15.0
    each = case.net.hinges[hinge]
    far = min(reach(case.net.panel(name), each) for name in (each.first, each.second))
    return near if math.radians(abs(angle - near)) * far < unseen else angle


def landed(
    case: Case, angles: Sequence[float], held: frozenset[int], unseen: float = LEAST_UNSEEN
) -> tuple[float, ...]:
    """The angles with what hangs free laid on the panel that it reaches, from the inside outwards;
    what reaches none stays as it was."""
    found = list(angles)
    for carrier, carried, index, edge, along in case.tree.branches:
        if index in held or index in case.tree.rings or case.fixed[index]:
            continue
        if len(case.sheet.beyond[index, carrier]) > 1:
            continue
        others = [p.name for p in case.net.panels if p.name not in (carrier, carried)]
        poses = case.tree.poses(found)
        hinge = case.net.hinges[index]
        turns = angles_onto(poses, hinge, carrier, others)
        ways = {
            round(way, 6): way
            for turn in turns.values()
            for half in (0.0, 180.0)
            for way in (math.remainder(turn + half, 360.0),)
        }
        nearest = sorted(ways.values(), key=lambda way: abs(way - angles[index]))
        best = 0.0
        for way in (*nearest, angles[index]):
            if way * case.signs[index] < -STRAIGHT_ON or abs(way) > OVER:
                continue
            poses[carried] = poses[carrier].after(turned_about(edge.start, along, way))
            along_it = (q for q, turn in turns.items() if _halves_apart(way, turn) < LEANING)
            share = max((covered(case.shapes, poses, carried, q) for q in along_it), default=0.0)
            if share >= COVERED and share > best + BETTER:
                best, found[index] = share, snapped(case, index, way, unseen)
    return tuple(found)


def _halves_apart(one: float, other: float) -> float:
    """How many degrees one plane about an axis is turned against another."""
    return abs(math.remainder(one - other, 180.0))


def judged(case: Case, angles: tuple[float, ...]) -> Tried:
    """What comes together at these angles, and what passes through what.

    That a ring closes says little, since most can at many angles; at right ones it is no chance.
    Pages of one size in a row come round to each other without anything that holds them there.
    """
    strip = _is_strip(case.net)
    tree = case.tree
    poses = tree.poses(angles)
    gap, fits = 0.0, True
    given = {index for index, fixed in enumerate(case.fixed) if fixed}
    tested: set[int] = set()
    for index, ring in zip(tree.rings, tree.ring_pairs, strict=True):
        off, turned = astray(poses, ring)
        gap = max(gap, off)
        fits = fits and off <= CLOSED and turned <= ALONG
        round_it = {index, *tree.between(ring.one, ring.other)}
        right = all(abs(math.remainder(angles[each], 90.0)) < EXACT for each in round_it)
        if right and any(abs(angles[each]) > EXACT for each in round_it):
            tested |= round_it
    for one, other, _, off in meets(case.sheet, poses):
        between = tree.between(one, other)
        halves = len(between) == 1 and all(abs(angles[index]) > OVER for index in between)
        if off <= CLOSED and not halves:
            gap = max(gap, off)
            tested |= set() if strip else between
    for one, other, share in landings(case.shapes, poses):
        alike = share > PAGE and case.sheet.area[one] > PAGE * case.sheet.area[other]
        # A double wall looks the other way; what looks the same way has been rolled up.
        rolled = alike and dot(poses[one].normal, poses[other].normal) > 0
        fits = fits and not rolled
        tested |= tree.between(one, other)
    for index, ring in zip(tree.rings, tree.ring_pairs, strict=True):
        round_it = {index, *tree.between(ring.one, ring.other)}
        if _ring_says(case, poses, round_it - tested - given):
            tested |= round_it
    fits = fits and not passing(case.net, poses, case.shapes)
    return Tried(angles, gap, frozenset(tested), fits)


def _ring_says(case: Case, poses: Mapping[str, Pose], hinges: Set[int]) -> bool:
    """Whether the angles of some hinges of a ring follow from those of its others: of three at most
    that do not lie in one plane, since turns about such do not add up to none."""
    if len(hinges) > 3:
        return False
    each = [case.net.hinges[index] for index in hinges]
    axes = [poses[h.first].direction((*h.edge.direction_at(0.5), 0.0)) for h in each]
    return len(axes) == 0 or float(np.linalg.svd(np.array(axes), compute_uv=False)[-1]) > ASKEW


def _is_strip(net: Net) -> bool:
    """Whether all creases of a net are parallel, and none holds another at its angle."""
    ways = [hinge.edge.direction_at(0.5) for hinge in net.hinges]
    return all(abs(x * ways[0][1] - y * ways[0][0]) < ALONG for x, y in ways)
