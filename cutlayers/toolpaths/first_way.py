"""A first way through many stops, to be improved: the shortest links are joined first.

Source: greedy edges; Bentley, "Fast algorithms for geometric traveling salesman problems", 1992.
"""

from __future__ import annotations

from collections.abc import Sequence

from cutlayers.toolpaths.nearby import Near, nearest_points
from cutlayers.toolpaths.stops import Stop

CANDIDATES = 5
"""Ends looked at as partners of a loose end; where none of them is free, the ends still loose
are looked at again among themselves."""


def join_shortest(points: Sequence[complex], near: Sequence[Sequence[Near]]) -> list[int]:
    """A way from the last point through all pairs of ends: the ends it comes down at, in order.

    Ends 2s and 2s + 1 are those of stop `s`; the last point is where the way begins. `near` are
    the nearest others of each point.
    """
    home = len(points) - 1
    partner: list[int | None] = [None] * (home + 1)
    group = list(range(home // 2 + 1))
    loose: Sequence[int] = range(home + 1)
    to_join = home // 2
    while to_join:
        for _, end, other in _links(loose, near):
            if partner[end] is None and partner[other] is None:
                one, two = _root(group, end >> 1), _root(group, other >> 1)
                if one != two:
                    group[one] = two
                    partner[end], partner[other] = other, end
                    to_join -= 1
        if to_join:
            loose = [end for end in loose if partner[end] is None]
            again = nearest_points([points[end] for end in loose], CANDIDATES)
            near = [[(gap, loose[number]) for gap, number in each] for each in again]
    down = []
    following = partner[home]
    while following is not None:
        down.append(following)
        following = partner[following ^ 1]
    return down


def in_due_order(down: Sequence[int], stops: Sequence[Stop]) -> list[int]:
    """Put off each stop until what must come before it is done."""
    waiting = [0] * len(stops)
    for each in stops:
        for stop in each.later:
            waiting[stop] += 1
    put_off: dict[int, int] = {}
    due: list[int] = []
    for end in down:
        if waiting[end >> 1]:
            put_off[end >> 1] = end
            continue
        ready = [end]
        while ready:
            here = ready.pop()
            due.append(here)
            for follower in stops[here >> 1].later:
                waiting[follower] -= 1
                if not waiting[follower] and follower in put_off:
                    ready.append(put_off.pop(follower))
    return due


def _links(ends: Sequence[int], near: Sequence[Sequence[Near]]) -> list[tuple[float, int, int]]:
    """The links from each end to its candidates, shortest first, each link once."""
    farthest = {end: each[:CANDIDATES][-1][0] for end, each in zip(ends, near, strict=True) if each}
    return sorted(
        [
            (gap, end, other)
            for end, each in zip(ends, near, strict=True)
            for gap, other in each[:CANDIDATES]
            # The other end may have the same link on its list.
            if end < other or gap >= farthest.get(other, 0.0)
        ]
    )


def _root(group: list[int], stop: int) -> int:
    while group[stop] != stop:
        group[stop] = group[group[stop]]
        stop = group[stop]
    return stop
