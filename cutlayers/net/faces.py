"""Panels in space as shapes that can be measured against each other.

This module needs shapely; whoever need not measure does not import it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import reduce

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from cutlayers.frozen import frozen
from cutlayers.geometry.overlays import areas, polygons, together, without
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.net.features import Work
from cutlayers.net.folding import FoldedNet
from cutlayers.net.model import Net
from cutlayers.net.panel import Panel
from cutlayers.net.relief_holes import Hole, cut
from cutlayers.net.space import Pose, Vector, cross, dot
from cutlayers.telling.findings import Subject

FACE_CHORD = 0.05
"""mm; chords stand in for curved borders within this distance, less than a caliper."""

PARALLEL = 5e-3
"""Sine of the angle by which faces that lie on each other may lean apart: over 60 mm it is 0.3 mm.
Those of a style are parallel to the last digits, those of a drawing to what a hand draws."""

TOUCHING = 1e-3
"""mm; panels are rigid planes without thickness here, so those that are stacked in one plane
differ by rounding only."""


@frozen
class Face:
    """One panel in space: its outline as a flat shape without holes, and its place.

    `ring` is the outline's points, arcs as chords, its start just once.
    """

    net: str
    panel: Panel
    pose: Pose
    ring: tuple[Point, ...]
    shape: shapely.Polygon
    low: Vector
    high: Vector

    @property
    def name(self) -> str:
        """The panel's name."""
        return self.panel.name

    @property
    def label(self) -> str:
        """Net and panel, for people."""
        return f"{self.net}: {self.panel.name}"

    @property
    def subject(self) -> Subject:
        """Net and panel, for findings."""
        return Subject(net=self.net, panel=self.panel.name)

    @property
    def corner(self) -> Vector:
        """A point of the face's border in space."""
        return self.pose.place(self.panel.outline.start)


def faces(boxes: Iterable[FoldedNet]) -> tuple[Face, ...]:
    """The faces of folded nets, in the order of nets and panels."""
    panels = [(folded, panel) for folded in boxes for panel in folded.net.panels]
    rings = [tuple(panel.outline.points(FACE_CHORD)) for _, panel in panels]
    return tuple(
        _face(folded.net.name, panel, folded.poses[panel.name], ring, shape)
        for (folded, panel), ring, shape in zip(panels, rings, polygons(rings), strict=True)
    )


def _face(
    net: str, panel: Panel, pose: Pose, ring: tuple[Point, ...], shape: shapely.Polygon
) -> Face:
    xs, ys, zs = zip(*map(pose.place, ring), strict=True)
    low, high = (min(xs), min(ys), min(zs)), (max(xs), max(ys), max(zs))
    return Face(net, panel, pose, ring, shape, low, high)


def pierced(panels: Sequence[Panel], holes: Sequence[Hole] = ()) -> list[BaseGeometry]:
    """Panels' flat shapes with their punches and windows taken out, and relief holes; more than one
    part at times."""
    cards = [cut(panel.outline, holes) for panel in panels]
    shapes = iter(areas([part.points(FACE_CHORD) for parts, _ in cards for part in parts]))
    found = []
    for panel, (parts, within) in zip(panels, cards, strict=True):
        whole = [next(shapes) for _ in parts]
        gone = _openings(panel, Work.PUNCH, Work.WINDOW)
        gone += [hole.points(FACE_CHORD) for hole in within]
        found.append(reduce(without, areas(gone), whole[0] if len(whole) == 1 else together(whole)))
    return found


def without_windows(face: Face) -> BaseGeometry:
    """A face's flat shape with its windows and slots taken out, through which another panel may
    go; more than one part at times."""
    windows = areas(_openings(face.panel, Work.WINDOW))
    return without(face.shape, together(windows)) if windows else face.shape


def _openings(panel: Panel, *works: Work) -> list[list[Point]]:
    """The borders of what is worked so on a panel."""
    return [each.path.points(FACE_CHORD) for each in panel.features if each.work in works]


def facing(one: Face, other: Face) -> int:
    """1 where two faces are parallel and look the same way, −1 the opposite way, 0 otherwise."""
    along = dot(one.pose.normal, other.pose.normal)
    if abs(along) < 0.5:
        return 0
    lean = cross(one.pose.normal, other.pose.normal)
    if dot(lean, lean) > PARALLEL**2:
        return 0
    return 1 if along > 0 else -1


def height(face: Face, of: Face) -> float:
    """How far `of`, a parallel face, lies in front of the outside of `face`, in mm."""
    return face.pose.flat(of.corner)[2]


def seen_from(pose: Pose, other: Pose, shape: BaseGeometry) -> BaseGeometry:
    """A flat shape of `other` in the flat coordinates of `pose`, dropped along its normal."""
    drop = _drop(pose, other)

    def seen(points: NDArray[np.float64]) -> NDArray[np.float64]:
        along, across = points[:, 0], points[:, 1]
        moved = np.empty_like(points)
        moved[:, 0] = drop.xx * along + drop.xy * across + drop.dx
        moved[:, 1] = drop.yx * along + drop.yy * across + drop.dy
        return moved

    dropped: BaseGeometry = shapely.transform(shape, seen)
    return dropped


def outlines_seen_from(pose: Pose, some: Sequence[Face]) -> list[shapely.Polygon]:
    """The shapes of faces in the flat coordinates of `pose`, dropped along its normal."""
    return polygons([_drop(pose, face.pose).apply_all(face.ring) for face in some])


def _drop(pose: Pose, other: Pose) -> Transform:
    """From the flat coordinates of `other` to those of `pose`, along its normal."""
    (rx, ry), (ux, uy) = (
        (dot(axis, pose.right), dot(axis, pose.up)) for axis in (other.right, other.up)
    )
    x, y, _ = pose.flat(other.origin)
    return Transform(rx, ux, x, ry, uy, y)


def into_creases(net: Net, panel: str, caliper: float, shape: BaseGeometry) -> float:
    """How far a shape on a panel reaches into the crease of the panel that it lies deepest in, in
    mm; 0 where it is clear of all.

    A crease is a caliper broad to either side of its middle, or half of the strip that bends where
    panels are folded right over.
    """
    deepest = max(
        (
            max(caliper, crease.strip / 2) - _line(crease.edge).distance(shape)
            for crease in net.hinges_of([panel])
        ),
        default=0.0,
    )
    return max(0.0, deepest)


def _line(edge: Segment) -> shapely.LineString:
    steps = 16 if edge.bulge else 1
    return shapely.LineString([edge.point_at(step / steps) for step in range(steps + 1)])
