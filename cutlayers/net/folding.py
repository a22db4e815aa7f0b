"""A net folded up in space: rigid panels, each hinge turned by its angle.

The *root* keeps still. From it the hinges are walked breadth first, in the order in which the
net lists them; a hinge that reaches a panel for the first time carries it along, and every
hinge that is left over closes a loop: there the two panels must meet of themselves. How far they
miss is the *closure error*.

A net in several *parts* is folded as one: a joint's tab lies on its panel from the start
(`parts.py`).

A positive fold turns the panels away from the viewer, who looks at the outside face (mountain).
At fraction f every hinge has turned by f times its angle. Between 0 and 1 loops do not close in
general, since real card bends on the way; what is shown then is the tree of first hinges.

Standing up: the net is turned as its `Stand` says, judged by the fully folded box, and the root
then keeps that place at every fraction, so that a half-folded box stands where the finished one
will. Of the finished box the lowest point is at z = lift and the middle of its extent at
x = y = 0 unless the stand says otherwise. A net without a stand stays where it lay, its root in
the plane z = 0.
"""

from __future__ import annotations

import math
from collections import defaultdict, deque
from collections.abc import Callable, Container, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from cutlayers.frozen import frozen
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Point
from cutlayers.net.folds_over import with_strips
from cutlayers.net.model import Net
from cutlayers.net.panel import Hinge, Stand
from cutlayers.net.parts import joints
from cutlayers.net.space import Pose, Vector, cosine_sine, cross, dot, moved, tidy, turned_about
from cutlayers.telling.errors import NetError

if TYPE_CHECKING:  # whoever only folds needs no lines
    from cutlayers.net.relief import Relieved
    from cutlayers.net.relief_holes import Hole

LEVEL = 1e-6
"""A panel whose normal leans from the vertical by less than this sine lies level."""

EXTENT_CHORD = 0.1
"""mm; how far the chords of a curved border may lie beside it where extents are measured."""


@frozen
class Closure:
    """A hinge that closes a loop: how far its ends lie apart in mm as its two panels place
    them, and by how many degrees the panels' angle differs from the hinge's."""

    hinge: Hinge
    gap: float
    angle_deg: float


@frozen
class FoldedNet:
    """A net in space. Guaranteed: every panel has a pose; `closures` has each left-over hinge.

    `relieved` is the card that it is folded of, for who shows that; without it the card is whole.
    """

    net: Net
    fraction: float
    poses: Mapping[str, Pose]
    closures: tuple[Closure, ...]
    relieved: Relieved | None = None

    @property
    def holes(self) -> tuple[Hole, ...]:
        """The relief holes in its card, which lie where its panels lie flat."""
        return self.relieved.holes if self.relieved else ()

    def scored(self, edge: Segment) -> list[Segment]:
        """What is worked of the straight edge of a hinge."""
        return self.relieved.scored(edge) if self.relieved else [edge]

    def pose(self, panel: str) -> Pose:
        """Where a panel lies. Raises NetError with the names there are."""
        return self.poses[self.net.panel(panel).name]

    def place(self, panel: str, point: Point) -> Vector:
        """A point of a panel, given on the flat net, in space."""
        return self.pose(panel).place(point)

    def normal(self, panel: str) -> Vector:
        """Unit vector that points out of a panel's outside face; the inside is the other way."""
        return self.pose(panel).normal

    def upright(self, panel: str) -> Point:
        """The flat direction that points up on the standing box, as a unit vector.

        On a leaning panel it is the steepest way up; on a level one (the base, a lid) the way
        from the viewer in front to the back.
        """
        return upright(self.pose(panel))

    def outline(self, panel: str, tolerance: float) -> tuple[Vector, ...]:
        """Corners of a panel in space, counter-clockwise seen from outside, arcs as chords
        within `tolerance` mm."""
        pose = self.pose(panel)
        return tuple(map(pose.place, self.net.panel(panel).outline.points(tolerance)))

    @property
    def closure_error(self) -> float:
        """The widest gap at a left-over hinge in mm; 0 where there is none."""
        return max((closure.gap for closure in self.closures), default=0.0)

    @property
    def bounds(self) -> tuple[Vector, Vector]:
        """Lowest and highest corner of the box around all panels."""
        return _extent(self.net, self.poses)


