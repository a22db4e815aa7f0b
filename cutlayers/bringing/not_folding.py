"""Lines between panels that cannot all be creases, since no box could be folded along them.

Four creases that meet at right angles fold one after the other and not together; fewer than four
that meet in the middle of the card do not fold at all, since no turns about them add up to none.
Where one line more is a cut, what is left can fold.

Source: Z. Abel, J. Cantarella, E. Demaine and others, "Rigid origami vertices: conditions and
forcing sets", Journal of Computational Geometry 7 (2016), by which a corner folds only with four
creases or more that do not lie to one side of it; that it is the line between the smallest panels
that is cut at a cross is common practice, no source.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

from cutlayers.bringing.sides import STEP
from cutlayers.bringing.standing import Stretch, Where
from cutlayers.geometry.transforms import Point

SQUARE = math.radians(2.0)
"""By how much a right angle may be off as drawn."""

ALIKE = 0.95
"""Share of the largest panels that others are as large as: then nothing tells flaps."""

CURVED = math.radians(30.0)
"""From one chord of a curve to the next at most."""

FEWEST = 4
"""Creases at a corner in the middle of the card."""

MOST_STIFF = 500
"""Corners that do not fold; with more it is a picture, of which nothing is to be said by them."""

Meeting = Mapping[Point, Sequence[Stretch]]
"""The stretches between panels that end at each point."""


def cuts_between(stretches: Sequence[Stretch]) -> Iterator[Stretch]:
    """The stretches between panels that are rather cut: slits between flaps, and both sides of what
    stands out of a card like a step."""
    inner: dict[Point, list[Stretch]] = defaultdict(list)
    border: set[Point] = set()
    for each in stretches:
        for point in (each.segment.start, each.segment.end):
            if each.where is Where.INNER:
                inner[point].append(each)
            elif each.where is not Where.LOOSE:
                border.add(point)
    yield from _between_flaps(inner, border)
    yield from _beside_steps(inner, border)


def _between_flaps(inner: Meeting, border: Collection[Point]) -> Iterator[Stretch]:
    """Of four lines that meet at right angles, and run on to a border, the one between the smallest
    panels."""
    ends = _Near(inner)
    for point, meeting in inner.items():
        if point in border or len(meeting) != FEWEST or not _square(point, meeting):
            continue
        out = [each for each in meeting if _other_end(each, point) in border]
        if not out:
            continue
        least = min(out, key=lambda each: (each.area, each.numbers))
        if len(out) == FEWEST and least.area > ALIKE * max(each.area for each in out):
            continue
        # Where others end beside it, all of them are creases, as those of a bag are.
        if sum(len(inner[at]) for at in ends.near(_other_end(least, point))) == 1:
            yield least


def _beside_steps(inner: Meeting, border: Collection[Point]) -> Iterator[Stretch]:
    """Lines that, if cut, leave no corner with too few creases: those that pass most such corners
    first."""
    ends = _Near({*inner, *border})
    stiff = {
        point
        for point, meeting in inner.items()
        if point not in border
        and len(meeting) < FEWEST
        and not _goes_on(point, meeting)
        # Where card steps its creases, several points are one corner.
        and len(ends.near(point)) == 1
    }
    runs = list(_runs(inner)) if 0 < len(stiff) <= MOST_STIFF else []
    while runs:
        best = max(runs, key=lambda run: len(stiff & _ends(run)))
        passed = stiff & _ends(best)
        if len(passed) < 2:
            return
        yield from best
        stiff -= passed
        runs.remove(best)


class _Near:
    """Points by the places that they lie near to."""

    def __init__(self, points: Iterable[Point]) -> None:
        self._cells: dict[tuple[int, int], list[Point]] = defaultdict(list)
        for point in points:
            self._cells[_cell(point)].append(point)

    def near(self, point: Point) -> list[Point]:
        """The points within `STEP`, itself too."""
        column, row = _cell(point)
        around = [(column + i, row + j) for i in (-1, 0, 1) for j in (-1, 0, 1)]
        found = (each for cell in around for each in self._cells.get(cell, ()))
        return [each for each in found if math.dist(each, point) <= STEP]


def _cell(point: Point) -> tuple[int, int]:
    return math.floor(point[0] / STEP), math.floor(point[1] / STEP)


def _runs(inner: Meeting) -> Iterator[list[Stretch]]:
    """The stretches between panels by the straight line that they are parts of."""
    left = {id(each): each for meeting in inner.values() for each in meeting}
    while left:
        _, first = left.popitem()
        run = [first]
        for at in (first.segment.end, first.segment.start):
            last = first
            while (onward := _onward(at, last, inner[at])) is not None and id(onward) in left:
                last = left.pop(id(onward))
                run.append(last)
                at = _other_end(last, at)
        yield run


def _onward(point: Point, stretch: Stretch, meeting: Sequence[Stretch]) -> Stretch | None:
    """What runs straight on from a stretch at its end."""
    x, y = _away(stretch, point)
    for other in meeting:
        u, v = _away(other, point)
        if other is not stretch and x * u + y * v < -math.cos(SQUARE):
            return other
    return None


def _ends(run: Sequence[Stretch]) -> set[Point]:
    return {point for each in run for point in (each.segment.start, each.segment.end)}


def _other_end(stretch: Stretch, point: Point) -> Point:
    return stretch.segment.end if stretch.segment.start == point else stretch.segment.start


def _away(stretch: Stretch, point: Point) -> Point:
    """The direction in which a stretch leaves a point."""
    segment = stretch.segment if stretch.segment.start == point else stretch.segment.reversed()
    return segment.direction_at(0.0)


def _goes_on(point: Point, meeting: Sequence[Stretch]) -> bool:
    """Whether what meets is one line, straight or in chords of a curve."""
    if len(meeting) != 2:
        return False
    (x, y), (u, v) = (_away(each, point) for each in meeting)
    return x * u + y * v < -math.cos(CURVED)


def _square(point: Point, meeting: Sequence[Stretch]) -> bool:
    angles = sorted(math.atan2(y, x) for x, y in (_away(each, point) for each in meeting))
    turns = [(b - a) % (2 * math.pi) for a, b in zip(angles, [*angles[1:], angles[0]], strict=True)]
    return all(abs(turn - math.pi / 2) <= SQUARE for turn in turns)
