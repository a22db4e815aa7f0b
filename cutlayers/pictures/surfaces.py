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
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from cutlayers.frozen import frozen
from cutlayers.geometry.overlays import rings_of
from cutlayers.geometry.strokes import Operation
from cutlayers.geometry.transforms import Point
from cutlayers.net.assembly import Assembly
from cutlayers.net.faces import FACE_CHORD, Face
from cutlayers.net.features import Work
from cutlayers.net.folding import FoldedNet
from cutlayers.net.panel import Panel
from cutlayers.net.relief_holes import outside
from cutlayers.net.space import Pose, Vector, dot
from cutlayers.net.stacking import Key, key

if TYPE_CHECKING:
    from numpy.typing import NDArray

Lines = tuple[tuple[Point, ...], ...]
"""Straight lines through points; a closed one comes back to its first."""

NEAR = 1e-3
"""mm; a piece of surface that comes this near to a plane lies on it."""

FAR = 1e5
"""mm; beyond any box."""

SLIVER = 1e-4
"""mm²; less of a surface is the rounding of a cut along its edge."""


@frozen
class Flat:
    """A panel, or a piece of one, in its own coordinates: where it is and what is drawn on it.

    `borders` are cut edges, `folds` hinges, `tears` perforations, `guides` drawn lines.
    """

    shape: BaseGeometry
    borders: Lines
    folds: Lines
    tears: Lines
    guides: Lines


@frozen
class Surface:
    """A whole face, or a piece of one. `rank` orders faces of one plane along the plane's `stack`
    normal."""

    face: Face
    flat: Flat
    stack: Vector
    rank: int
    whole: bool = True

    @property
    def shape(self) -> BaseGeometry:
        """Where the piece is, in its panel's coordinates."""
        return self.flat.shape

    @property
    def pose(self) -> Pose:
        """Where the panel lies."""
        return self.face.pose


def flats(folded: FoldedNet, cards: Mapping[Key, BaseGeometry]) -> dict[str, Flat]:
    """Every panel of a net by its name, the same however far the net is folded; `cards` are the
    shapes of its panels."""
    net = folded.net
    shapes = [cards[net.name, panel.name] for panel in net.panels]
    return {
        panel.name: _flat(panel, shape, rings, folded)
        for panel, shape, rings in zip(net.panels, shapes, rings_of(shapes), strict=True)
    }


def surfaces(box: Assembly, known: Mapping[str, Mapping[str, Flat]]) -> tuple[Surface, ...]:
    """Every face of an assembly as one whole surface; `known` are the `flats` of each net."""
    ranks = {
        key(face): (stack.normal, rank)
        for stack in box.stacks
        for rank, face in enumerate(stack.faces)
    }
    return tuple(Surface(face, known[face.net][face.name], *ranks[key(face)]) for face in box.faces)


def painted(all_surfaces: Sequence[Surface], toward: Vector) -> tuple[Surface, ...]:
    """The surfaces, cut up where needed, farthest first for a viewer in direction `toward`."""
    planes = [surface.pose for surface in all_surfaces]
    heights = _heights(all_surfaces, planes)
    pieces = [
        _Ranging(surface, plane, low, high)
        for plane, (surface, low, high) in enumerate(zip(all_surfaces, *heights, strict=True))
    ]
    return tuple(piece.surface for piece in _paint(pieces, planes, toward))


def _flat(
    panel: Panel, shape: BaseGeometry, rings: Sequence[Sequence[Point]], folded: FoldedNet
) -> Flat:
    straight = [hinge for hinge in folded.net.hinges_of([panel.name]) if not hinge.edge.bulge]
    lines: dict[Work, list[tuple[Point, ...]]] = {work: [] for work in Work}
    for feature in panel.features:
        paths = [feature.path]
        if feature.work is Work.SLIT:
            paths = outside(paths, folded.holes)
        lines[feature.work] += (tuple(path.as_line(FACE_CHORD)) for path in paths)
    edges = [(hinge.edge.start, hinge.edge.end) for hinge in straight]
    # Strips that stand for a bent panel are hinged along lines that nothing is worked on.
    folds = [
        (hinge.operation, (part.start, part.end))
        for hinge in straight
        if hinge.operation is not Operation.DRAW
        for part in folded.scored(hinge.edge)
    ]
    return Flat(
        shape,
        (*(run for ring in rings for run in _unhinged(ring, edges)), *lines[Work.SLIT]),
        tuple(ends for _, ends in folds),
        (
            *lines[Work.TEAR],
            *(ends for operation, ends in folds if operation is Operation.PERFORATE),
        ),
        tuple(lines[Work.GUIDE]),
    )


def _unhinged(ring: Sequence[Point], hinges: Sequence[tuple[Point, Point]]) -> Lines:
    """A border, or what is left of it between straight hinges; less than `NEAR` is no stretch."""
    runs: list[list[Point]] = [[ring[0]]]
    for start, end in pairwise(ring):
        along = (end[0] - start[0], end[1] - start[1])
        size = math.hypot(*along)
        done = 0.0
        for begin, finish in _covered(start, along, size, hinges):
            if begin - done > NEAR:
                runs[-1].append(_between(start, along, begin / size))
            done = max(done, finish)
            runs.append([_between(start, along, min(done / size, 1.0))])
        if done and size - done <= NEAR:
            runs[-1] = [end]
        else:
            runs[-1].append(end)
    if len(runs) > 1 and len(runs[0]) > 1 and runs[-1][-1] == ring[-1]:
        runs[0] = [*runs.pop()[:-1], *runs[0]]
    return tuple(tuple(run) for run in runs if len(run) > 1)