def fold(net: Net, fraction: float = 1.0, relieved: Relieved | None = None) -> FoldedNet:
    """Fold a net up and stand it as its `stand` says; one that has facets folds those, and where
    panels fold right over, a strip of the card is a panel between them.

    `fraction` is 0 (flat) to 1 (folded); `relieved` is kept beside it. Raises NetError for a
    fraction outside, for a curved hinge (its panels would have to bend), and for panels that no
    hinge connects to the root.
    """
    if not 0.0 <= fraction <= 1.0:
        raise NetError(f"a net folds from 0 to 1 (got {fraction:g})")
    net = net.facets or with_strips(net)
    for hinge in net.hinges:
        if hinge.edge.bulge:
            raise NetError(
                f"net {net.name!r}: the hinge between {hinge.first!r} and {hinge.second!r} is "
                f"curved, so its panels bend and cannot be folded as rigid ones"
            )
    tree, loops = folding_order(net)
    finished = poses_along(net, tree, 1.0, Pose())
    if net.stand is not None:
        still = _standing(net, finished, net.stand)
        finished = {name: still.after(pose) for name, pose in finished.items()}
    else:
        still = Pose()
    poses = finished if fraction == 1.0 else poses_along(net, tree, fraction, still)
    closures = tuple(_closure(hinge, poses, fraction) for hinge in loops)
    return FoldedNet(net, fraction, poses, closures, relieved)


def turned(finished: FoldedNet, angles: Mapping[Hinge, float]) -> FoldedNet:
    """A net that was folded up, with its root where it stands then and each hinge at the angle
    given for it, in degrees; its hinges have these as their folds. Loops gape as they do in `fold`.
    """
    tree, loops = folding_order(finished.net)
    poses = placed(finished, tree, angles)
    net = replace(
        finished.net, hinges=tuple(_at(hinge, angles[hinge]) for hinge in finished.net.hinges)
    )
    closures = tuple(_closure(_at(hinge, angles[hinge]), poses, 1.0) for hinge in loops)
    return FoldedNet(net, 1.0, poses, closures, finished.relieved)


def placed(
    finished: FoldedNet, tree: Sequence[Branch], angles: Mapping[Hinge, float]
) -> dict[str, Pose]:
    """Where the panels of a net that was folded up lie with each hinge at the angle given for it;
    `tree` is its folding order."""

    def turn(hinge: Hinge) -> tuple[float, float]:
        angle = angles[hinge]
        return angle, _eased(hinge, angle)

    return _carried(finished.net, tree, finished.poses[finished.net.root.name], turn)


def _at(hinge: Hinge, angle_deg: float) -> Hinge:
    return replace(hinge, fold_deg=angle_deg, eased=_eased(hinge, angle_deg))


def _eased(hinge: Hinge, angle_deg: float) -> float:
    return hinge.eased * (angle_deg / hinge.fold_deg if hinge.fold_deg else 0.0)


def upright(pose: Pose) -> Point:
    """The flat direction of a sheet that points up, or to the back where the sheet is level."""
    nx, ny, _ = pose.normal
    if math.hypot(nx, ny) < LEVEL:
        return tidy((pose.right[1], pose.up[1]))
    return tidy((pose.right[2], pose.up[2]))


Branch = tuple[str, str, Hinge | None]
"""Carrier, carried and the hinge between them, None where the one is glued on the other."""


def folding_order(net: Net) -> tuple[list[Branch], list[Hinge]]:
    """Branches from the root outwards, and the hinges left over: those that close loops."""
    at: dict[str, list[tuple[int, Hinge]]] = defaultdict(list)
    for index, hinge in enumerate(net.hinges):
        at[hinge.first].append((index, hinge))
        at[hinge.second].append((index, hinge))
    reached, used = {net.root.name}, set()
    tree: list[Branch] = []
    queue = deque([net.root.name])
    while queue:
        carrier = queue.popleft()
        for index, hinge in at[carrier]:
            carried = hinge.second if hinge.first == carrier else hinge.first
            if carried not in reached:
                reached.add(carried)
                used.add(index)
                tree.append((carrier, carried, hinge))
                queue.append(carried)
        joined = None if queue else joined_to(net, reached)
        if joined is not None:
            tree.append((*joined, None))
            reached.add(joined[1])
            queue.append(joined[1])
    loose = [panel.name for panel in net.panels if panel.name not in reached]
    if loose:
        raise NetError(
            f"net {net.name!r}: no hinge connects {', '.join(map(repr, loose))} "
            f"to {net.root.name!r}"
        )
    return tree, [hinge for index, hinge in enumerate(net.hinges) if index not in used]


def joined_to(net: Net, reached: Container[str]) -> tuple[str, str] | None:
    """A panel that is reached, and one that is not, of which a joint glues the one on the other."""
    for pair in joints(net):
        for near, far in (pair, pair[::-1]):
            if near in reached and far not in reached:
                return near, far
    return None


