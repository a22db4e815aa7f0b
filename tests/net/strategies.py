"""Random nets for hypothesis: rectangles on a lattice, and free outlines with arcs."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass, replace

import shapely
from hypothesis import strategies as st

from cutlayers.geometry.crossings import distance_to
from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Operation
from cutlayers.geometry.transforms import Transform, turn_between
from cutlayers.net import Net, Role
from cutlayers.net.overlaps import fraction_on
from cutlayers.net.shapes import Shape, polygon, rectangle
from cutlayers.telling.errors import NetError

SIDES = ((1, 0), (0, 1), (-1, 0), (0, -1))
"""Directions along the south, east, north and west side of a box walked counter-clockwise."""

EDGES = ("bottom", "right", "top", "left")

FOLDS_DEG = (90.0, 180.0, 45.0, 0.0, -90.0, -30.0)
OPERATIONS = (Operation.SCORE, Operation.PERFORATE)


@dataclass(frozen=True)
class Box:
    """A rectangle on the lattice; `turn` is which side its bottom edge lies on."""

    name: str
    left: int
    bottom: int
    right: int
    top: int
    turn: int

    def side(self, side: int) -> tuple[tuple[int, int], int]:
        """Where a side begins, counter-clockwise, and how long it is."""
        starts = (
            (self.left, self.bottom),
            (self.right, self.bottom),
            (self.right, self.top),
            (self.left, self.top),
        )
        size = (self.right - self.left, self.top - self.bottom)[side % 2]
        return starts[side], size

    def edge(self, side: int) -> str:
        """The name of the panel's edge that lies on a side."""
        return f"{self.name}.{EDGES[(side - self.turn) % 4]}"

    def overlaps(self, other: Box) -> bool:
        """Whether the two have cells in common."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.bottom < other.top
            and other.bottom < self.top
        )


def beside(name: str, host: Box, side: int, at: int, wide: int, deep: int) -> Box:
    """The box that lies outside a side of another, `at` cells from that side's start."""
    (x, y), _ = host.side(side)
    (ax, ay), (ox, oy) = SIDES[side], SIDES[(side - 1) % 4]
    xs = sorted((x + at * ax, x + (at + wide) * ax + deep * ox))
    ys = sorted((y + at * ay, y + (at + wide) * ay + deep * oy))
    return Box(name, xs[0], ys[0], xs[1], ys[1], (side + 2) % 4)


@st.composite
def lattice_nets(draw: st.DrawFn, least: int = 1, most: int = 12, largest: int = 3) -> Net:
    """Rectangles that touch in every way: hinged in part, unhinged, in points, and round holes.

    Overlaps are kept out by whole numbers, not by anything under test. Some panels are taken
    out again, which leaves holes, and parts that touch in a point or not at all.
    """
    unit = draw(st.sampled_from((10.0, 7.3, 25.4 / 3)))
    sizes = st.integers(1, largest)
    wide, deep = draw(sizes), draw(sizes)
    boxes = [Box("p0", 0, 0, wide, deep, 0)]
    net = Net.start("lattice", "p0", rectangle(wide * unit, deep * unit))
    for number in range(1, draw(st.integers(least, most))):
        host, side = draw(st.sampled_from(boxes)), draw(st.integers(0, 3))
        wide, deep = draw(sizes), draw(sizes)
        at = draw(st.integers(1 - wide, host.side(side)[1] - 1))
        box = beside(f"p{number}", host, side, at, wide, deep)
        if any(box.overlaps(other) for other in boxes):
            continue
        net = net.attach(
            box.name,
            rectangle(wide * unit, deep * unit),
            to=host.edge(side),
            at=at * unit,
            role=Role.WALL,
            fold_deg=draw(st.sampled_from(FOLDS_DEG)),
            operation=draw(st.sampled_from(OPERATIONS)),
        )
        boxes.append(box)
    return placed(draw, _thinned(draw, _closed_in_places(draw, net, boxes)))


def crowded_nets() -> st.SearchStrategy[Net]:
    """Small rectangles crowded together, so that holes and points of touch are common."""
    return lattice_nets(least=12, most=30, largest=2)


