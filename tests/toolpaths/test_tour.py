"""Short ways through many stops."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutlayers.toolpaths.few_stops import are_few, shortest_of_few
from cutlayers.toolpaths.nearby import nearest_points
from cutlayers.toolpaths.stops import Stop, way_length
from cutlayers.toolpaths.tour import shortest_way
from tests.benchmarks.bench_order import SHORT, scattered_lines

HOME = (0.0, 0.0)
places = st.tuples(st.integers(0, 300), st.integers(0, 300)).map(
    lambda pair: (float(pair[0]), float(pair[1]))
)


@st.composite
def nested_stops(draw: st.DrawFn, most: int = 25) -> list[Stop]:
    """Open and closed lines, each of which may have to come before one that is larger."""
    count = draw(st.integers(1, most))
    stops = []
    for number in range(count):
        later: tuple[int, ...] = ()
        if number + 1 < count and draw(st.booleans()):
            later = (draw(st.integers(number + 1, count - 1)),)
        if draw(st.booleans()):
            entries = tuple(
                (place, place) for place in draw(st.lists(places, min_size=1, max_size=5))
            )
        else:
            a, b = draw(places), draw(places)
            entries = ((a, b), (b, a))
        stops.append(Stop(entries, later))
    order = draw(st.permutations(range(count)))
    place = {old: new for new, old in enumerate(order)}
    shuffled = [stops[old] for old in order]
    return [Stop(each.entries, tuple(place[after] for after in each.later)) for each in shuffled]


@given(nested_stops())
@settings(max_examples=150, deadline=None)
def test_every_stop_comes_once_and_in_due_order(stops: list[Stop]) -> None:
    """Whatever must come before comes before, and every entry is one of its stop's."""
    way = shortest_way(stops, HOME)

    assert sorted(stop for stop, _ in way) == list(range(len(stops)))
    place = {stop: index for index, (stop, _) in enumerate(way)}
    assert all(0 <= entry < len(stops[stop].entries) for stop, entry in way)
    for number, stop in enumerate(stops):
        assert all(place[after] > place[number] for after in stop.later)


def _best(stops: list[Stop]) -> float:
    """The shortest of all orders and entries that are allowed, tried one by one."""
    return min(
        way_length(stops, zip(order, entries, strict=True), HOME)
        for order in itertools.permutations(range(len(stops)))
        if all(
            order.index(after) > order.index(number)
            for number, stop in enumerate(stops)
            for after in stop.later
        )
        for entries in itertools.product(*(range(len(stops[number].entries)) for number in order))
    )


@given(nested_stops(4))
@settings(max_examples=60, deadline=None)
def test_few_stops_are_visited_as_well_as_can_be(stops: list[Stop]) -> None:
    """No order and no entries make a shorter way."""
    assert way_length(stops, shortest_way(stops, HOME), HOME) == pytest.approx(_best(stops))


def test_some_stops_more_are_visited_nearly_as_well() -> None:
    """Sets of seven lines strewn about, too many to weigh all: against all ways weighed all the
    same, no more than a hundredth longer on average."""
    ratios = []
    for seed in range(20):
        stops = scattered_lines(seed, 7)
        ours = way_length(stops, shortest_way(stops, HOME), HOME)
        ratios.append(ours / way_length(stops, shortest_of_few(stops, HOME), HOME))

    assert not are_few(scattered_lines(0, 7))
    assert sum(ratios) / len(ratios) < 1.01


@pytest.mark.parametrize("count", [12, 40, 200])
def test_points_on_a_convex_curve_are_visited_round_it(count: int) -> None:
    """The best round of n points on a circle is the circle's own order; a way that begins at one
    of them leaves out one side. For 12 points on a radius of 50 the round is 310.582854 mm."""
    corners = [
        (50 + 50 * math.cos(2 * math.pi * i / count), 50 + 50 * math.sin(2 * math.pi * i / count))
        for i in range(count)
    ]
    shuffled = [corners[i * 7 % count] for i in range(count)] if count % 7 else corners
    stops = [Stop(((corner, corner),)) for corner in shuffled]
    side = 100 * math.sin(math.pi / count)
    if count == 12:
        assert 12 * side == pytest.approx(310.582854)

    way = shortest_way(stops, corners[0])

    assert way_length(stops, way, corners[0]) == pytest.approx((count - 1) * side)


def test_a_closed_line_is_entered_where_the_whole_way_is_shortest() -> None:
    """Neither at the entry nearest to the start (0) nor at the one nearest to the next stop (2):
    by hand, the ways are 104.8, 112.4, 108.3 and, through entry 3, 103.1 mm."""
    square = Stop(tuple((p, p) for p in ((10.0, 10.0), (20.0, 10.0), (20.0, 20.0), (10.0, 20.0))))
    far = Stop((((21.0, 100.0), (21.0, 100.0)),))

    assert shortest_way([far, square], HOME) == [(1, 3), (0, 0)]


def test_the_same_stops_give_the_same_way() -> None:
    """The random swaps are always the same."""
    stops = scattered_lines(7, 80)

    assert shortest_way(stops, HOME) == shortest_way(stops, HOME)


@pytest.mark.parametrize("count", SHORT)
def test_ways_are_within_a_fiftieth_of_those_of_a_slower_search(count: int) -> None:
    """Of strewn lines, three times."""
    for seed, short in enumerate(SHORT[count]):
        stops = scattered_lines(seed, count)
        assert way_length(stops, shortest_way(stops, HOME), HOME) <= 1.02 * short


def test_the_way_is_much_shorter_than_going_to_the_nearest() -> None:
    """The usual first thought, always the nearest end next, travels a fifth more."""
    stops = scattered_lines(3, 120)
    left, here, greedy = set(range(120)), HOME, 0.0
    while left:
        gap, stop, entry = min(
            (math.dist(here, stops[stop].entries[entry][0]), stop, entry)
            for stop in left
            for entry in (0, 1)
        )
        greedy += gap
        here = stops[stop].entries[entry][1]
        left.remove(stop)

    assert way_length(stops, shortest_way(stops, HOME), HOME) < greedy / 1.15


@given(st.lists(places, min_size=1, max_size=60), st.integers(1, 8))
@settings(max_examples=80, deadline=None)
def test_the_grid_finds_the_nearest(points: list[tuple[float, float]], count: int) -> None:
    """As near as looking at every point, ties aside."""
    numbers = [complex(*point) for point in points]

    for here, found in zip(numbers, nearest_points(numbers, count), strict=True):
        others = sorted(abs(other - here) for other in numbers)[1 : count + 1]
        assert [gap for gap, _ in found] == pytest.approx(others)
