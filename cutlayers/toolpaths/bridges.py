"""Bridges: short stretches of an outline left uncut, which hold a piece in the sheet.

A bridge leaves a little burr. It never stands on a corner or an end of an arc, where it would
tear out of shape, nor on the border of a glue tab, where the burr would keep the tab from lying
flat. One on a border that two pieces share counts for both.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Hashable, Sequence

from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Stroke
from cutlayers.profile.operations import Bridges
from cutlayers.telling.findings import Finding, Severity, at_least
from cutlayers.telling.quantities import count
from cutlayers.toolpaths.holding import FRAME, Holding, Room, along

PHASES = 16
"""How many rotations of the evenly spread bridges are tried for the one that fits best."""

CLEAR = 1.0
"""mm of cut kept between a bridge and a corner, so that the corner itself comes out sharp."""


def bridge(
    pieces: Sequence[Stroke], lines: Sequence[Stroke], how: Bridges, kerf: float = 0.0
) -> tuple[tuple[tuple[float, ...], ...], tuple[Finding, ...]]:
    """Places for bridges on the lines that cut pieces out, for each line in mm along it.

    `pieces` are the outlines as drawn, `lines` what cuts them, with the kerf taken up. Each piece
    gets its bridges spread as evenly as its corners and tabs allow, and more where it and those
    that it hangs on would fall together. A kerf takes from both ends of a bridge, so a line is
    interrupted for one kerf more than its width: `left_of`. Where fewer bridges find room than were
    asked for, a finding says so.
    """
    work = _Bridging(Holding(pieces, lines, kerf), how.width + kerf)
    for number, piece in enumerate(pieces):
        work.spread(number, _wanted(piece, how))
    work.hold_the_loose()
    findings = tuple(
        _too_few(piece, _wanted(piece, how), len(taken))
        for piece, taken in zip(pieces, work.taken, strict=True)
        if len(taken) < _wanted(piece, how)
    )
    return tuple(tuple(sorted(at)) for at in work.at), findings


def left_of(path: Path, at: Sequence[float], gap: float) -> tuple[Path, ...]:
    """The cuts that bridges leave of a line, from its start on: of a closed one round to its start
    again. Each bridge takes `gap` mm."""
    if not at:
        return (path,)
    if path.closed:
        rounds = itertools.pairwise((*at, at[0] + path.length))
        return tuple(_part(path, here + gap / 2, after - gap / 2) for here, after in rounds)
    starts = [0.0, *(here + gap / 2 for here in at)]
    ends = [*(here - gap / 2 for here in at), path.length]
    return tuple(path.part(start, end) for start, end in zip(starts, ends, strict=True))


def _wanted(piece: Stroke, how: Bridges) -> int:
    """How many bridges a piece is to have."""
    length = piece.path.length
    return max(how.count, math.ceil(length / how.spacing - 1e-9) if how.spacing else 0)


class _Bridging:
    """Bridges while they are put: `at` for each line, `taken` for each piece in mm along it."""

    def __init__(self, holding: Holding, gap: float) -> None:
        self.at: list[list[float]] = [[] for _ in holding.lines]
        self.taken: list[list[float]] = [[] for _ in holding.pieces]
        self._holding, self._gap = holding, gap
        self._rooms = list(holding.rooms(gap / 2 + CLEAR))
        self._of: list[list[Room]] = [[] for _ in holding.pieces]
        for room in self._rooms:
            for piece in room.beside:
                self._of[piece].append(room)
        self._group: dict[Hashable, Hashable] = {}

    def spread(self, piece: int, wanted: int) -> None:
        """Give a piece the bridges that it has not got from those beside it."""
        spans = []
        for room in self._of[piece]:
            low, high = self._on(piece, room, room.low), self._on(piece, room, room.high)
            if low is not None and high is not None:
                spans.append((min(low, high), max(low, high), low > high, room))
        spans.sort(key=lambda span: span[:2])
        length = self._holding.pieces[piece].path.length
        rooms = [(low, high) for low, high, _, _ in spans]
        for place in _spread(rooms, wanted, length, self._gap, self.taken[piece]):
            low, high, turned, room = next(each for each in spans if each[0] <= place <= each[1])
            share = (place - low) / (high - low) if high > low else 0.0
            share = 1.0 - share if turned else share
            self._put(room, room.low + share * (room.high - room.low))

    def hold_the_loose(self) -> None:
        """More bridges where pieces hang on each other and on nothing else."""
        pieces = range(len(self._holding.pieces))
        while loose := {self._root(each) for each in pieces} - {self._root(FRAME)}:
            found = [
                (high - low, room, (low + high) / 2)
                for room in self._rooms
                if len(roots := {self._root(each) for each in room.joins}) > 1 and roots & loose
                for low, high in _without(
                    [(room.low, room.high)], self.at[room.line], self._gap + CLEAR
                )
            ]
            if not found:
                return
            _, room, at = max(found, key=lambda each: each[0])
            self._put(room, at)

    def _put(self, room: Room, at: float) -> None:
        """Leave a bridge on every line that passes there."""
        point = self._holding.lines[room.line].path.point_at(at)
        for line, there in self._holding.passing(room.line, point):
            self.at[line].append(at if line == room.line else there)
        for piece in room.beside:
            place = self._on(piece, room, at)
            if place is not None:
                self.taken[piece].append(place)
        first, *others = map(self._root, room.joins)
        for other in others:
            self._group[other] = first

    def _on(self, piece: int, room: Room, at: float) -> float | None:
        """Where along a piece's outline a place in a room lies."""
        point = self._holding.lines[room.line].path.point_at(at)
        return along(self._holding.pieces[piece].path, point, self._holding.beside)

    def _root(self, node: Hashable) -> Hashable:
        while (above := self._group.get(node, node)) != node:
            node = above
        return node