def glued_apart(net: Net, carrier: str, carried: str) -> float:
    """How many layers farther out a panel lies than the one on which it is glued, or which is glued
    on it."""
    tab = net.panel(carried)
    if tab.lands_on == carrier:
        return -1.0 if tab.under else 1.0
    return 1.0 if net.panel(carrier).under else -1.0


def poses_along(net: Net, tree: Sequence[Branch], fraction: float, root: Pose) -> dict[str, Pose]:
    """The pose of each panel, carried along the tree from the root's, at a fraction of the fold."""
    return _carried(
        net, tree, root, lambda hinge: (fraction * hinge.fold_deg, fraction * hinge.eased)
    )


def _carried(
    net: Net, tree: Sequence[Branch], root: Pose, turn: Callable[[Hinge], tuple[float, float]]
) -> dict[str, Pose]:
    """`turn` says by how many degrees a hinge has turned, and how many mm it is eased then."""
    poses = {net.root.name: root}
    for carrier, carried, hinge in tree:
        if hinge is None:
            out = net.caliper * glued_apart(net, carrier, carried)
            poses[carried] = poses[carrier].after(Pose(origin=(0.0, 0.0, out)))
        else:
            poses[carried] = turned_over(poses[carrier], hinge, carrier, *turn(hinge))
    return poses


def turned_over(carrier: Pose, hinge: Hinge, name: str, angle_deg: float, eased: float) -> Pose:
    """The pose of the panel beyond a hinge of the carrier of that name once it has turned by so
    much; `eased` mm of a strip are how far that and the panel before it have moved apart."""
    edge = hinge.edge if hinge.first == name else hinge.edge.reversed()
    ux, uy = edge.direction_at(0.5)
    pose = carrier.after(turned_about(edge.start, (ux, uy), angle_deg))
    if not eased:
        return pose
    strip = pose if hinge.first == name else carrier
    return pose.shifted(moved((0.0, 0.0, 0.0), strip.direction((uy, -ux, 0.0)), eased))


def _standing(net: Net, poses: Mapping[str, Pose], stand: Stand) -> Pose:
    """The motion that stands a folded net up."""
    front = poses[net.panel(stand.front).name]
    length = math.hypot(*stand.up)
    if not length:
        raise NetError(f"net {net.name!r}: the stand's direction up is no direction")
    up = front.direction((stand.up[0] / length, stand.up[1] / length, 0.0))
    out = front.normal
    if stand.on is not None:
        up = moved((0.0, 0.0, 0.0), poses[net.panel(stand.on).name].normal, -1.0)
        level = moved(out, up, -dot(out, up))
        size = math.sqrt(dot(level, level))
        if size < LEVEL:
            raise NetError(f"net {net.name!r}: {stand.front!r} lies level and faces nobody")
        out = (level[0] / size, level[1] / size, level[2] / size)
    right = cross(up, out)
    # Rows of the turn that takes right → +x, out → −y, up → +z, written as its columns.
    columns = [(right[i], -out[i], up[i]) for i in range(3)]
    turn = Pose(columns[0], columns[1], columns[2])
    c, s = cosine_sine(stand.turn_deg)
    turn = Pose((c, s, 0.0), (-s, c, 0.0)).after(turn)
    low, high = _extent(net, {name: turn.after(pose) for name, pose in poses.items()})
    x, y = stand.at
    middle = ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2)
    return turn.shifted((x - middle[0], y - middle[1], stand.lift - low[2]))


def _extent(net: Net, poses: Mapping[str, Pose]) -> tuple[Vector, Vector]:
    points = [
        poses[panel.name].place(point)
        for panel in net.panels
        for point in panel.outline.points(EXTENT_CHORD)
    ]
    xs, ys, zs = zip(*points, strict=True)
    return (min(xs), min(ys), min(zs)), (max(xs), max(ys), max(zs))


def _closure(hinge: Hinge, poses: Mapping[str, Pose], fraction: float) -> Closure:
    first, second = poses[hinge.first], poses[hinge.second]
    ends = (hinge.edge.start, hinge.edge.end)
    ux, uy = hinge.edge.direction_at(0.5)
    apart = moved((0.0, 0.0, 0.0), second.direction((uy, -ux, 0.0)), fraction * hinge.eased)
    gap = max(math.dist(moved(first.place(end), apart, 1.0), second.place(end)) for end in ends)
    axis = first.direction((ux, uy, 0.0))
    turned = math.degrees(
        math.atan2(dot(axis, cross(first.normal, second.normal)), dot(first.normal, second.normal))
    )
    miss = abs(math.remainder(turned - fraction * hinge.fold_deg, 360.0))
    return Closure(hinge, gap, miss)
