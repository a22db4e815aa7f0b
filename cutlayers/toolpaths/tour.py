"""A short way through many stops, each of which may be entered at one of several points.

Terms: a *stop* is a line to be worked; its *doors* are the points where the tool may enter and
then leaves: an open line has two, one at each end, a closed one enters and leaves at the same.
The way begins at a given point and ends wherever its last stop ends. Some stops must come
before others.

Method: few stops are settled by weighing all ways. Else the shortest links are joined to a first
way (greedy edges); then links are exchanged in pairs, and short runs of stops moved elsewhere, as
long as that helps (2-opt and or-opt with neighbour lists; Bentley, "Fast algorithms for geometric
traveling salesman problems", 1992); then small random swaps of neighbouring runs are tried, and
kept where the way got shorter (iterated local search; Johnson and McGeoch, "The traveling salesman
problem: a case study in local optimization", 1997). The random numbers are always the same.
"""

from __future__ import annotations

import random
from collections.abc import Iterable, Sequence

from cutlayers.geometry.transforms import Point
from cutlayers.toolpaths.few_stops import Stop, are_few, shortest_of_few
from cutlayers.toolpaths.nearby import nearest_points

NEIGHBOURS = 9
"""Ends tried as the next one to go to; the best next end is hardly ever farther down the list."""

LONGEST_RUN = 3
"""Stops moved elsewhere together, as or-opt has it."""

SWAPS_PER_STOP = 2
"""Random swaps tried for each stop: what fits into a fifth of a second for 500 stops."""

FEWEST_SWAPS = 150
"""Tried even for a dozen stops, where they take no time."""

MOST_SWAPS = 1000

LONGEST_SWAPPED = 3
"""Stops in a run that a random swap moves, at most: longer ones take long to mend and help no
more."""

GAIN = 1e-7
"""mm; a way shorter by less is the same way, so that rounding cannot keep the search going."""


def shortest_way(stops: Sequence[Stop], start: Point) -> list[tuple[int, int]]:
    """A short way from `start` through all stops: pairs of a stop's number and its door's.

    Every stop comes once, and none after one that it must precede. `later` must not run in a
    circle. The same input gives the same way.
    """
    if are_few(stops):
        return shortest_of_few(stops, start)
    ends = [_first_ends(stop) for stop in stops]
    way = _Way(ends, stops, start)
    way.build()
    way.improve()
    doors = _best_doors(way.order, stops, start)
    if any(len(stop.doors) > 1 and _is_closed(stop) for stop in stops):
        # With doors chosen the distances are others: go over it once more.
        down = way.line[2:-2:2]
        for number, (stop, door) in enumerate(zip(stops, doors, strict=True)):
            if _is_closed(stop):
                point = complex(*stop.doors[door][0])
                ends[number] = point, point
        way = _Way(ends, stops, start)
        way.take(down)
        way.improve()
        doors = _best_doors(way.order, stops, start)
    return [(stop, doors[stop]) for stop in way.order]


def way_length(stops: Sequence[Stop], way: Iterable[tuple[int, int]], start: Point) -> float:
    """How far the tool travels between the stops of a way, from `start` on."""
    total, here = 0.0, complex(*start)
    for stop, door in way:
        enter, leave = stops[stop].doors[door]
        total += abs(complex(*enter) - here)
        here = complex(*leave)
    return total


def _is_closed(stop: Stop) -> bool:
    return stop.doors[0][0] == stop.doors[0][1]


def _first_ends(stop: Stop) -> tuple[complex, complex]:
    """Both ends of an open line; the middle of all doors of a closed one, twice."""
    if not _is_closed(stop):
        enter, leave = stop.doors[0]
        return complex(*enter), complex(*leave)
    middle = sum(complex(*enter) for enter, _ in stop.doors) / len(stop.doors)
    return middle, middle


