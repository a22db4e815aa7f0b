"""Which faces of a drawing are card, and which faces are one net.

Faces that share edges lie on one *island*; an island that lies in a face of another has that one
as its *ground*. What is enclosed by cuts alone, inside a panel, falls out: it is *waste*. An island
in waste, or beside all others, is card again.

This module needs shapely; whoever brings no drawing does not import it.
"""

from __future__ import annotations

import itertools
from collections import defaultdict
from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from cutlayers.bringing.lines import Edge, Kind
from cutlayers.bringing.planar import Loop, Sets, Side, inside_point
from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.transforms import Point

Floats = NDArray[np.float64]


AT_ONCE = 2000
"""Points asked for at a time, which bounds the memory."""


class Finder:
    """The smallest of some faces that points lie in, which lie on no border."""

    def __init__(self, paths: Sequence[Path]) -> None:
        self._paths = paths
        self._areas = np.array([path.area for path in paths])
        bounds = np.array([path.bounds for path in paths]).reshape(-1, 4)
        self._tree = shapely.STRtree(shapely.box(*bounds.T))
        self._chords: dict[int, shapely.Polygon | None] = {}

    def at(self, points: Sequence[Point]) -> list[int | None]:
        """The number of each point's face, if any. (Many at once take a tenth of the time.)"""
        found: list[int | None] = []
        for begin in range(0, len(points), AT_ONCE):
            found += self._some(np.array(points[begin : begin + AT_ONCE], dtype=float))
        return found

    def _some(self, points: Floats) -> list[int | None]:
        ones, others = self._tree.query(shapely.points(points))
        best: list[int | None] = [None] * len(points)
        order = np.lexsort((others, self._areas[others]))[::-1]
        # The smallest come last, and stay.
        for number, places in itertools.groupby(order.tolist(), key=lambda pair: int(others[pair])):
            there = ones[list(places)]
            for point in there[self._encloses(number, points[there])].tolist():
                best[point] = number
        return best

    def _encloses(self, number: int, points: Floats) -> NDArray[np.bool_]:
        """Which points a face encloses: an odd number of its chords' polygon and of the slices
        between arcs and chords do. Source: a point's winding number, and its parity."""
        path = self._paths[number]
        if number not in self._chords:
            polygon = shapely.Polygon(path.vertices) if len(path.vertices) > 2 else None
            shapely.prepare(polygon)
            self._chords[number] = polygon
        chords, (xs, ys) = self._chords[number], points.T
        inside = np.zeros(len(points), bool)
        if chords is not None:
            inside = shapely.contains_xy(chords, xs, ys)
        for segment in path.segments if any(path.bulges) else ():
            if segment.bulge:
                (x0, y0), (x1, y1), (cx, cy) = segment.start, segment.end, segment.centre
                turn = (x0 - xs) * (y1 - ys) - (y0 - ys) * (x1 - xs)
                beyond = turn < 0.0 if segment.bulge > 0.0 else turn >= 0.0
                inside ^= beyond & (np.hypot(xs - cx, ys - cy) < segment.radius)
        return inside


@frozen
class Cards:
    """Faces told apart. `net` is the set that each face of card is in, None for waste; `beside` are
    the faces to the left and to the right of each edge, waste and what lies around not counted;
    `holes` are the openings in each face."""

    faces: tuple[Loop, ...]
    net: tuple[int | None, ...]
    beside: dict[int, tuple[int | None, int | None]]
    holes: dict[int, list[Path]]
    finder: Finder


