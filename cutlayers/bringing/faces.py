"""Which faces of a drawing are card, and which faces are one net.

Faces that share edges lie on one *island*; an island that lies in a face of another has that one
as its *ground*. What is enclosed by cuts alone, inside a panel, falls out: it is *waste*. An island
in waste, or beside all others, is card again.

This module needs shapely; whoever brings no drawing does not import it.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence

import numpy as np
import shapely

from cutlayers.bringing.lines import Edge, Kind
from cutlayers.bringing.planar import Loop, Sets, Side, inside_point
from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.transforms import Point
from cutlayers.net.overlaps import encloses


class Finder:
    """The smallest of some faces that a point lies in."""

    def __init__(self, paths: Sequence[Path]) -> None:
        self._paths = paths
        self._areas = [path.area for path in paths]
        bounds = np.array([path.bounds for path in paths]).reshape(-1, 4)
        self._tree = shapely.STRtree(shapely.box(*bounds.T))

    def at(self, point: Point, but: Iterable[int] = ()) -> int | None:
        """The number of the face, if any; `but` are not asked."""
        found = self._tree.query(shapely.Point(point)).tolist()
        for number in sorted(set(found) - set(but), key=lambda each: (self._areas[each], each)):
            if encloses(self._paths[number], point):
                return int(number)
        return None


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
    for rim in rims:
        beyond = next((inner[side ^ 1] for side in rim.sides if side ^ 1 in inner), None)
        if beyond is None:  # lines so close that nothing lies between them
            continue
        island = islands.of(beyond)
        around = finder.at(inside_point(rim.path))
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
