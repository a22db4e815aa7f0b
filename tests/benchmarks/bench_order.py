"""How short our way through many lines is, and how long it takes to find.

Run it from the project's folder:

    python -m tests.benchmarks.bench_order            # our own figures
    python -m tests.benchmarks.bench_order ortools    # also OR-Tools, three times 30 s a set

OR-Tools is asked in three ways, since each suits it differently: with a node for each direction
of a line, with a node for each end of a line, and starting from our own way. The best counts.
Travel is measured between the lines only, from the sheet's corner to the last line's end. Behind it
stands how much longer it is than that of a slower search. Last come the sheets of the samples: what
the search takes there, and what it saves of the travel of a first way.
"""

from __future__ import annotations

import math
import random
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from unittest import mock

from cutlayers import lay_out, names_kit, plan
from cutlayers.cli.options import read_inputs
from cutlayers.geometry.transforms import Point
from cutlayers.toolpaths.stops import Stop, way_length
from cutlayers.toolpaths.tour import shortest_way

Way = list[tuple[int, int]]

HOME = (0.0, 0.0)
SHEET = 300.0
SHORT = {
    60: (1276, 1498, 1462),
    100: (1764, 1817, 1727),
    250: (2619, 2612, 2478),
    500: (3546, 3580, 3411),
}
"""Travel in mm through so many strewn lines, for the first three seeds, that a search of ours took
which was three times as slow; OR-Tools could not make it shorter through 500 in 30 s each, begun
from there. It is not the shortest: with 1500 swaps, and 27 breadths of which the best counts, we
found 0.96 to 0.98 of it through 250 or 500 lines, 0.95 to 0.99 through fewer."""

SAMPLES = Path(__file__).parents[2] / "samples"
SECONDS = 30
MICROMETRES = 1000
"""OR-Tools counts in whole numbers."""


def scattered_lines(seed: int, count: int = 500) -> list[Stop]:
    """Lines of 3 to 40 mm strewn over a sheet, every way round."""
    chance = random.Random(seed)
    stops = []
    for _ in range(count):
        a = (chance.uniform(0, SHEET), chance.uniform(0, SHEET))
        angle, length = chance.uniform(0, 2 * math.pi), chance.uniform(3, 40)
        b = (a[0] + length * math.cos(angle), a[1] + length * math.sin(angle))
        stops.append(Stop(((a, b), (b, a))))
    return stops


def by_direction(stops: list[Stop], first: list[tuple[int, int]] | None = None) -> float:
    """Best travel found with two nodes a line, of which one is visited; `first` to begin with."""
    from ortools.constraint_solver import pywrapcp, routing_enums_pb2

    entries = [entry for stop in stops for entry in stop.entries]
    home, end = len(entries), len(entries) + 1

    def distance(one: int, other: int) -> int:
        if end in (one, other):
            return 0
        leave = HOME if one == home else entries[one][1]
        enter = HOME if other == home else entries[other][0]
        return round(math.dist(leave, enter) * MICROMETRES)

    table = [[distance(i, j) for j in range(end + 1)] for i in range(end + 1)]
    manager = pywrapcp.RoutingIndexManager(end + 1, 1, [home], [end])
    routing = pywrapcp.RoutingModel(manager)
    nodes = [manager.IndexToNode(i) for i in range(routing.Size() + 1)]
    call = routing.RegisterTransitCallback(lambda i, j: table[nodes[i]][nodes[j]])
    routing.SetArcCostEvaluatorOfAllVehicles(call)
    for number in range(len(stops)):
        pair = [manager.NodeToIndex(2 * number), manager.NodeToIndex(2 * number + 1)]
        routing.AddDisjunction(pair)
    found = _solve(routing, routing_enums_pb2, pywrapcp, _direct(first))
    return found / MICROMETRES


def _direct(way: list[tuple[int, int]] | None) -> list[int] | None:
    return None if way is None else [2 * stop + entry for stop, entry in way]