def _thinned(draw: st.DrawFn, net: Net) -> Net:
    """The net without some of its panels and their hinges; the root stays."""
    gone = {panel.name for panel in net.panels[1:] if draw(st.integers(0, 5)) == 0}
    return replace(
        net,
        panels=tuple(panel for panel in net.panels if panel.name not in gone),
        hinges=tuple(hinge for hinge in net.hinges if not gone & {hinge.first, hinge.second}),
    )


def _closed_in_places(draw: st.DrawFn, net: Net, boxes: list[Box]) -> Net:
    """Hinge some of the neighbours that only touch."""
    for i, one in enumerate(boxes):
        for other in boxes[:i]:
            for side in range(4):
                if not draw(st.booleans()):
                    continue
                try:
                    net = net.close(
                        one.edge(side),
                        other.edge((side + 2) % 4),
                        fold_deg=draw(st.sampled_from(FOLDS_DEG)),
                    )
                except NetError as error:
                    assert "edge to edge" in str(error) or "hinged already" in str(error)
    return net


@st.composite
def free_nets(draw: st.DrawFn, most: int = 9) -> Net:
    """Polygons, tapered tabs and rounded flaps at any angle, some hinged along an arc."""
    net = Net.start("free", "p0", draw(roots()))
    covered = [flat(net.root.outline)]
    free = [f"p0.{edge}" for edge in net.root.edges]
    for number in range(1, draw(st.integers(1, most))):
        reference = draw(st.sampled_from(free))
        panel, _, edge = reference.rpartition(".")
        host = net.panel(panel).edge(edge)
        if abs(host.bulge) > 0.9:
            continue  # the sides of a flap on so round an edge would cross it
        shape = draw(flaps(host.chord, host.bulge))
        own = shape.outline.segments[0].chord
        at = None
        if not host.bulge and draw(st.booleans()):
            at = draw(st.floats(-0.4 * own, host.chord - 0.5 * own))
        try:
            grown = net.attach(
                f"p{number}",
                shape,
                to=reference,
                at=at,
                role=Role.FLAP,
                fold_deg=draw(st.sampled_from(FOLDS_DEG)),
                operation=draw(st.sampled_from(OPERATIONS)),
            )
        except NetError as error:
            assert "does not touch" in str(error)
            continue
        outline = grown.panel(f"p{number}").outline
        new = flat(outline)
        if any(shapely.intersection(new, old).area > 1e-6 for old in covered):
            continue
        others = [panel.outline for panel in net.panels]
        if _nearly_met(outline, others) or _nearly_tangent(outline, others):
            continue
        net = grown
        covered.append(new)
        free.remove(reference)
        free.extend(f"p{number}.{edge}" for edge in shape.edges[1:])
    return placed(draw, net)


def nets() -> st.SearchStrategy[Net]:
    """Nets of every kind."""
    return st.one_of(lattice_nets(), crowded_nets(), free_nets())


def roots() -> st.SearchStrategy[Shape]:
    """Regular polygons, rectangles, and discs of a few arcs."""
    return st.one_of(
        st.builds(_regular, st.integers(3, 7), st.floats(15, 60)),
        st.builds(_disc, st.integers(2, 5), st.floats(15, 60)),
        st.builds(rectangle, st.floats(10, 80), st.floats(10, 80)),
        st.builds(_notched, st.floats(30, 80), st.floats(15, 60), st.floats(4, 10)),
    )


def flaps(chord: float, bulge: float) -> st.SearchStrategy[Shape]:
    """Shapes whose first edge fits an edge of that chord and bulge, or part of it if straight."""
    depths = st.floats(6, 30)
    if bulge:
        # A hollow bottom must not reach the flap's top.
        return st.builds(
            lambda depth: Shape(
                Path(
                    ((0.0, 0.0), (chord, 0.0), (chord, depth), (0.0, depth)),
                    (-bulge, 0.0, 0.0, 0.0),
                    closed=True,
                ),
                EDGES,
            ),
            depths.map(lambda depth: depth + max(0.0, bulge) * chord / 2),
        )
    wide = st.floats(0.5, 1.0).map(lambda share: max(4.0, share * chord)) | st.just(chord)
    return st.one_of(
        st.builds(rectangle, wide, depths),
        st.builds(_tapered, wide, depths, st.floats(0.05, 0.45)),
        st.builds(_pointed, wide, depths, st.floats(0.1, 0.9)),
        st.builds(_domed, wide, st.floats(0.1, 1.3)),
    )