def _covered(
    start: Point, along: Point, size: float, hinges: Sequence[tuple[Point, Point]]
) -> list[tuple[float, float]]:
    """Where hinges run along a straight edge, from and to, in mm from its start; within `NEAR`,
    since shapes have been laid on the grid of areas and hinges have not."""
    found = []
    for one, other in hinges:
        ends = []
        for x, y in (one, other):
            x, y = x - start[0], y - start[1]
            if abs(along[0] * y - along[1] * x) > NEAR * size:
                break
            ends.append((along[0] * x + along[1] * y) / size)
        else:
            low, high = max(min(ends), 0.0), min(max(ends), size)
            if high - low > NEAR:
                found.append((low, high))
    return sorted(found)


def _between(start: Point, along: Point, share: float) -> Point:
    return (start[0] + share * along[0], start[1] + share * along[1])


@frozen
class _Ranging:
    """A surface, which plane is its own, and how low and high it reaches over every plane."""

    surface: Surface
    plane: int
    low: NDArray[np.float64]
    high: NDArray[np.float64]


def _heights(
    some: Sequence[Surface], planes: Sequence[Pose]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """The lowest and the highest point of each surface over each plane, in mm."""
    flat, which = shapely.get_coordinates([each.shape for each in some], return_index=True)
    poses = np.array([(each.pose.right, each.pose.up, each.pose.origin) for each in some])
    right, up, origin = poses[which].swapaxes(0, 1)
    points = origin + flat[:, :1] * right + flat[:, 1:] * up
    normals = np.array([plane.normal for plane in planes])
    levels = np.array([dot(plane.normal, plane.origin) for plane in planes])
    heights = points @ normals.T - levels
    starts = np.flatnonzero(np.diff(which, prepend=-1))
    return np.minimum.reduceat(heights, starts), np.maximum.reduceat(heights, starts)


def _paint(pieces: list[_Ranging], planes: Sequence[Pose], toward: Vector) -> Iterator[_Ranging]:
    if len(pieces) < 2:
        yield from pieces
        return
    chosen = _divider(pieces)
    plane = planes[chosen.plane]
    behind: list[_Ranging] = []
    level: list[_Ranging] = []
    ahead: list[_Ranging] = []
    for piece in pieces:
        low, high = piece.low[chosen.plane], piece.high[chosen.plane]
        if piece is chosen or (low > -NEAR and high < NEAR):
            level.append(piece)
        elif low > -NEAR:
            ahead.append(piece)
        elif high < NEAR:
            behind.append(piece)
        else:
            behind.extend(_part(piece, plane, -1.0, planes))
            ahead.extend(_part(piece, plane, 1.0, planes))
    if dot(plane.normal, toward) < 0:
        behind, ahead = ahead, behind
    yield from _paint(behind, planes, toward)
    yield from sorted(
        level,
        key=lambda piece: (
            piece.surface.rank if dot(piece.surface.stack, toward) > 0 else -piece.surface.rank
        ),
    )
    yield from _paint(ahead, planes, toward)


def _divider(pieces: Sequence[_Ranging]) -> _Ranging:
    """The piece whose plane cuts the fewest others, the first of several."""
    own = [piece.plane for piece in pieces]
    low = np.array([piece.low for piece in pieces])[:, own]
    high = np.array([piece.high for piece in pieces])[:, own]
    cuts = (low <= -NEAR) & (high >= NEAR)
    np.fill_diagonal(cuts, False)
    return pieces[int(cuts.sum(axis=0).argmin())]


def _tilt(pose: Pose, plane: Pose) -> tuple[float, float, float]:
    """Height above `plane` of the flat point (x, y) of `pose` as a·x + b·y + c."""
    return (
        dot(pose.right, plane.normal),
        dot(pose.up, plane.normal),
        plane.flat(pose.origin)[2],
    )


def _part(piece: _Ranging, plane: Pose, side: float, planes: Sequence[Pose]) -> Iterator[_Ranging]:
    """What lies on one side of a plane."""
    surface = piece.surface
    a, b, c = _tilt(surface.pose, plane)
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
    flat = surface.flat
    shape = flat.shape.intersection(half)
    if shape.area > SLIVER:
        cut = replace(
            surface,
            flat=Flat(
                shape,
                _within(flat.borders, half),
                _within(flat.folds, half),
                _within(flat.tears, half),
                _within(flat.guides, half),
            ),
            whole=False,
        )
        (low,), (high,) = _heights([cut], planes)
        yield _Ranging(cut, piece.plane, low, high)


def _within(lines: Lines, half: BaseGeometry) -> Lines:
    if not lines:
        return ()
    return _strings(shapely.intersection(shapely.MultiLineString(lines), half))


def _strings(found: BaseGeometry) -> Lines:
    """The lines of a shape, joined where they meet."""
    strings = [
        part
        for part in shapely.get_parts(found)
        if part.geom_type == "LineString" and part.length > NEAR
    ]
    merged = shapely.line_merge(shapely.MultiLineString(strings))
    return tuple(tuple((x, y) for x, y in part.coords) for part in shapely.get_parts(merged))
