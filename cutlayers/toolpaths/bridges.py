"""Bridges: short stretches of an outline left uncut, which hold a piece in the sheet.

A bridge leaves a little burr. It never stands on a corner or an end of an arc, where it would
tear out of shape, nor on the border of a glue tab, where the burr would keep the tab from lying
flat.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence

from cutlayers.frozen import frozen
from cutlayers.geometry.crossings import distance_to
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.strokes import Stroke
from cutlayers.profile.machine import Bridges
from cutlayers.telling.findings import Finding, Severity, at_least
from cutlayers.telling.quantities import count
from cutlayers.toolpaths.places import ON_A_CUT, Lines

PHASES = 16
"""How many rotations of the evenly spread bridges are tried for the one that fits best."""

CLEAR = 1.0
"""mm of cut kept between a bridge and a corner, so that the corner itself comes out sharp."""


@frozen
class Bridged:
    """An outline with bridges: the cuts that are left of it, from its start round to it again,
    and where the bridges stand, in mm along the outline."""

    cuts: tuple[Path, ...]
    at: tuple[float, ...]


def bridge(stroke: Stroke, how: Bridges, kerf: float = 0.0) -> tuple[Bridged, tuple[Finding, ...]]:
    """Leave bridges in a closed cut, spread as evenly as its corners and tabs allow.

    `stroke.path` is where the tool runs, half a kerf beside its `glued` stretches. A kerf takes
    from both ends of a bridge, so the path is interrupted for one kerf more than its width.
    Where fewer bridges find room than were asked for, a finding says so.
    """
    path = stroke.path
    length = path.length
    wanted = max(how.count, math.ceil(length / how.spacing - 1e-9) if how.spacing else 0)
    gap = how.width + kerf
    rooms = _rooms(stroke, gap, kerf)
    at = _spread(rooms, wanted, length, gap)
    findings: tuple[Finding, ...] = ()
    if len(at) < wanted:
        findings = (_too_few(stroke, wanted, len(at)),)
    if not at:
        return Bridged((path,), ()), findings
    rounds = itertools.pairwise((*at, at[0] + length))
    cuts = tuple(_part(path, here + gap / 2, following - gap / 2) for here, following in rounds)
    return Bridged(cuts, tuple(at)), findings


def _rooms(stroke: Stroke, gap: float, kerf: float) -> list[tuple[float, float]]:
    """Where the middle of a bridge may stand, in mm along the outline."""
    tabs = Lines(stroke.glued, kerf / 2 + ON_A_CUT)
    margin = gap / 2 + CLEAR
    rooms = []
    at = 0.0
    for edge in stroke.path.segments:
        low, high = at + margin, at + edge.length - margin
        at += edge.length
        if low <= high and not _on_tab(edge, stroke.glued, tabs, kerf):
            rooms.append((low, high))
    return rooms


def _on_tab(edge: Segment, glued: Sequence[Path], tabs: Lines, kerf: float) -> bool:
    """Whether any part of an edge runs along a glue tab: its middle, or a tab's on the edge."""
    if tabs.touch(edge.point_at(0.5)):
        return True
    reach = kerf / 2 + ON_A_CUT
    return any(
        distance_to(edge, border.point_at(0.5)) <= reach
        for path in glued
        for border in path.segments
    )


def _spread(
    rooms: Sequence[tuple[float, float]], wanted: int, length: float, gap: float
) -> list[float]:
    """As many places as find room, up to `wanted`, spread as evenly as may be."""
    if not rooms or not wanted:
        return []
    pitch = length / wanted
    trials = []
    for phase in range(PHASES):
        ideal = [(i + (phase + 0.5) / PHASES) * pitch for i in range(wanted)]
        places, strain = _nearest_rooms(rooms, ideal, length, gap)
        trials.append((-len(places), strain, places))
    return min(trials)[2]


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
