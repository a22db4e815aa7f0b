"""The slabs of one net's panels on their way, and which of them may meet there.

Whether two slabs meet within some turns is first asked half way: where the boxes round them are
farther apart there than they move until either end, they do not, and need not be looked at again.
Else the turns are halved, down to one. So what is far apart is looked at a few times, and what
comes near in each turn.

Two panels that are hinged to each other, and lie each on its own side of the crease, meet nowhere
but there: they are looked at where a move ends, which is when they are folded farthest.

Panels are slabs, as in `net/slabs.py`; the card of one piece gives in its crease zones. Folded by
more than a right angle, two slabs meet up to c/2 · tan(θ/2) from their crease, which is then as
broad.

This module needs shapely and numpy; whoever need not measure does not import it.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray
from shapely import Polygon

from cutlayers.frozen import frozen
from cutlayers.geometry.segments import Segment
from cutlayers.net import Hinge, Panel
from cutlayers.net.folding import FoldedNet, folding_order, placed
from cutlayers.net.slabs import Plate, clear_parts, deepest, plate
from cutlayers.net.space import Pose

if TYPE_CHECKING:
    from cutlayers.box.box import Box

BROADEST = 12
"""Calipers; a crease zone is no broader, though panels are folded flat on each other."""

BESIDE = 0.01
"""mm that a panel may reach past its crease and still lies on its own side."""

FARTHER = 1.1
"""A panel of a ring need not go straight: on its way it may be farther from where it is half way
than it is at either end, by this share at most. An estimate: tests look at every turn beside it."""

Pairs = NDArray[np.bool_]
"""Which panels are to be looked at together, a row and a column each; the upper right half."""

Creases = tuple[tuple[Segment, int], ...]
"""Creases of a panel whose zones are left out, each with how many calipers broad."""

NOWHERE: Mapping[str, tuple[Segment, ...]] = {}


@frozen(slots=False)
class Lying:
    """Where panels lie, with the hinges at these angles in degrees: the middle of each, and the
    corners of its slab (one panel a row, the last corner said again where it has fewer) in the box
    round them."""

    poses: Mapping[str, Pose]
    angles: Mapping[Hinge, float]
    corners: NDArray[np.float64]
    boxes: NDArray[np.float64]


class Slabs:
    """The slabs of one net's panels, taken apart on the flat once."""

    def __init__(self, finished: FoldedNet, box: Box) -> None:
        name = finished.net.name
        self._finished = finished
        self._tree, _ = folding_order(finished.net)
        self._caliper = box.card.of(name).caliper
        self._faces = {face.name: face for face in box.assembly.faces if face.net == name}
        self._names = list(self._faces)
        self._blank = box.blank(name).net
        self._parts: dict[tuple[str, Creases], tuple[Polygon, ...]] = {}
        self._slabs: dict[tuple[str, Creases], tuple[Pose, tuple[Plate, ...]]] = {}
        self._hinges: dict[frozenset[str], list[Hinge]] = {}
        for hinge in finished.net.hinges:
            self._hinges.setdefault(frozenset((hinge.first, hinge.second)), []).append(hinge)
        self._at_crease = np.array(
            [[self._parted(one, other) for other in self._names] for one in self._names]
        )
        most = max(len(face.ring) for face in self._faces.values())
        rings = [[*face.ring, *[face.ring[-1]] * most][:most] for face in self._faces.values()]
        self._rings = np.array(rings)

    def reach(self, name: str) -> float:
        """How far the panel of the blank that one is a part of reaches, in mm."""
        x0, y0, x1, y1 = self._blank.panel(self._blank.panel_of(name)).outline.bounds
        return min(x1 - x0, y1 - y0)

    def moving(self, groups: Sequence[Sequence[str]]) -> Pairs:
        """Panels of one group with those that are of none or of another."""
        group = {name: index for index, names in enumerate(groups) for name in names}
        at = np.array([group.get(name, -1) for name in self._names])
        pairs: Pairs = np.triu(at[:, None] != at[None, :], 1)
        return pairs

    def on_the_way(self, pairs: Pairs) -> Pairs:
        """Those that may meet before a move ends."""
        left: Pairs = pairs & ~self._at_crease
        return left

    def lying(self, angles: Mapping[Hinge, float]) -> Lying:
        """The panels with hinges at these angles."""
        poses = placed(self._finished, self._tree, angles)
        axes = np.array(
            [(p.right, p.up, p.normal, p.origin) for p in (poses[name] for name in self._names)]
        )
        right, up, normal, origin = (axes[:, None, index] for index in range(4))
        middle = origin + self._rings[:, :, :1] * right + self._rings[:, :, 1:] * up
        half = self._caliper / 2 * normal
        corners = np.concatenate([middle - half, middle + half], axis=1)
        boxes = np.stack([corners.min(axis=1), corners.max(axis=1)], axis=1)
        return Lying(poses, angles, corners, boxes)

    def near(self, pairs: Pairs, start: Lying, half: Lying, end: Lying) -> Pairs:
        """Those that may meet between two looks, by where they are half way between."""
        ways = np.stack([start.corners, end.corners]) - half.corners
        far = FARTHER * np.sqrt((ways * ways).sum(axis=3).max(axis=(0, 2)))
        return pairs & _overlapping(half.boxes, far[:, None])

    def still(self, start: Lying, end: Lying) -> Pairs:
        """Those that lie to each other as they did at another look, and so move as one."""
        before, after = map(self._to_each_other, (start, end))
        same: Pairs = np.abs(after - before).max(axis=(2, 3)) < BESIDE
        return same

    def _to_each_other(self, lying: Lying) -> NDArray[np.float64]:
        """Where each panel, a column, lies beside each other one, a row: its axes and origin."""
        poses = np.zeros((len(self._names), 4, 4))
        for index, pose in enumerate(lying.poses[name] for name in self._names):
            poses[index, :3] = np.transpose((pose.right, pose.up, pose.normal, pose.origin))
        poses[:, 3, 3] = 1.0
        beside: NDArray[np.float64] = np.linalg.inv(poses)[:, None] @ poses[None, :]
        return beside

    def deepest(
        self, pairs: Pairs, lying: Lying, rims: Mapping[str, tuple[Segment, ...]] = NOWHERE
    ) -> tuple[float, tuple[str, str] | None]:
        """The deepest that panels to be looked at go through each other, and the two. `rims` are
        lines on panels that are folded flat about them, whose zones are as broad as any."""
        worst, between = 0.0, None
        for pair in zip(*np.nonzero(pairs & _overlapping(lying.boxes)), strict=True):
            one, other = (self._names[index] for index in pair)
            zones = self._zones(one, other, lying.angles)
            ones, others = (
                self._slab(
                    name, zones + tuple((rim, BROADEST) for rim in rims.get(name, ())), lying.poses
                )
                for name in (one, other)
            )
            depth = deepest(ones, others)
            if depth > worst:
                worst, between = depth, (one, other)
        return worst, between

    def whole(self, lying: Lying) -> dict[str, tuple[Plate, ...]]:
        """All slabs of the net, by the names of their panels."""
        return {name: self._slab(name, (), lying.poses) for name in self._names}

    def _zones(self, one: str, other: str, angles: Mapping[Hinge, float]) -> Creases:
        hinges = self._hinges.get(frozenset((one, other)), ())
        return tuple((hinge.edge, _broad(angles[hinge])) for hinge in hinges)

    def _parted(self, one: str, other: str) -> bool:
        """Whether two panels are hinged, and each lies on its own side of the crease."""
        hinges = self._hinges.get(frozenset((one, other)), ())
        return len(hinges) == 1 and all(
            _beyond(hinges[0].edge, self._faces[name].panel, way)
            for name, way in ((hinges[0].first, 1.0), (hinges[0].second, -1.0))
        )

    def _slab(self, name: str, creases: Creases, poses: Mapping[str, Pose]) -> tuple[Plate, ...]:
        """Most panels lie where they lay a turn before."""
        pose, key = poses[name], (name, creases)
        lay, slab = self._slabs.get(key, (None, ()))
        if lay != pose:
            face = self._faces[name]
            if key not in self._parts:
                broad = self._caliper * max((count for _, count in creases), default=1)
                self._parts[key] = clear_parts(face, [edge for edge, _ in creases], broad)
            face = replace(face, pose=pose)
            slab = tuple(plate(face, part, self._caliper) for part in self._parts[key])
            self._slabs[key] = (pose, slab)
        return slab


def _beyond(edge: Segment, panel: Panel, way: float) -> bool:
    """Whether a panel lies on the left of a straight edge, or on its right for a way of -1."""
    (x, y), (ux, uy) = edge.start, edge.direction_at(0.5)
    left: list[float] = [ux * (py - y) - uy * (px - x) for px, py in panel.outline.points(BESIDE)]
    return min(way * each for each in left) >= -BESIDE


def _broad(angle_deg: float) -> int:
    """How many calipers of a crease's zone lie to either side of it."""
    half = min(abs(angle_deg), 179.0) / 2
    return min(BROADEST, max(1, math.ceil(math.tan(math.radians(half)) / 2 - 1e-9)))


def _overlapping(boxes: NDArray[np.float64], grown: NDArray[np.float64] | float = 0.0) -> Pairs:
    """Which of these boxes overlap, each grown by so much."""
    low, high = boxes[:, 0] - grown, boxes[:, 1] + grown
    along: Pairs = (low[:, None] < high[None, :]) & (low[None, :] < high[:, None])
    found: Pairs = np.all(along, axis=2)
    return found