def cards(loops: Sequence[Loop], edges: Sequence[Edge]) -> Cards:
    """Tell card from waste, and what hangs together."""
    faces = tuple(loop for loop in loops if loop.area > 0.0)
    rims = [loop for loop in loops if loop.area <= 0.0]
    finder = Finder([face.path for face in faces])
    inner, islands = islands_of(faces)
    ground: dict[int, int | None] = {}
    rims_of: dict[int, list[Loop]] = defaultdict(list)
    outside: dict[Side, int | None] = {}
    for rim, around in zip(rims, finder.at([inside_point(rim.path) for rim in rims]), strict=True):
        beyond = next((inner[side ^ 1] for side in rim.sides if side ^ 1 in inner), None)
        if beyond is None:  # lines so close that nothing lies between them
            continue
        island = islands.of(beyond)
        ground[island] = around
        rims_of[island].append(rim)
        outside.update((side, around) for side in rim.sides)
    for number in range(len(faces)):
        ground.setdefault(islands.of(number), None)
    nets = Sets(len(faces))
    for index, edge in enumerate(edges):
        one, other = inner.get(2 * index), inner.get(2 * index + 1)
        if edge.kind is not Kind.CUT and one is not None and other is not None:
            nets.join(one, other)
    return _sorted_out(faces, edges, islands, nets, ground, rims_of, inner, outside, finder)


def islands_of(faces: Sequence[Loop]) -> tuple[dict[Side, int], Sets]:
    """The face to the left of each side, by its number, and the islands that the faces lie on."""
    inner = {side: number for number, face in enumerate(faces) for side in face.sides}
    islands = Sets(len(faces))
    for side, number in inner.items():
        if (twin := inner.get(side ^ 1)) is not None:
            islands.join(number, twin)
    return inner, islands


def _sorted_out(
    faces: tuple[Loop, ...],
    edges: Sequence[Edge],
    islands: Sets,
    nets: Sets,
    ground: dict[int, int | None],
    rims_of: dict[int, list[Loop]],
    inner: dict[Side, int],
    outside: dict[Side, int | None],
    finder: Finder,
) -> Cards:
    left_of = {**inner, **outside}
    members: dict[int, list[int]] = defaultdict(list)
    for number in range(len(faces)):
        members[islands.of(number)].append(number)
    size: dict[int, int] = defaultdict(int)
    for number in range(len(faces)):
        size[nets.of(number)] += 1
    hinged = {island for island, some in members.items() if any(size[nets.of(n)] > 1 for n in some)}
    inside: dict[int, list[int]] = defaultdict(list)
    for island, around in ground.items():
        if around is not None:
            inside[around].append(island)
    card: dict[int, bool] = {}
    holes: dict[int, list[Path]] = defaultdict(list)
    waiting = sorted((island for island, around in ground.items() if around is None), reverse=True)
    while waiting:
        island = waiting.pop()
        around = ground[island]
        on_card = around is not None and card[around]
        falls_out = on_card and island not in hinged
        if around is not None and on_card:
            holes[around] += [rim.path.reversed() for rim in rims_of[island]]
        for number in members[island]:
            there = inside[number]
            frame = size[nets.of(number)] == 1 and any(each in hinged for each in there)
            enclosed = _enclosed_by_one(number, faces[number], inner, nets)
            card[number] = not falls_out and not frame and not enclosed
            waiting += sorted(there, reverse=True)
    for number in range(len(faces)):  # islands that lie in each other for want of digits
        card.setdefault(number, False)
    left = {
        index: (
            _card_beside(2 * index, left_of, card),
            _card_beside(2 * index + 1, left_of, card),
        )
        for index in range(len(edges))
    }
    told = tuple(nets.of(n) if card[n] else None for n in range(len(faces)))
    return Cards(faces, told, left, holes, finder)


def _card_beside(side: Side, left_of: dict[Side, int | None], card: dict[int, bool]) -> int | None:
    number = left_of.get(side)
    return number if number is not None and card[number] else None


def _enclosed_by_one(number: int, face: Loop, inner: dict[Side, int], nets: Sets) -> bool:
    """Whether a face lies amid the panels of a single other net on its island, cut off from all of
    them: an opening across creases."""
    beyond = [inner.get(side ^ 1) for side in face.sides]
    around = {nets.of(other) for other in beyond if other is not None}
    return None not in beyond and len(around) == 1 and nets.of(number) not in around