def _best_doors(order: Sequence[int], stops: Sequence[Stop], start: Point) -> list[int]:
    """The best door for each stop when the order is given: a shortest path through layers."""
    before = [(0.0, complex(*start))]
    steps: list[list[int]] = []
    for number in order:
        here = []
        came_from = []
        for enter, leave in stops[number].doors:
            point = complex(*enter)
            cost, best = min(
                (total + abs(point - place), index) for index, (total, place) in enumerate(before)
            )
            here.append((cost, complex(*leave)))
            came_from.append(best)
        steps.append(came_from)
        before = here
    door = min(range(len(before)), key=lambda index: before[index][0])
    doors = [0] * len(stops)
    for number, came_from in zip(reversed(order), reversed(steps), strict=True):
        doors[number] = door
        door = came_from[door]
    return doors


class _Way:
    """The way while it is being worked out.

    Stop `s` has the ends 2s and 2s + 1. `line` lists the ends as the tool comes to them, so at
    even places it comes down and at odd ones it lifts, and links join odd places to the next.
    The last two stops stand for the start, always first, and for the open end, always last,
    which is at no distance from anything.
    """

    def __init__(
        self, ends: Sequence[tuple[complex, complex]], stops: Sequence[Stop], start: Point
    ) -> None:
        self.size = len(ends)
        self.open_end = 2 * self.size + 2
        self.points = [point for pair in ends for point in pair] + [complex(*start)] * 4
        self.later = [stop.later for stop in stops] + [(), ()]
        self.bound = any(self.later)
        self.line: list[int] = []
        self.place = [0] * (2 * self.size + 4)
        self.near = self._neighbours()

    @property
    def order(self) -> list[int]:
        """The stops as they come."""
        return [end >> 1 for end in self.line[2:-2:2]]

    def take(self, ends: Sequence[int]) -> None:
        """Begin with a given way: where the tool comes down at each stop."""
        inner = [side for end in ends for side in (end, end ^ 1)]
        home = 2 * self.size
        self.line = [home, home + 1, *inner, self.open_end, self.open_end + 1]
        self._number(0, len(self.line) - 1)

    def _neighbours(self) -> list[list[tuple[float, int]]]:
        """For each end the nearest ends of other stops, with their distances."""
        points = self.points
        home = 2 * self.size
        nearest = nearest_points(points[: home + 1], NEIGHBOURS + 1)
        near = [
            [
                (abs(points[other] - points[end]), other)
                for other in others
                if other >> 1 != end >> 1 and other != home
            ][:NEIGHBOURS]
            for end, others in enumerate(nearest)
        ]
        # The tool leaves the start at its second end, as it does every stop.
        return [*near[:home], [], near[home], [], []]

    def _number(self, first: int, last: int) -> None:
        line, place = self.line, self.place
        for index in range(first, last + 1):
            place[line[index]] = index

    def build(self) -> None:
        """Join the shortest links first, then the pieces from the start on, nearest first."""
        points, size = self.points, self.size
        partner: list[int | None] = [None] * (2 * size + 2)
        group = list(range(size + 1))

        def root(stop: int) -> int:
            while group[stop] != stop:
                group[stop] = group[group[stop]]
                stop = group[stop]
            return stop

        links = sorted(
            (gap, end, other) for end in range(2 * size + 2) for gap, other in self.near[end]
        )
        for _, end, other in links:
            if partner[end] is None and partner[other] is None:
                one, two = root(end >> 1), root(other >> 1)
                if one != two:
                    group[one] = two
                    partner[end], partner[other] = other, end
        loose = dict.fromkeys(end for end in range(2 * size) if partner[end] is None)
        following = partner[2 * size + 1]
        here = points[2 * size]
        down: list[int] = []
        while following is not None or loose:
            if following is None:
                following = min(loose, key=lambda end: abs(points[end] - here))
                loose.pop(following)
            while following is not None:
                down.append(following)
                across = following ^ 1
                following = partner[across]
            loose.pop(across)
            here = points[across]
        self.take(self._in_due_order(down) if self.bound else down)

    def _in_due_order(self, down: Sequence[int]) -> list[int]:
        """Put off each stop until what must come before it is done."""
        waiting = [0] * self.size
        for after in self.later:
            for stop in after:
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
                for follower in self.later[here >> 1]:
                    waiting[follower] -= 1
                    if not waiting[follower] and follower in put_off:
                        ready.append(put_off.pop(follower))
        return due

    def length(self) -> float:
        """How far it is between the stops."""
        return sum(
            self._gap(self.line[index], self.line[index + 1])
            for index in range(1, len(self.line) - 1, 2)
        )

    def _gap(self, end: int, other: int) -> float:
        """Distance of two ends; nothing to the open end."""
        if end == self.open_end or other == self.open_end:
            return 0.0
        return abs(self.points[end] - self.points[other])

    def improve(self) -> None:
        """Exchange links while that helps, then try random swaps."""
        self._descend(list(self.line[2:-2]))
        chance = random.Random(self.size)
        swaps = min(MOST_SWAPS, FEWEST_SWAPS + SWAPS_PER_STOP * self.size)
        for _ in range(swaps if self.size > 1 else 0):
            line, place = self.line[:], self.place[:]
            swapped = self._swap(chance)
            if swapped is None:
                continue
            change, ends = swapped
            if change + self._descend(ends) > -GAIN:
                self.line, self.place = line, place

    def _swap(self, chance: random.Random) -> tuple[float, list[int]] | None:
        """Swap two neighbouring runs; the change in length, and the ends at the new links.

        None where they must not change places.
        """
        line = self.line
        one = chance.randint(1, min(LONGEST_SWAPPED, self.size - 1))
        two = chance.randint(1, min(LONGEST_SWAPPED, self.size - one))
        first = 2 * chance.randint(1, self.size - one - two + 1)
        middle, last = first + 2 * one, first + 2 * (one + two)
        if self.bound and self._clash(first, middle - 1, middle, last - 1):
            return None
        left, right = line[first:middle], line[middle:last]
        before, after = line[first - 1], line[last]
        gap = self._gap
        change = -gap(before, left[0]) - gap(left[-1], right[0]) - gap(right[-1], after)
        # A run of one may be turned round, whatever must come before what.
        for run in (left, right):
            if chance.random() < 0.5 and (len(run) == 2 or not self.bound):
                run.reverse()
        change += gap(before, right[0]) + gap(right[-1], left[0]) + gap(left[-1], after)
        line[first:last] = right + left
        self._number(first, last - 1)
        return change, [before, left[0], left[-1], right[0], right[-1], after]

    def _clash(self, first: int, last: int, low: int, high: int) -> bool:
        """Whether a stop at places first…last must stay before one at places low…high."""
        line, place, later = self.line, self.place, self.later
        return any(
            low <= place[2 * after] <= high
            for index in range(first, last + 1, 2)
            for after in later[line[index] >> 1]
        )

    def _descend(self, queue: list[int]) -> float:
        """Make improving moves at the ends in the queue until none is left; the change."""
        total = 0.0
        waiting = set(queue)
        better = self._better
        while queue:
            end = queue.pop()
            waiting.discard(end)
            found = better(end)
            while found is not None:
                change, touched = found
                total += change
                for other in touched:
                    if other not in waiting:
                        waiting.add(other)
                        queue.append(other)
                found = better(end)
        return total

    def _better(self, end: int) -> tuple[float, tuple[int, ...]] | None:
        """Make one improving move that gives an end a nearer neighbour.

        Returns the change and the ends at changed links, or None where no move helps.
        """
        points, line, place, open_end = self.points, self.line, self.place, self.open_end
        at = place[end]
        side = at & 1
        step = 1 if side else -1
        beside = line[at + step]
        here, there = points[end], points[beside]
        old = 0.0 if beside == open_end else abs(here - there)
        for new, other in self.near[end]:
            if new >= old - GAIN:
                return None
            other_at = place[other]
            if other_at & 1 == side:
                # Both lead out, or both lead in: walk all that lies between the other way.
                beyond = line[other_at + step]
                change = new - old
                if beyond != open_end:
                    change -= abs(points[other] - points[beyond])
                    if beside != open_end:
                        change += abs(there - points[beyond])
                if change < -GAIN:
                    low, high = (at, other_at) if at < other_at else (other_at, at)
                    first, last = (low + 1, high) if side else (low, high - 1)
                    if not (self.bound and self._clash(first, last, first, last)):
                        run = line[first : last + 1]
                        run.reverse()
                        line[first : last + 1] = run
                        self._number(first, last)
                        return change, (end, beside, other, beyond)
            elif other_at > at:
                # Bring all that follows here, and what lay between behind it.
                moved = self._move_rest(at, other_at, new - old)
                if moved is not None:
                    return moved
            moved = self._move_run(at, side, other_at, new - old)
            if moved is not None:
                return moved
        return None

    def _move_rest(
        self, at: int, other_at: int, change_here: float
    ) -> tuple[float, tuple[int, ...]] | None:
        """Go on from place `at` with all from `other_at` to the end, and then with what lay
        between, if that helps: possible because the way may end anywhere."""
        line, points = self.line, self.points
        if not at & 1 or other_at == at + 1:
            return None
        beside, before, last = line[at + 1], line[other_at - 1], line[-3]
        change = change_here + abs(points[last] - points[beside])
        change -= abs(points[before] - points[line[other_at]])
        final = len(line) - 3
        if change >= -GAIN or (self.bound and self._clash(at + 1, other_at - 1, other_at, final)):
            return None
        touched = line[at], beside, before, line[other_at], last
        line[at + 1 : -2] = line[other_at:-2] + line[at + 1 : other_at]
        self._number(at + 1, final)
        return change, touched

    def _move_run(
        self, at: int, side: int, other_at: int, change_here: float
    ) -> tuple[float, tuple[int, ...]] | None:
        """Bring a run that ends at place `other_at` into the link at place `at`, so that these
        two ends become neighbours, if that helps."""
        line, points, open_end = self.line, self.points, self.open_end
        left = at if side else at - 1
        beside = line[left + side]
        there = points[beside]
        other_side = other_at & 1
        for run in range(2, 2 * LONGEST_RUN + 2, 2):
            # The end brought over is the run's last, where it lifts, or its first.
            first = other_at - run + 1 if other_side else other_at
            last = first + run - 1
            if first < 2 or last > len(line) - 3 or first - 1 <= left <= last:
                return None
            before, one, two, after = line[first - 1], line[first], line[last], line[last + 1]
            change = change_here - abs(points[before] - points[one])
            if after != open_end:
                change += abs(points[before] - points[after]) - abs(points[two] - points[after])
            if beside != open_end:
                change += abs(points[one if other_side else two] - there)
            if change < -GAIN:
                turned = other_side == side
                if self.bound and self._run_clashes(first, last, left, turned):
                    continue
                end = line[at]
                self._carry(first, last, left, turned)
                return change, (before, one, two, after, end, beside)
        return None

    def _run_clashes(self, first: int, last: int, left: int, turned: bool) -> bool:
        if turned and self._clash(first, last, first, last):
            return True
        if left > last:
            return self._clash(first, last, last + 1, left)
        return self._clash(left + 1, first - 1, first, last)

    def _carry(self, first: int, last: int, left: int, turned: bool) -> None:
        """Put the ends at places first…last behind the one at place `left`."""
        line = self.line
        run = line[first : last + 1]
        if turned:
            run.reverse()
        if left > last:
            line[first : left + 1] = line[last + 1 : left + 1] + run
            self._number(first, left)
        else:
            line[left + 1 : last + 1] = run + line[left + 1 : first]
            self._number(left + 1, last)
