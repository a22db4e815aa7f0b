"""How short our way through many lines is, and how long it takes to find.

Run it from the project's folder:

    python -m tests.benchmarks.bench_order            # our own figures
    python -m tests.benchmarks.bench_order ortools    # also OR-Tools, three times 30 s a set

OR-Tools is asked in three ways, since each suits it differently: with a node for each direction
of a line, with a node for each end of a line, and starting from our own way. The best counts.
Travel is measured between the lines only, from the sheet's corner to the last line's end.
"""

from __future__ import annotations

import math
import random
import sys
import time
from typing import Any

from cutlayers.toolpaths.stops import Stop, way_length
from cutlayers.toolpaths.tour import shortest_way

HOME = (0.0, 0.0)
SHEET = 300.0
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


def main() -> None:
    """Print a line for each set of lines."""
    for seed in range(3):
        stops = scattered_lines(seed)
        # Processor time, the best of three: a busy machine must not count against the method.
        took = []
        for _ in range(3):
            began = time.process_time()
            way = shortest_way(stops, HOME)
            took.append(time.process_time() - began)
        ours = way_length(stops, way, HOME)
        print(f"500 lines, set {seed}: {ours:.0f} mm in {min(took) * 1000:.0f} ms", flush=True)
        if "ortools" in sys.argv[1:]:
            rivals = {
                "by direction": by_direction(stops),
                "by ends": by_ends(stops),
                "from ours": by_direction(stops, way),
            }
            best = min(rivals.values())
            told = ", ".join(f"{name} {length:.0f}" for name, length in rivals.items())
            print(f"    OR-Tools: {told}; ours is {ours / best:.3f} of the best", flush=True)


if __name__ == "__main__":
    main()
