"""A short way through many stops, each of which may be entered at one of several points.

Few stops are settled by weighing all ways. Else a first way is made by joining the shortest
links, and improved by exchanging links. A closed line stands for the middle of its entries while
the order is sought; then its best entry is chosen, and the order sought once more. How long is
sought is counted in steps, never in seconds, so that the same stops give the same way.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from cutlayers.geometry.transforms import Point
from cutlayers.toolpaths.exchange import BREADTH, SWAPS, Round
from cutlayers.toolpaths.few_stops import are_few, shortest_of_few
from cutlayers.toolpaths.first_way import in_due_order, join_shortest
from cutlayers.toolpaths.nearby import Near, nearest_points
from cutlayers.toolpaths.stops import Stop, best_entries


def shortest_way(
    stops: Sequence[Stop], start: Point, stop: Callable[[], bool] = lambda: False
) -> list[tuple[int, int]]:
    """A short way from `start` through all stops: pairs of a stop's number and its entry's.

    Every stop comes once, and none after one that it must precede. `later` must not run in a
    circle. The same input gives the same way, unless `stop` ends the search early.
    """
    if are_few(stops):
        return shortest_of_few(stops, start)
    several = any(each.closed and len(each.entries) > 1 for each in stops)
    points = [end for each in stops for end in _ends(each)] + [complex(*start)]
    near = _near(points)
    down = join_shortest(points, near)
    if any(each.later for each in stops):
        down = in_due_order(down, stops)
    way = Round(points, near, stops, down)
    way.improve(0 if several else SWAPS, stop)
    if several:
        # With entries chosen the distances are others.
        entries = best_entries([end >> 1 for end in way.down], stops, start)
        for number, (each, entry) in enumerate(zip(stops, entries, strict=True)):
            if each.closed:
                points[2 * number] = points[2 * number + 1] = complex(*each.entries[entry][0])
        way = Round(points, _near(points), stops, way.down)
        way.improve(SWAPS, stop)
    if not any(each.closed for each in stops):
        return [(end >> 1, end & 1) for end in way.down]
    order = [end >> 1 for end in way.down]
    entries = best_entries(order, stops, start)
    return [(number, entries[number]) for number in order]


def _ends(stop: Stop) -> tuple[complex, complex]:
    """Both ends of an open line; the middle of all entries of a closed one, twice."""
    enter, leave = stop.entries[0]
    if not stop.closed:
        return complex(*enter), complex(*leave)
    middle = sum(complex(*point) for point, _ in stop.entries) / len(stop.entries)
    return middle, middle


def _near(points: Sequence[complex]) -> list[list[Near]]:
    """For each end the nearest ends of other stops, and for the start, the last point, too."""
    return [
        [each for each in others if each[1] >> 1 != end >> 1]
        for end, others in enumerate(nearest_points(points, BREADTH[0]))
    ]