def placed(draw: st.DrawFn, net: Net) -> Net:
    """The net as it is, or anywhere on a metre's sheet at any angle."""
    if draw(st.booleans()):
        return net
    return net.transformed(draw(motions()))


def motions() -> st.SearchStrategy[Transform]:
    """Turns and moves within a metre."""
    far = st.floats(-1000, 1000)
    return st.builds(
        lambda angle, x, y: Transform.translation(x, y) @ Transform.rotation(angle),
        st.floats(-180, 180),
        far,
        far,
    )


def flat(path: Path, tolerance: float = 1e-3) -> shapely.Polygon:
    """A closed path as a dense polygon."""
    return shapely.Polygon(path.points(tolerance))


def _nearly_met(outline: Path, others: list[Path]) -> bool:
    """Whether a corner comes so close to another outline that a rounding would decide."""
    for one, other in [pair for path in others for pair in ((outline, path), (path, outline))]:
        ring = flat(other, 1e-5).exterior
        if any(1e-8 < ring.distance(shapely.Point(corner)) < 1e-2 for corner in one.vertices):
            return True
    return False


def _nearly_tangent(outline: Path, others: list[Path]) -> bool:
    """Whether an arc leaves a corner so nearly along an edge that runs through it that they part,
    or overlap, by less than a polygon of chords shows. Edges on each other, as at a hinge, do not
    count."""
    for path in others:
        for own, other in itertools.product(outline.segments, path.segments):
            if not (own.bulge or other.bulge):
                continue
            both = (own, own.reversed()), (other, other.reversed())
            for one, along in itertools.chain(
                itertools.product(*both), itertools.product(*both[::-1])
            ):
                place = (
                    0.0
                    if math.dist(one.start, along.start) < 1e-6
                    else fraction_on(along, one.start)
                )
                if place is None:
                    continue
                turn = turn_between(one.direction_at(0.0), along.direction_at(place))
                apart = min(
                    distance_to(along, one.point_at(0.5)), distance_to(one, along.point_at(0.5))
                )
                if abs(turn) < math.radians(1.0) and apart > 1e-6:
                    return True
    return False


def _regular(sides: int, radius: float) -> Shape:
    turns = [2 * math.pi * i / sides for i in range(sides)]
    return polygon(*((radius * math.cos(turn), radius * math.sin(turn)) for turn in turns))


def _disc(arcs: int, radius: float) -> Shape:
    corners = _regular(arcs, radius) if arcs > 2 else None
    vertices = corners.outline.vertices if corners else ((radius, 0.0), (-radius, 0.0))
    bulge = math.tan(math.pi / 2 / arcs)
    return Shape(
        Path(vertices, (bulge,) * arcs, closed=True), tuple(f"arc-{i}" for i in range(arcs))
    )


def _notched(wide: float, deep: float, radius: float) -> Shape:
    """A rectangle with a half-round notch in its top."""
    middle = wide / 2
    return Shape(
        Path(
            (
                (0.0, 0.0),
                (wide, 0.0),
                (wide, deep),
                (middle + radius, deep),
                (middle - radius, deep),
                (0.0, deep),
            ),
            (0.0, 0.0, 0.0, -1.0, 0.0, 0.0),
            closed=True,
        ),
        ("bottom", "right", "top-right", "notch", "top-left", "left"),
    )


def _tapered(wide: float, deep: float, share: float) -> Shape:
    run = share * wide
    return polygon((0, 0), (wide, 0), (wide - run, deep), (run, deep), edges=EDGES)


def _pointed(wide: float, deep: float, share: float) -> Shape:
    return polygon((0, 0), (wide, 0), (share * wide, deep))


def _domed(wide: float, bulge: float) -> Shape:
    return Shape(Path(((0.0, 0.0), (wide, 0.0)), (0.0, bulge), closed=True), ("bottom", "dome"))
