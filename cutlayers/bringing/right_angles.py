"""Fold-ups in which every crease stands at a right angle or stays flat.

Creases on one line fold alike. Most of a bag's are there to press it flat by, and stay flat in the
open one; those of a pop-up turn to both sides. Rings of hinges rule most ways out: lines are given
their angles one after the other, and what does not close a ring is not followed.

This module needs shapely and numpy.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence

from cutlayers.bringing.attempts import CLOSED, Case, Tried, judged, landed
from cutlayers.bringing.landing import ALONG
from cutlayers.bringing.meeting_angles import astray, turn_between
from cutlayers.net.panel import Hinge

IN_LINE = 0.8
"""mm; creases that lie so near to one line are one, and fold alike."""

ASKEW = 1.5
"""Degrees by which a hinge that closes a ring may miss its angle."""

MOST_LINES = 10
"""Lines of creases of which some are tried flat where no ring rules ways out."""

MOST_FLAT = 3
"""Lines that stay flat at most then."""

MOST_STEPS = 4000
"""Lines that are given an angle at most before the search is given up."""

MOST_LAID = 5000
"""Panels of all attempts together, four times as many as any style of ours needs: a net of which
every crease may fold both ways has thousands of attempts."""


def at_right_angles(case: Case) -> Iterator[Tried]:
    """Attempts at right angles, those with the fewest flat lines first; what hangs at an end by one
    crease is laid on what it reaches."""
    leaves = {
        index
        for index, hinge in enumerate(case.net.hinges)
        if any(len(case.net.hinges_of([name])) == 1 for name in (hinge.first, hinge.second))
    }
    lines = [
        line
        for line in lines_of(case.net.hinges)
        if not leaves.issuperset(line) and not any(case.fixed[index] for index in line)
    ]
    held = frozenset(range(len(case.net.hinges))) - leaves
    found = _closing(case, lines) if case.tree.rings else _with_few_flat(case, lines)
    for angles in itertools.islice(found, MOST_LAID // len(case.net.panels)):
        yield judged(case, landed(case, angles, held))


def _with_few_flat(case: Case, lines: Sequence[Sequence[int]]) -> Iterator[list[float]]:
    most = MOST_FLAT if len(lines) <= MOST_LINES else 0
    for count in range(1, most + 1):
        for flat in itertools.combinations(lines, count):
            angles = case.all_at(90.0)
            for index in itertools.chain.from_iterable(flat):
                angles[index] = 0.0
            yield angles


def _closing(case: Case, lines: Sequence[list[int]]) -> Iterator[list[float]]:
    """The angles at which all rings close: with all folds one way, and after them with both."""
    rings = [
        {index, *case.tree.between(pair.one, pair.other)}
        for index, pair in zip(case.tree.rings, case.tree.ring_pairs, strict=True)
    ]
    # Line after line so that the next ring is soon whole.
    order: list[list[int]] = []
    for ring in rings:
        order += [line for line in lines if ring & set(line) and line not in order]
    order += [line for line in lines if line not in order]
    seen: set[tuple[float, ...]] = set()
    for ways in ((1.0, 0.0), (1.0, -1.0, 0.0)):
        found = [
            angles for angles in _search(case, order, rings, ways) if tuple(angles) not in seen
        ]
        seen |= set(map(tuple, found))
        yield from sorted(found, key=lambda angles: sum(angle == 0.0 for angle in angles))


def _search(
    case: Case, order: Sequence[list[int]], rings: Sequence[set[int]], ways: Sequence[float]
) -> Iterator[list[float]]:
    begin = case.all_at(90.0)
    whole = [
        [
            number
            for number, ring in enumerate(rings)
            if ring & set(line) and not any(ring & set(later) for later in order[at + 1 :])
        ]
        for at, line in enumerate(order)
    ]
    steps = 0
    waiting: list[tuple[int, list[float]]] = [(0, begin)]
    while waiting and steps < MOST_STEPS:
        at, angles = waiting.pop()
        if at == len(order):
            yield angles
            continue
        steps += 1
        for way in reversed(ways):
            given = list(angles)
            for index in order[at]:
                given[index] = way * begin[index]
            if not whole[at] or _close(case, given, whole[at]):
                waiting.append((at + 1, given))


def _close(case: Case, angles: Sequence[float], rings: Sequence[int]) -> bool:
    """Whether these rings, by their place among all, close at these angles."""
    poses = case.tree.poses(angles)
    pairs = case.tree.ring_pairs
    for ring in rings:
        off, turned = astray(poses, pairs[ring])
        index = case.tree.rings[ring]
        miss = turn_between(case.net.hinges[index], poses) - angles[index]
        if off > CLOSED or turned > ALONG or abs(math.remainder(miss, 360.0)) > ASKEW:
            return False
    return True


def lines_of(hinges: Sequence[Hinge]) -> list[list[int]]:
    """The hinges by the straight line that their creases lie on."""
    lines: list[list[int]] = []
    # The longest first: its direction is the surest.
    for index in sorted(range(len(hinges)), key=lambda index: -hinges[index].edge.chord):
        for line in lines:
            edge = hinges[line[0]].edge
            ux, uy = edge.direction_at(0.5)
            off = [
                ux * (y - edge.start[1]) - uy * (x - edge.start[0])
                for x, y in (hinges[index].edge.start, hinges[index].edge.end)
            ]
            if max(map(abs, off)) < IN_LINE:
                line.append(index)
                break
        else:
            lines.append([index])
    return lines
