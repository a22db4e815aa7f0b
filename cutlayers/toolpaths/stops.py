"""Lines as the way between them sees them: where the tool may come down, and where it lifts.

Terms: a *stop* is a line to be worked; its *entries* are the ways to do it, each a point where
the tool comes down and one where it lifts: an open line has two, one from each end, a closed
one begins and ends at the same point. A *way* begins at a given point, takes every stop once
and ends wherever its last stop ends. Some stops must come before others.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from cutlayers.frozen import frozen
from cutlayers.geometry.transforms import Point


@frozen
class Stop:
    """A line to be worked: pairs of where the tool comes down and where it lifts.

    An open line has two entries, each the other walked backwards; a closed one has any number,
    each with twice the same point, or nearly so. `later` are the numbers of the stops that must
    come after.
    """

    entries: tuple[tuple[Point, Point], ...]
    later: tuple[int, ...] = ()

    @property
    def closed(self) -> bool:
        """Whether the tool lifts where it came down, so that walking back is no other entry."""
        enter, leave = self.entries[0]
        return enter == leave or self.entries[1:] != ((leave, enter),)


def way_length(stops: Sequence[Stop], way: Iterable[tuple[int, int]], start: Point) -> float:
    """How far the tool travels between the stops of a way, from `start` on, in mm."""
    total, here = 0.0, complex(*start)
    for stop, entry in way:
        enter, leave = stops[stop].entries[entry]
        total += abs(complex(*enter) - here)
        here = complex(*leave)
    return total


def best_entries(order: Sequence[int], stops: Sequence[Stop], start: Point) -> list[int]:
    """The best entry for each stop when the order is given: a shortest path through layers."""
    before = [(0.0, complex(*start))]
    steps: list[list[int]] = []
    for number in order:
        here = []
        came_from = []
        for enter, leave in stops[number].entries:
            point = complex(*enter)
            cost, best = min(
                [(total + abs(point - place), index) for index, (total, place) in enumerate(before)]
            )
            here.append((cost, complex(*leave)))
            came_from.append(best)
        steps.append(came_from)
        before = here
    entry = min(range(len(before)), key=lambda index: before[index][0])
    entries = [0] * len(stops)
    for number, came_from in zip(reversed(order), reversed(steps), strict=True):
        entries[number] = entry
        entry = came_from[entry]
    return entries
