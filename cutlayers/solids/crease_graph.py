"""A net as a graph: corners, sides and faces; two faces share the corners of their hinge.

Panels that only lie beside each other, cut apart, have corners of their own, so that the graph
holds however the net is folded. A hinge that closes a loop is shared where its two panels meet;
where they gape, in a box that is partly open, it is two borders.

A panel with holes is taken apart into triangles, since a face is one ring of corners; the edges
between them join what is one face. Where a relief hole takes the end of a crease both its panels
end with it; a crease that is scored short of a corner folds up to it all the same.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import shapely
from shapely import Polygon

from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.transforms import Point
from cutlayers.net.edges import COINCIDENT, same_place
from cutlayers.net.faces import FACE_CHORD
from cutlayers.net.features import Work
from cutlayers.net.folding import FoldedNet
from cutlayers.net.panel import Hinge, Panel
from cutlayers.net.relief_holes import cut, outside
from cutlayers.net.space import Vector
from cutlayers.telling.errors import NetError

Corner = int
Side = tuple[Corner, Corner]


@frozen
class CreaseGraph:
    """Corners flat and folded, in mm; each side once, with the hinge it is, or None for a border;
    `joins` are the sides between triangles of one panel, `twice` the borders that two faces have.
    Faces run counter-clockwise as the outside is seen, each with its panel."""

    flat: tuple[Point, ...]
    folded: tuple[Vector, ...]
    sides: dict[Side, Hinge | None]
    joins: frozenset[Side]
    twice: frozenset[Side]
    faces: tuple[tuple[Panel, tuple[Corner, ...]], ...]


def crease_graph(folded: FoldedNet) -> CreaseGraph:
    """The graph of a folded net. Raises NetError for a hole that is not inside of its panel."""
    net = folded.net
    gaping = {id(each.hinge) for each in folded.closures if each.gap > COINCIDENT}
    corners = _Corners(folded)
    cards = {panel.name: cut(panel.outline, folded.holes) for panel in net.panels}
    rings = {
        name: [part.points(FACE_CHORD) for part in parts] for name, (parts, _) in cards.items()
    }
    hinges: list[tuple[Hinge, Path]] = []
    for hinge in net.hinges:
        pair = (hinge.first, hinge.second)
        for left in outside([Path.line(hinge.edge.start, hinge.edge.end)], folded.holes):
            ends = [[_corner(rings[name], end) for name in pair] for end in (left.start, left.end)]
            if id(hinge) not in gaping:
                hinges.append((hinge, left))
                for both in ends:
                    corners.join(*map(corners.of, pair, both))
    faces = []
    joins: set[Side] = set()
    for panel in net.panels:
        loops, inner = _loops(panel, rings[panel.name], cards[panel.name][1])
        faces += [(panel, tuple(corners.of(panel.name, p) for p in loop)) for loop in loops]
        joins |= {
            _side(corners.of(panel.name, one), corners.of(panel.name, other))
            for one, other in inner
        }
    numbers, flat, placed = corners.numbered()
    told = tuple((panel, tuple(numbers[corner] for corner in face)) for panel, face in faces)
    known = {
        _side(*(numbers[corners.near(hinge.first, end)] for end in (left.start, left.end))): hinge
        for hinge, left in hinges
    }
    counted: dict[Side, int] = {}
    for _, face in told:
        for side in zip(face, (*face[1:], face[0]), strict=True):
            counted[_side(*side)] = counted.get(_side(*side), 0) + 1
    inner_sides = frozenset(_side(numbers[one], numbers[other]) for one, other in joins)
    twice = {s for s, n in counted.items() if n > 1 and s not in known and s not in inner_sides}
    sides = {side: known.get(side) for side in counted}
    return CreaseGraph(flat, placed, sides, inner_sides, frozenset(twice), told)


class _Corners:
    """Corners of panels, those of a hinge joined: a forest of which each tree is one corner."""

    def __init__(self, folded: FoldedNet) -> None:
        self._folded = folded
        self._known: dict[tuple[str, Point], int] = {}
        self._above: list[int] = []

    def of(self, panel: str, point: Point) -> int:
        """The number of a panel's corner."""
        key = (panel, point)
        if key not in self._known:
            self._known[key] = len(self._above)
            self._above.append(len(self._above))
        return self._known[key]

    def near(self, panel: str, point: Point) -> int:
        """The number of the corner of a panel that lies at a point."""
        return next(n for (p, at), n in self._known.items() if p == panel and same_place(at, point))

    def join(self, one: int, other: int) -> None:
        """Make two corners one."""
        low, high = sorted((self._top(one), self._top(other)))
        self._above[high] = low

    def numbered(self) -> tuple[dict[int, int], tuple[Point, ...], tuple[Vector, ...]]:
        """New numbers without gaps, and for each where it is flat and folded."""
        numbers: dict[int, int] = {}
        new: dict[int, int] = {}
        flat: list[Point] = []
        placed: list[Vector] = []
        for (panel, point), number in self._known.items():
            top = self._top(number)
            if top not in new:
                new[top] = len(flat)
                flat.append(point)
                placed.append(self._folded.place(panel, point))
            numbers[number] = new[top]
        return numbers, tuple(flat), tuple(placed)

    def _top(self, number: int) -> int:
        while self._above[number] != number:
            number = self._above[number]
        return number


def _side(one: int, other: int) -> Side:
    return (one, other) if one < other else (other, one)


def _corner(rings: Sequence[list[Point]], point: Point) -> Point:
    """The corner of a panel's rings at a point of its border, made where there is none."""
    for ring in rings:
        for corner in ring:
            if same_place(corner, point):
                return corner
    _, ring, index = min(_detours(rings, point), key=lambda each: each[0])
    ring.insert(index + 1, point)
    return point


def _detours(
    rings: Sequence[list[Point]], point: Point
) -> Iterator[tuple[float, list[Point], int]]:
    """For each edge how much longer the way along it is by a point, its ring and its number."""
    for ring in rings:
        for index, (one, other) in enumerate(zip(ring, (*ring[1:], ring[0]), strict=True)):
            detour = math.dist(one, point) + math.dist(point, other) - math.dist(one, other)
            yield detour, ring, index


def _loops(
    panel: Panel, rings: Sequence[Sequence[Point]], within: Sequence[Path]
) -> tuple[list[tuple[Point, ...]], set[tuple[Point, Point]]]:
    """The faces that a panel is, and the sides that lie inside of it; `within` are the relief holes
    in it."""
    openings = [
        feature.path for feature in panel.features if feature.work in (Work.PUNCH, Work.WINDOW)
    ]
    holes = [Polygon(path.points(FACE_CHORD)) for path in (*openings, *within)]
    if not holes:
        return list(map(tuple, rings)), set()
    found: list[tuple[Point, ...]] = []
    for ring in rings:
        whole = Polygon(ring)
        own = [hole for hole in holes if len(rings) == 1 or whole.intersects(hole)]
        shape = Polygon(ring, [hole.exterior for hole in own])
        if not shape.is_valid:
            raise NetError(f"a hole of panel {panel.name!r} reaches its border or another hole")
        triangles = shapely.get_parts(shapely.constrained_delaunay_triangles(shape))
        found += [
            tuple((float(x), float(y)) for x, y in shapely.get_coordinates(each.exterior)[:3])
            for each in shapely.orient_polygons(triangles)
        ]
    sides = {
        side for face in found for side in zip(face, (*face[1:], face[0]), strict=True)
    }  # each as its own face runs, so that one of two neighbours has it the other way round
    return found, {(one, other) for one, other in sides if (other, one) in sides}
