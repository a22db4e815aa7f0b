"""Where the lines of a drawing stand: round it, round holes, between panels, or loose.

All are taken for cuts that meet, whatever they are for; what their faces and borders are then says
what they may be for. This module needs shapely.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from enum import StrEnum

import numpy as np
import shapely

from cutlayers.bringing.arcs_again import MOST_TURN
from cutlayers.bringing.ends import REACH, met
from cutlayers.bringing.faces import Finder, islands_of
from cutlayers.bringing.lines import DrawnLine, Edge, Kind
from cutlayers.bringing.planar import Loop, Planar, Sets, Side, inside_point, planar
from cutlayers.frozen import frozen
from cutlayers.geometry.segments import Segment


class Where(StrEnum):
    """Where a stretch of line stands."""

    OUTER = "round a piece"
    RIM = "round what lies inside of a panel"
    INNER = "between two panels"
    SHORT = "between two panels, but for its ends"
    LOOSE = "ends inside of a panel"
    OUTSIDE = "beside all pieces"
    FRAME = "round all pieces"


HOLE = 0.1
"""Of the smallest panel beside it, up to which a face amid panels is a hole and no panel."""

GAP = 2.0
"""mm, about, up to which a face amid panels is a gap between them: a panel as narrow would be the
back of a fold over several layers, and run to the border."""


@frozen
class Stretch:
    """Part of a line from where it meets others to where it meets the next; of several lines where
    these run along each other. `area` is that of the panels on both sides, in mm²."""

    segment: Segment
    where: Where
    numbers: tuple[int, ...]
    area: float = 0.0


def standing(lines: Sequence[DrawnLine], join: float) -> tuple[Stretch, ...]:
    """All stretches of lines, in mm; gaps up to `join` count as closed.

    Raises NetError where lines meet in more places than those of a box can.
    """
    found = _stretches(_edges(lines, ()), join, 0.0)
    loose = _mostly(Where.LOOSE, found)
    if not loose:
        return found
    # A crease may stop short of what it should end on, which a cut does not.
    short = _reaching(_edges(_near(lines, loose), loose), loose, join)
    return tuple(
        replace(each, where=Where.SHORT)
        if each.where is Where.LOOSE and short.issuperset(each.numbers)
        else each
        for each in found
    )


def lengths(stretches: Sequence[Stretch]) -> Mapping[int, Mapping[Where, float]]:
    """How much of each line stands where, by its number."""
    found: dict[int, dict[Where, float]] = defaultdict(lambda: defaultdict(float))
    for each in stretches:
        for number in each.numbers:
            found[number][each.where] += each.segment.length
    return found


def _mostly(where: Where, stretches: Sequence[Stretch]) -> set[int]:
    """The lines of which most stands there."""
    return {
        number
        for number, each in lengths(stretches).items()
        if each[where] > sum(each.values()) / 2.0
    }


def _near(lines: Sequence[DrawnLine], loose: set[int]) -> list[DrawnLine]:
    """The loose lines and those that they may reach."""
    boxes = shapely.box(*np.array([line.path.bounds for line in lines]).T)
    tree = shapely.STRtree(boxes)
    of_loose = [index for index, line in enumerate(lines) if line.number in loose]
    found = tree.query(boxes[of_loose], "dwithin", 2.0 * REACH)[1]
    return [lines[index] for index in np.unique(found)]


def _reaching(edges: Sequence[Edge], creases: set[int], join: float) -> set[int]:
    """The creases of which most ends on other lines, once they may be longer."""
    graph = met(edges, join, REACH).graph
    degrees = graph.degrees
    whole: dict[int, float] = defaultdict(float)
    held: dict[int, float] = defaultdict(float)
    for piece in graph.pieces:
        length = piece.edge.segment.length
        for number in piece.edge.sources:
            if number not in creases:
                continue
            whole[number] += length
            held[number] += length if 1 not in (degrees[piece.tail], degrees[piece.head]) else 0.0
    return {number for number, length in whole.items() if held[number] > length / 2.0}


def _edges(lines: Sequence[DrawnLine], creases: Collection[int]) -> list[Edge]:
    found = []
    for line in lines:
        kind = Kind.SCORE if line.number in creases else Kind.CUT
        for segment in line.path.segments:
            halves = abs(segment.sweep) > MOST_TURN
            parts = (segment.part(0.0, 0.5), segment.part(0.5, 1.0)) if halves else (segment,)
            found += [Edge(part, kind, (line.number,)) for part in parts]
    return found


def _stretches(edges: Sequence[Edge], join: float, reach: float) -> tuple[Stretch, ...]:
    graph = met(edges, join, reach).graph
    segments = [piece.edge.segment for piece in graph.pieces]
    wheres = _wheres(planar(segments), segments)
    return tuple(
        Stretch(piece.edge.segment, where, piece.edge.sources, area)
        for piece, (where, area) in zip(graph.pieces, wheres, strict=True)
    )


def _wheres(graph: Planar, segments: Sequence[Segment]) -> list[tuple[Where, float]]:
    faces = [loop for loop in graph.loops if loop.area > 0.0]
    rims = [loop for loop in graph.loops if loop.area <= 0.0]
    finder = Finder([face.path for face in faces])
    inner, islands = islands_of(faces)
    size: dict[int, int] = defaultdict(int)
    for number in range(len(faces)):
        size[islands.of(number)] += 1
    grounds: dict[int, int | None] = {}
    for rim, ground in zip(rims, finder.at([inside_point(rim.path) for rim in rims]), strict=True):
        beyond = next((inner[side ^ 1] for side in rim.sides if side ^ 1 in inner), None)
        if beyond is not None:
            grounds[islands.of(beyond)] = ground
    areas = [face.area for face in faces]
    frames, furniture = _frames(areas, islands, size, grounds)
    openings = {number for number in range(len(faces)) if _is_opening(faces[number], inner, areas)}
    bare = [at for at in range(len(segments)) if inner.keys().isdisjoint((2 * at, 2 * at + 1))]
    around = dict(zip(bare, finder.at([segments[at].point_at(0.5) for at in bare]), strict=True))
    found = []
    for index in range(len(segments)):
        there = [inner[side] for side in (2 * index, 2 * index + 1) if side in inner]
        area = sum(areas[number] for number in there)
        if there and islands.of(there[0]) in furniture:
            where = Where.FRAME
        elif len(there) == 2:
            where = Where.RIM if not openings.isdisjoint(there) else Where.INNER
        elif there:
            ground = grounds.get(islands.of(there[0]))
            where = Where.OUTER if ground is None or ground in frames else Where.RIM
        else:
            beneath = around[index]
            where = Where.OUTSIDE if beneath is None or beneath in frames else Where.LOOSE
        found.append((where, area))
    return found


def _frames(
    areas: Sequence[float],
    islands: Sets,
    size: Mapping[int, int],
    grounds: Mapping[int, int | None],
) -> tuple[set[int], set[int]]:
    """The faces that are frames of a page, and their islands, with the title blocks in them.

    A frame holds what has creases, and is no panel; a hole in a panel has none. What a title block
    takes beside the frame is less than the nets in it; panels beside one with a pattern are more.
    """
    whole: dict[int, float] = defaultdict(float)
    for number, area in enumerate(areas):
        whole[islands.of(number)] += area
    held: dict[int, float] = defaultdict(float)
    for island, ground in grounds.items():
        if ground is not None and size[island] > 1:
            held[ground] += whole[island]
    frames = {
        ground
        for ground, inside in held.items()
        if whole[islands.of(ground)] - areas[ground] < inside
    }
    return frames, {islands.of(number) for number in frames}


def _is_opening(face: Loop, inner: Mapping[Side, int], areas: Sequence[float]) -> bool:
    """Whether a face is a hole in creases rather than a panel: amid panels that are all far larger,
    as the holes that relieve thick card are, or as narrow as a gap."""
    beyond = {inner.get(side ^ 1) for side in face.sides}
    around = [areas[other] for other in beyond if other is not None]
    narrow = 2.0 * face.area < GAP * face.path.length
    return None not in beyond and (narrow or face.area < HOLE * min(around))