def _spread(
    rooms: Sequence[tuple[float, float]],
    wanted: int,
    length: float,
    gap: float,
    taken: Sequence[float],
) -> list[float]:
    """As many places as find room beside those taken, up to `wanted` with them, spread as evenly as
    may be."""
    if not rooms or len(taken) >= wanted:
        return []
    around = [each + turn for each in taken for turn in (-length, 0.0, length)]
    free = _without(rooms, around, gap + CLEAR)
    pitch = length / wanted
    trials = []
    for phase in range(PHASES):
        ideal = [(i + (phase + 0.5) / PHASES) * pitch for i in range(wanted)]
        missed = 0.0
        for each in taken:
            far = [abs((goal - each + length / 2) % length - length / 2) for goal in ideal]
            missed += min(far) ** 2
            del ideal[far.index(min(far))]
        places, strain = _nearest_rooms(free, ideal, length, gap)
        trials.append((-len(places), missed + strain, places))
    return min(trials)[2]


def _without(
    rooms: Sequence[tuple[float, float]], taken: Sequence[float], apart: float
) -> list[tuple[float, float]]:
    """What is left of rooms `apart` mm from places that are taken."""
    left = list(rooms)
    for each in taken:
        left = [
            (max(low, start), min(high, end))
            for low, high in left
            for start, end in ((-math.inf, each - apart), (each + apart, math.inf))
            if max(low, start) <= min(high, end)
        ]
    return left


def _nearest_rooms(
    rooms: Sequence[tuple[float, float]], ideal: Sequence[float], length: float, gap: float
) -> tuple[list[float], float]:
    """Each ideal place moved to the nearest room clear of those already taken, and the sum of
    the squared moves."""
    apart = gap + CLEAR
    places: list[float] = []
    strain = 0.0
    for goal in ideal:
        earliest = places[-1] + apart if places else 0.0
        latest = places[0] + length - apart if places else length
        open_rooms = [
            (max(low, earliest), min(high, latest))
            for low, high in rooms
            if max(low, earliest) <= min(high, latest)
        ]
        if not open_rooms:
            continue
        place = min((min(max(goal, low), high) for low, high in open_rooms), key=_from(goal))
        strain += (place - goal) ** 2
        places.append(place)
    return places, strain


def _from(goal: float) -> Callable[[float], float]:
    return lambda place: abs(place - goal)


def _part(path: Path, start: float, end: float) -> Path:
    """A part of a closed path that may run past its start."""
    length = path.length
    if end <= length:
        return path.part(start, end)
    if start >= length:
        return path.part(start - length, end - length)
    edges = (*path.part(start, length).segments, *path.part(0.0, end - length).segments)
    return Path.from_segments(edges, closed=False)


def _too_few(stroke: Stroke, wanted: int, found: int) -> Finding:
    """Fewer bridges found room on an outline than were asked for.

    Measured: the bridges, short stretches left uncut, that found room on an outline, against how
    many the profile asks for by `count` or by `spacing`. None stands on a corner, on the end of an
    arc or on the border of a glue tab, and each needs its width on a straight or evenly bent
    stretch.

    Why: bridges hold a piece in the sheet until the last cut is done. With too few it may lift,
    catch on the tool and spoil what is left, or fall and be hit by the beam.

    Cure: ask for fewer or narrower `bridges` in the profile; or hold the piece down in another way,
    such as a sticky mat or a strip of tape.

    Source: common practice, no source.
    """
    return Finding(
        "too-few-bridges",
        Severity.WARNING,
        stroke.found_at(),
        (count(found),),
        at_least(count(wanted)),
    )
