"""Folded nets as pieces of surface in the order in which a painter lays them down.

The way: planes through faces part space in two, again and again, until every piece of surface
lies wholly on one side of every plane (a binary space partition). Seen from anywhere, the far
half is painted before the near one, so hidden faces come out right even where panels interlock.
Faces in one plane follow the order in which they are stacked.

Source: H. Fuchs, Z. M. Kedem and B. F. Naylor, "On visible surface generation by a priori tree
structures", SIGGRAPH 1980.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import shapely
from shapely.geometry.base import BaseGeometry

from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Operation
from cutlayers.geometry.transforms import Point
from cutlayers.net.assembly import Assembly
from cutlayers.net.faces import CHORD, Face, pierced
from cutlayers.net.features import Work
from cutlayers.net.model import Net
from cutlayers.net.space import Pose, Vector, dot
from cutlayers.net.stacking import key

NEAR = 1e-3
"""mm; a piece of surface that comes this near to a plane lies on it."""

FAR = 1e5
"""mm; beyond any box."""

SLIVER = 1e-4
"""mm²; less of a surface is the rounding of a cut along its edge."""


@dataclass(frozen=True, slots=True)
class Surface:
    """A piece of a face: flat shapes in its panel's coordinates.

    `borders` are cut edges, `folds` hinges, `tears` perforations, `guides` drawn lines; `rank`
    orders faces of one plane along the plane's `stack` normal.
    """

    face: Face
    shape: BaseGeometry
    borders: BaseGeometry
    folds: BaseGeometry
    tears: BaseGeometry
    guides: BaseGeometry
    stack: Vector
    rank: int

    @property
    def pose(self) -> Pose:
        """Where the panel lies."""
        return self.face.pose


def surfaces(box: Assembly) -> tuple[Surface, ...]:
    """Every face of an assembly as one whole surface."""
    nets = {folded.net.name: folded.net for folded in box.boxes}
    ranks = {
        key(face): (stack.normal, rank)
        for stack in box.stacks
        for rank, face in enumerate(stack.faces)
    }
    return tuple(_whole(face, nets[face.net], *ranks[key(face)]) for face in box.faces)


def painted(all_surfaces: Sequence[Surface], toward: Vector) -> tuple[Surface, ...]:
    """The surfaces, cut up where needed, farthest first for a viewer in direction `toward`."""
    return tuple(_paint(list(all_surfaces), toward))


def _whole(face: Face, net: Net, stack: Vector, rank: int) -> Surface:
    panel = face.panel
    folds = [hinge for hinge in net.hinges if panel.name in (hinge.first, hinge.second)]
    straight = [hinge for hinge in folds if not hinge.edge.bulge]
    hinged = shapely.MultiLineString([(h.edge.start, h.edge.end) for h in straight])
    # Strips that stand for a bent panel are hinged along lines that nothing is worked on.
    scored = shapely.MultiLineString(
        [(h.edge.start, h.edge.end) for h in straight if h.operation is not Operation.DRAW]
    )
    perforated = [
        [hinge.edge.start, hinge.edge.end]
        for hinge in folds
        if hinge.operation is Operation.PERFORATE and not hinge.edge.bulge
    ]
    lines: dict[Work, list[list[Point]]] = defaultdict(list)
    for feature in panel.features:
        lines[feature.work].append(_line(feature.path))
    shape = pierced(panel)
    borders = shape.boundary.difference(hinged.buffer(NEAR, cap_style="flat"))
    if lines[Work.SLIT]:
        borders = shapely.union_all([borders, shapely.MultiLineString(lines[Work.SLIT])])
    return Surface(
        face,
        shape,
        borders,
        scored,
        shapely.MultiLineString(lines[Work.TEAR] + perforated),
        shapely.MultiLineString(lines[Work.GUIDE]),
        stack,
        rank,
    )


def _line(path: Path) -> list[Point]:
    points = path.points(CHORD)
    return [*points, points[0]] if path.closed else points


def _paint(pieces: list[Surface], toward: Vector) -> Iterator[Surface]:
    if not pieces:
        return
    chosen = _divider(pieces)
    plane = chosen.pose
    behind: list[Surface] = []
    level: list[Surface] = []
    ahead: list[Surface] = []
    for piece in pieces:
        low, high = _heights(piece, plane)
        if piece is chosen or (low > -NEAR and high < NEAR):
            level.append(piece)
        elif low > -NEAR:
            ahead.append(piece)
        elif high < NEAR:
            behind.append(piece)
        else:
            behind.extend(_part(piece, plane, -1.0))
            ahead.extend(_part(piece, plane, 1.0))
    if dot(plane.normal, toward) < 0:
        behind, ahead = ahead, behind
    yield from _paint(behind, toward)
    yield from sorted(
        level, key=lambda piece: piece.rank if dot(piece.stack, toward) > 0 else -piece.rank
    )
    yield from _paint(ahead, toward)


def _divider(pieces: Sequence[Surface]) -> Surface:
    """The piece whose plane cuts the fewest others, the first of several."""

    def cuts(chosen: Surface) -> int:
        count = 0
        for piece in pieces:
            low, high = _heights(piece, chosen.pose)
            count += low <= -NEAR and high >= NEAR and piece is not chosen
        return count

    best, fewest = pieces[0], len(pieces) + 1
    for piece in pieces:
        count = cuts(piece)
        if count < fewest:
            best, fewest = piece, count
        if not count:
            break
    return best


def _tilt(pose: Pose, plane: Pose) -> tuple[float, float, float]:
    """Height above `plane` of the flat point (x, y) of `pose` as a·x + b·y + c."""
    return (
        dot(pose.right, plane.normal),
        dot(pose.up, plane.normal),
        plane.flat(pose.origin)[2],
    )


def _heights(piece: Surface, plane: Pose) -> tuple[float, float]:
    a, b, c = _tilt(piece.pose, plane)
    coordinates = shapely.get_coordinates(piece.shape)
    heights = coordinates[:, 0] * a + coordinates[:, 1] * b + c
    return float(heights.min()), float(heights.max())


def _part(piece: Surface, plane: Pose, side: float) -> Iterator[Surface]:
    """What lies on one side of a plane."""
    a, b, c = _tilt(piece.pose, plane)
    size = math.hypot(a, b)
    ux, uy = side * a / size, side * b / size
    x, y = -a * c / size**2, -b * c / size**2
    half = shapely.Polygon(
        [
            (x - FAR * uy, y + FAR * ux),
            (x + FAR * uy, y - FAR * ux),
            (x + FAR * (uy + ux), y + FAR * (uy - ux)),
            (x + FAR * (ux - uy), y + FAR * (uy + ux)),
        ]
    )
    shape = piece.shape.intersection(half)
    if shape.area > SLIVER:
        yield replace(
            piece,
            shape=shape,
            borders=piece.borders.intersection(half),
            folds=piece.folds.intersection(half),
            tears=piece.tears.intersection(half),
            guides=piece.guides.intersection(half),
        )
