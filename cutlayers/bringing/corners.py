"""The sides of a flat net's panels, and which two of them meet once the net is folded up.

Where two free sides of one length leave one corner of the sheet, with three panels or more between
them, they come together in the finished box, as those of two walls of a tray do. Once they have,
the sides behind them leave one corner too, so the sheet is closed like a zip. What hangs on a side
by one crease and is small beside the panel that carries it, a tab or a flap, is left out where that
lets two sides meet.

Source: the boundary of an unfolding is glued from its reflex corners on, whose sides can only meet
each other (E. Demaine and J. O'Rourke, "Geometric Folding Algorithms", Cambridge 2007, on gluings);
that what is small and hangs on one crease is a tab is common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from cutlayers.bringing.sides import STEP, Place, Sheet, Side
from cutlayers.frozen import frozen

MISFIT = 1.5
"""mm that two sides which meet may differ in length, and `SHARE` of it besides: layers step."""

SHARE = 0.03
"""Of a side's length, for what is drawn by hand."""

FULL_TURN = 358.5
"""Degrees of card round a corner; with more it does not close to a corner."""

FLAT_TURN = 330.0
"""Degrees; a corner with more is so flat that others come first."""

PANEL = 0.8
"""Share of a panel from which what hangs on it is rather a panel than a tab or a flap."""

PLAY = 1.0
"""mm by which sides that meet differ without much being said against them."""

UNLIKE = 0.12
"""Share of their length that two short sides which meet may differ by."""

MOST_PANELS = 6
"""Round one corner."""


@frozen
class Meeting:
    """Two sides that come together, each with its start at the other's end, and the panels round
    their corner."""

    one: Side
    other: Side
    panels: tuple[str, ...]


def meetings(sheet: Sheet) -> tuple[Meeting, ...]:
    """The sides that meet, the surest first; each side meets one other at most."""
    glued: dict[Place, Place] = {}
    found: list[Meeting] = []
    out: set[str] = set()
    """Panels that were left out: they meet no more."""
    held: set[str] = set()
    """Panels that meet others, and so are not left out."""
    while True:
        possible = [
            each
            for each in _candidates(sheet, glued)
            if not out & {*each[3].panels} and not held & _beyond(sheet, each[3])
        ]
        if not possible:
            return tuple(found)
        _, one, other, meeting = min(possible, key=lambda each: each[0])
        glued[one], glued[other] = other, one
        out |= _beyond(sheet, meeting)
        held |= {*meeting.panels}
        found.append(meeting)


def _beyond(sheet: Sheet, meeting: Meeting) -> set[str]:
    """The panels that a meeting leaves out."""
    sides = (meeting.one, meeting.other)
    return {
        name for side in sides for hinge in side.hinges for name in sheet.beyond[hinge, side.panel]
    }


@frozen
class _End:
    """A side that can be reached by walking round a corner: the panels on the way, the card
    between in degrees, how large what hangs on the side is, as a share of its panel, and how many
    sides on the way are glued, not hinged."""

    place: Place
    panels: tuple[str, ...]
    degrees: float
    share: float
    glued: int


_Candidate = tuple[float, Place, Place, Meeting]


def _candidates(sheet: Sheet, glued: Mapping[Place, Place]) -> Iterator[_Candidate]:
    """Pairs of sides that could meet, with what speaks against each."""
    for one, other in _joins(sheet, glued):
        for ways in ((1, -1), (-1, 1)):
            others = list(_round(sheet, glued, other, ways[1]))
            for first in _round(sheet, glued, one, ways[0]):
                for second in others:
                    candidate = _candidate(sheet, first, second)
                    if candidate:
                        yield candidate


def _joins(sheet: Sheet, glued: Mapping[Place, Place]) -> Iterator[tuple[Place, Place]]:
    for index, hinge in enumerate(sheet.net.hinges):
        pair = [sheet.across.get((index, name)) for name in (hinge.first, hinge.second)]
        if pair[0] and pair[1]:
            yield pair[0], pair[1]
    for one, other in glued.items():
        if one < other:
            yield one, other


