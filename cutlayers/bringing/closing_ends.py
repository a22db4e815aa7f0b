"""Ends of a tube that fold in together, as those of a gable do.

A tube that its seam closes can be left with its ends straight on, flat creases and all. Where two
free sides of those ends lie opposite to each other, alike in length, the ends may be meant to close
until they meet: all creases between are solved together, from several beginnings, since a corner
can turn in or out. What closes by itself keeps its angles, and creases that are drawn alike fold
alike.

Source: `meeting_angles.py`, for rings of hinges and two sides that have to come to one place.

This module needs numpy.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import combinations
from random import Random

from cutlayers.bringing.attempts import CLOSED, EXACT, Case, Tried, judged
from cutlayers.bringing.landing import ALONG, COVERED, SHORT, landings
from cutlayers.bringing.meeting_angles import Pair, astray, meeting_angles
from cutlayers.net.space import dot

MOST_PAIRS = 3
"""Pairs of sides that are tried, the longest first."""

BEGINNINGS = 16
"""From which each pair is solved; one in five closes a gable. No source."""

TURNED = 60.0
"""Degrees by which creases are turned to begin with, at most."""

LIKE = 0.05
"""Share by which creases, and the panels beside them, that fold alike may differ in size."""

RIGHT_OVER = 6.0
"""Degrees; a crease that is solved so near to a half turn is folded right over: what layers lie
between, a drawing does not say."""

REOPENED = 15.0
"""Degrees by which what is folded right over is opened to see which way it came."""


def closing_ends(case: Case, open_ends: Tried) -> Tried | None:
    """The best attempt at closing the ends that an attempt leaves open: with the fewest creases
    that stay flat, which are drawn to be folded. None where none closes."""
    parts = _parts(case, open_ends)
    closed = _closed_by_themselves(case, open_ends, parts)
    if not closed:
        return None
    fast = [
        fixed or (parts[hinge.first] == parts[hinge.second] and parts[hinge.first] in closed)
        for fixed, hinge in zip(case.fixed, case.net.hinges, strict=True)
    ]
    still = next(name for name, part in parts.items() if part in closed)
    best, least = None, math.inf
    for pair in _opposite(case, open_ends, fast, still):
        for tried in _solved(case, open_ends, fast, pair):
            flat = sum(map(_is_flat, tried.angles))
            if flat < least:
                best, least = tried, flat
            if not flat:
                return tried
    return best


def _is_flat(angle: float) -> bool:
    return abs(angle) < RIGHT_OVER


def _parts(case: Case, tried: Tried) -> Mapping[str, int]:
    """Each panel's part of the net, which flat creases part from others."""
    number = {panel.name: at for at, panel in enumerate(case.net.panels)}
    for _ in case.net.panels:
        for hinge, angle in zip(case.net.hinges, tried.angles, strict=True):
            if abs(angle) > EXACT:
                least = min(number[hinge.first], number[hinge.second])
                number[hinge.first] = number[hinge.second] = least
    return number


def _closed_by_themselves(case: Case, tried: Tried, parts: Mapping[str, int]) -> set[int]:
    """The parts of which one panel lies on another."""
    lying = landings(case.shapes, case.tree.poses(tried.angles))
    return {
        parts[one] for one, other, share in lying if parts[one] == parts[other] and share >= COVERED
    }


def _opposite(case: Case, tried: Tried, fast: Sequence[bool], still: str) -> list[Pair]:
    """Free sides alike in length that lie opposite, of panels that both move against one that
    stays where it is, the longest first."""
    poses = case.tree.poses(tried.angles)
    loose = {index for index, each in enumerate(fast) if not each}
    free = [
        side
        for own in case.sheet.sides.values()
        for side in own
        if side.straight and not side.hinges and side.length > SHORT
        if case.tree.between(side.panel, still) & loose
    ]
    found = [
        Pair(one.panel, one.start, one.end, other.panel, other.end, other.start, place=True)
        for one, other in combinations(free, 2)
        if math.isclose(one.length, other.length, rel_tol=LIKE)
        and dot(poses[one.panel].normal, poses[other.panel].normal) < ALONG - 1.0
    ]
    return sorted(found, key=lambda pair: -pair.length)[:MOST_PAIRS]


def _solved(case: Case, tried: Tried, fast: Sequence[bool], pair: Pair) -> Iterator[Tried]:
    """Attempts that bring one pair of sides together, and close."""
    alike = _alike(case)
    rings = case.tree.ring_pairs
    random = Random(0)
    for _ in range(BEGINNINGS):
        turns = [random.uniform(-TURNED, TURNED) for _ in alike]
        begin = [
            angle if each else angle + turns[like]
            for angle, each, like in zip(tried.angles, fast, alike, strict=True)
        ]
        angles = meeting_angles(case.tree, begin, [*rings, pair], fast, alike)
        over = [abs(angle) > 180.0 - RIGHT_OVER for angle in angles]
        # Layers keep places apart, not directions: those are solved for once more by themselves.
        angles = meeting_angles(
            case.tree,
            [180.0 if right else angle for angle, right in zip(angles, over, strict=True)],
            [replace(ring, place=False) for ring in rings],
            [one or other for one, other in zip(fast, over, strict=True)],
            alike,
        )
        poses = case.tree.poses(angles)
        if max(astray(poses, each)[0] for each in (*rings, pair)) <= CLOSED:
            judgement = judged(case, _as_it_came(case, tried, angles, fast, alike))
            if judgement.fits:
                yield judgement


def _as_it_came(
    case: Case,
    tried: Tried,
    angles: Sequence[float],
    fast: Sequence[bool],
    alike: Sequence[int],
) -> tuple[float, ...]:
    """The angles with those of what is folded right over as they are when it is opened a little:
    a half turn either way is one place, but another order of layers."""
    over = {index for index, angle in enumerate(angles) if abs(angle) > 180.0 - EXACT}
    known = {index for index in over if not _is_flat(tried.angles[index])}
    if not known:
        return tuple(angles)
    first = alike[min(known)]
    opening = {index for index in known if alike[index] == first}
    ways = {index: math.copysign(1.0, tried.angles[index]) for index in known}
    begin = [
        ways[index] * (180.0 - REOPENED) if index in opening else angle
        for index, angle in enumerate(angles)
    ]
    held = [each or index in opening for index, each in enumerate(fast)]
    opened = meeting_angles(case.tree, begin, case.tree.ring_pairs, held, alike)
    return tuple(
        math.copysign(180.0, opened[index]) if index in over else angle
        for index, angle in enumerate(angles)
    )


def _alike(case: Case) -> list[int]:
    """Of each hinge the first one that is like it, as are the panels on both of its sides."""
    area = case.sheet.area
    looks = [
        (hinge.edge.chord, *sorted((area[hinge.first], area[hinge.second])))
        for hinge in case.net.hinges
    ]
    return [next(at for at, other in enumerate(looks) if _is_like(look, other)) for look in looks]


def _is_like(one: Sequence[float], other: Sequence[float]) -> bool:
    return all(math.isclose(a, b, rel_tol=LIKE) for a, b in zip(one, other, strict=True))
