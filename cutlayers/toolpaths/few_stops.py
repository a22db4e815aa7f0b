"""The shortest way through a few stops, by working out all of them that can be the shortest.

Source: dynamic programming over sets of stops visited (Held and Karp, "A dynamic programming
approach to sequencing problems", 1962), with an entry for each stop beside it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from cutlayers.geometry.transforms import Point
from cutlayers.toolpaths.stops import Stop

Place = tuple[int, int, int]
"""The stops visited, as bits, the last of them, and its entry."""


MOST_STEPS = 20_000
"""Steps from entry to entry that are worked out: some milliseconds."""


def are_few(stops: Sequence[Stop]) -> bool:
    """Whether all ways through the stops can be weighed in no time."""
    entries = sum(len(stop.entries) for stop in stops)
    return len(stops) < 12 and 2 ** len(stops) * entries**2 <= MOST_STEPS


def shortest_of_few(stops: Sequence[Stop], start: Point) -> list[tuple[int, int]]:
    """The shortest way from `start` through all stops: pairs of a stop's number and its entry's.

    Of ways equally short the first by number.
    """
    before = [0] * len(stops)
    for number, stop in enumerate(stops):
        for after in stop.later:
            before[after] |= 1 << number
    # For each place the shortest length so far, and the place before.
    best: dict[Place, tuple[float, Place | None]] = {}
    here: dict[Place, Point] = {}
    layer: list[Place | None] = [None]
    for _ in stops:
        following: dict[Place, tuple[float, Place | None]] = {}
        for place in layer:
            done = place[0] if place else 0
            point = here[place] if place else start
            so_far = best[place][0] if place else 0.0
            for number, stop in enumerate(stops):
                if done >> number & 1 or before[number] & ~done:
                    continue
                for entry, (enter, leave) in enumerate(stop.entries):
                    step = (done | 1 << number, number, entry)
                    length = so_far + math.dist(point, enter)
                    if step not in following or length < following[step][0]:
                        following[step] = length, place
                        here[step] = leave
        best |= following
        layer = list(following)
    last = min((place for place in layer if place), key=lambda place: best[place][0], default=None)
    way: list[tuple[int, int]] = []
    while last is not None:
        way.append(last[1:])
        last = best[last][1]
    return way[::-1]