def _candidate(sheet: Sheet, first: _End, second: _End) -> _Candidate | None:
    one, other = (sheet.sides[end.place[0]][end.place[1]] for end in (first, second))
    panels = dict.fromkeys((*first.panels, *second.panels))
    if first.place == second.place or len(panels) < 3 or len(panels) > MOST_PANELS:
        return None
    if one.panel == other.panel or first.degrees + second.degrees > FULL_TURN:
        return None
    misfit = abs(one.length - other.length)
    length = max(one.length, other.length)
    if misfit > min(MISFIT + SHARE * length, UNLIKE * length):
        return None
    degrees = first.degrees + second.degrees
    # First the corners that most of their card is round: others are not whole yet.
    against = (0.5 if degrees > FLAT_TURN else 0.0) - 1.2 * degrees / 360.0
    against += 0.1 * (first.glued + second.glued)
    against += (2 * misfit + 8 * max(0.0, misfit - PLAY)) / length
    against += sum(0.3 * end.share + (0.6 if end.share > PANEL else 0.0) for end in (first, second))
    against += 0.4 * sum(side.panel in sheet.bare for side in (one, other))
    against -= 0.6 * math.log2(length / sheet.longest)
    return against, first.place, second.place, Meeting(one, other, tuple(panels))


def _round(sheet: Sheet, glued: Mapping[Place, Place], at: Place, way: int) -> Iterator[_End]:
    """The sides met on walking round the corner at the end of a side, or with `way` −1 at its
    start, away from it."""
    panels: list[str] = []
    degrees, crossed = 0.0, 0
    place = at
    while len(panels) < MOST_PANELS:
        name = place[0]
        panels.append(name)
        onward = _next(sheet, place, way)
        if onward is None:
            return
        degrees += _corner(sheet, place, onward, way)
        side = sheet.sides[name][onward[1]]
        if onward in glued:
            place = glued[onward]
            crossed += 1
        elif not side.straight:
            return
        elif not side.hinges:
            yield _End(onward, tuple(panels), degrees, 0.0, crossed)
            return
        else:
            parts = [sheet.beyond[hinge, name] for hinge in side.hinges]
            share = sum(sheet.area[each] for part in parts for each in part) / sheet.area[name]
            if share <= 1.0:
                yield _End(onward, tuple(panels), degrees, share, crossed)
            beyond = _nearest(sheet, side, way)
            if beyond is None:
                return
            place = beyond
        if place == at:
            return


def _next(sheet: Sheet, place: Place, way: int) -> Place | None:
    """The side that follows on one, but for what is too short to count."""
    own = sheet.sides[place[0]]
    index = place[1]
    for _ in own:
        index = (index + way) % len(own)
        if own[index].length > STEP or own[index].hinges:
            return None if index == place[1] else (place[0], index)
    return None


def _corner(sheet: Sheet, place: Place, onward: Place, way: int) -> float:
    """Degrees of card between two sides of a panel that follow on each other."""
    one, other = (sheet.sides[place[0]][index] for index in (place[1], onward[1]))
    if way < 0:
        one, other = other, one
    ax, ay = one.end[0] - one.start[0], one.end[1] - one.start[1]
    bx, by = other.end[0] - other.start[0], other.end[1] - other.start[1]
    return 180.0 - math.degrees(math.atan2(ax * by - ay * bx, ax * bx + ay * by))


def _nearest(sheet: Sheet, side: Side, way: int) -> Place | None:
    """The side of the panel beyond the hinge next to where a walk round a corner comes to a side;
    None where that hinge does not reach there."""
    corner = side.start if way > 0 else side.end

    def off(hinge: int) -> float:
        edge = sheet.net.hinges[hinge].edge
        return min(math.dist(corner, edge.start), math.dist(corner, edge.end))

    hinge = min(side.hinges, key=off)
    if off(hinge) > 2 * STEP:
        return None
    each = sheet.net.hinges[hinge]
    return sheet.across.get((hinge, each.second if each.first == side.panel else each.first))