def by_ends(stops: list[Stop]) -> float:
    """Best travel found with a node for each end of a line, both of which must be neighbours."""
    from ortools.constraint_solver import pywrapcp, routing_enums_pb2

    points = [point for stop in stops for point in stop.entries[0]]
    home, end = len(points), len(points) + 1
    far = 1000 * MICROMETRES

    def distance(one: int, other: int) -> int:
        if one // 2 == other // 2 and one < home and other < home:
            return 0
        if end in (one, other):
            return far
        a = HOME if one == home else points[one]
        b = HOME if other == home else points[other]
        return round(math.dist(a, b) * MICROMETRES) + far

    table = [[distance(i, j) for j in range(end + 1)] for i in range(end + 1)]
    manager = pywrapcp.RoutingIndexManager(end + 1, 1, [home], [end])
    routing = pywrapcp.RoutingModel(manager)
    nodes = [manager.IndexToNode(i) for i in range(routing.Size() + 1)]
    call = routing.RegisterTransitCallback(lambda i, j: table[nodes[i]][nodes[j]])
    routing.SetArcCostEvaluatorOfAllVehicles(call)
    found = _solve(routing, routing_enums_pb2, pywrapcp, None)
    # One link to each line and one to the open end carry the extra distance.
    return (found - (len(stops) + 1) * far) / MICROMETRES


def _solve(routing: Any, enums: Any, pywrapcp: Any, first: list[int] | None) -> float:
    search = pywrapcp.DefaultRoutingSearchParameters()
    search.first_solution_strategy = enums.FirstSolutionStrategy.PATH_CHEAPEST_ARC
    search.local_search_metaheuristic = enums.LocalSearchMetaheuristic.GUIDED_LOCAL_SEARCH
    search.time_limit.FromSeconds(SECONDS)
    if first is None:
        return float(routing.SolveWithParameters(search).ObjectiveValue())
    routing.CloseModelWithParameters(search)
    begin = routing.ReadAssignmentFromRoutes([first], True)
    return float(routing.SolveFromAssignmentWithParameters(begin, search).ObjectiveValue())


def measured(stops: list[Stop], start: Point) -> tuple[float, float, Way]:
    """Travel in mm, processor time in ms and the way itself.

    The time is the best of five: a busy machine must not count against the method.
    """
    took = []
    for _ in range(5):
        began = time.process_time()
        way = shortest_way(stops, start)
        took.append(time.process_time() - began)
    return way_length(stops, way, start), min(took) * 1000, way


def sheets_of_samples() -> Iterator[tuple[str, list[Stop], Point]]:
    """What is put in order when each sample is made: its name, the lines, and where the tool is."""
    caught: list[tuple[list[Stop], Point]] = []

    def catch(stops: list[Stop], start: Point, stop: Any) -> Way:
        caught.append((stops, start))
        return shortest_way(stops, start, stop)

    with mock.patch("cutlayers.toolpaths.order.shortest_way", catch):
        for file in sorted(SAMPLES.glob("*.toml")):
            if names_kit(file):
                continue
            job, machine = read_inputs(file, None)
            caught.clear()
            plan(lay_out(job, machine, quick=True))
            yield from ((file.stem, stops, start) for stops, start in caught)


def first_way(stops: list[Stop], start: Point) -> float:
    """Travel of the way that the search begins with, its entries chosen."""
    with mock.patch("cutlayers.toolpaths.exchange.Round.improve"):
        return way_length(stops, shortest_way(stops, start), start)


def main() -> None:
    """Print a line for each set of lines."""
    for count, known in SHORT.items():
        for seed, short in enumerate(known):
            stops = scattered_lines(seed, count)
            ours, took, way = measured(stops, HOME)
            print(f"{count} lines, set {seed}: {ours:.0f} mm in {took:.1f} ms; {ours / short:.3f}")
            if count == 500 and "ortools" in sys.argv[1:]:
                rivals = {
                    "by direction": by_direction(stops),
                    "by ends": by_ends(stops),
                    "from ours": by_direction(stops, way),
                }
                best = min(rivals.values())
                told = ", ".join(f"{name} {length:.0f}" for name, length in rivals.items())
                print(f"    OR-Tools: {told}; ours is {ours / best:.3f} of the best", flush=True)
    for name, stops, start in sheets_of_samples():
        ours, took, _ = measured(stops, start)
        saved = first_way(stops, start) - ours
        print(f"{name}, {len(stops)} lines: {ours:.0f} mm in {took:.1f} ms; saves {saved:.0f} mm")


if __name__ == "__main__":
    main()
