"""Closing a box in small turns: whether anything stands in the way of what swings.

First as if the glue did not hold yet: walls rise with their tabs, the inner ones before those that
go over them. Then with what it holds in its place, and every closure open, as it lies on the flat.
Each is closed in the order of its end, in turns of a few degrees: the panel on the first hinge from
open to closed, and what hangs on it already folded, as fingers hold a tuck. Where that would pass
through another panel the fingers fold it farther, or less far. Where no such turn gets by, the card
must bend there: by how much it would pass through is told, and how tight that is.

Rings of hinges alone, as a gable's roof and a pop-up's boxes, move all at once and are not walked,
nor are curved folds, and what slides.

Panels are slabs, as in `net/slabs.py`; the card of one piece gives in its crease zones.

Source of the radius: a strip of length L that is bent by d at its end lies on an arc of radius
about L²/2d.

This module needs shapely and numpy; whoever need not measure does not import it.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from shapely import Polygon

from cutlayers.box.box import Box
from cutlayers.box.closing import Closure, End, closures, ends
from cutlayers.frozen import frozen
from cutlayers.geometry.segments import Segment
from cutlayers.net import Net
from cutlayers.net.folding import FoldedNet, turned_over
from cutlayers.net.slabs import Plate, allowed, clear_parts, deepest, plate
from cutlayers.net.space import Pose

TURN_DEG = 5.0
"""The largest turn between two looks."""

HELD_DEG = (0.0, 10.0, 20.0, 35.0, 50.0, 70.0, -10.0, -20.0, -35.0, -50.0, -70.0, -90.0)
"""How much farther than it stays fingers fold what hangs on a closure, tried in this order."""


@frozen
class Way:
    """How closures that move together close; panels are those of the blank.

    `turns` is how many were looked at, `held_deg` how far what hangs on them was held from where
    it stays at most. `depth` is how deep they would go through another panel on the way in mm, 0
    where nothing stands in the way; then `between` names the two, and `radius` is that of the bend
    in mm with which the moving one gets by.
    """

    net: str
    panels: tuple[str, ...]
    turns: int
    held_deg: float = 0.0
    depth: float = 0.0
    between: tuple[str, str] | None = None
    radius: float = math.inf


def walk(box: Box, turn_deg: float = TURN_DEG) -> tuple[Way, ...]:
    """Every closing of a box, in order; empty where folds are curved, and where nothing swings.

    Raises NetError for a box that cannot be folded.
    """
    if box.curved:
        return ()
    ways: list[Way] = []
    for blank, folded in zip(box.blanks, box.assembly.boxes, strict=True):
        for net in (_unglued(folded.net), folded.net):
            opened = ends(net, box.assembly)
            if opened:
                found = closing(replace(folded, net=net), box, opened, turn_deg)
                ways += (_of_whole_panels(way, blank.net) for way in found)
    return tuple(ways)


def _of_whole_panels(way: Way, net: Net) -> Way:
    """The same for panels of the blank, which may have been folded in flat parts."""
    one, other = way.between or ("", "")
    return replace(
        way,
        panels=tuple(dict.fromkeys(map(net.panel_of, way.panels))),
        between=(net.panel_of(one), net.panel_of(other)) if way.between else None,
    )


def _unglued(net: Net) -> Net:
    """What glue will hold, before it does, and without what swings afterwards."""
    free = {name for closure in closures(net) for name in closure.panels}
    return replace(
        net,
        panels=tuple(replace(p, lands_on=None) for p in net.panels if p.name not in free),
        hinges=tuple(hinge for hinge in net.hinges if not {hinge.first, hinge.second} & free),
    )


def closing(
    folded: FoldedNet, box: Box, opened: Sequence[End], turn_deg: float = TURN_DEG
) -> Iterator[Way]:
    """Closing ends of one net of a box, in the order given."""
    net, caliper = folded.net, box.caliper
    still = dict(folded.poses)
    free = [closure for end in opened for closure in end.closures]
    for closure in free:
        still |= _swung(net, closure, still, 0.0, 0.0)
    parts = _Parts(net, box, caliper)
    for end in opened:
        together = (
            [end.closures]
            if end.interleaved and end.carries
            else [(closure,) for closure in end.closures]
        )
        for moving in together:
            names = tuple(name for closure in moving for name in closure.panels)
            way, still = _walked(net, moving, names, still, parts, turn_deg)
            yield way


def _walked(
    net: Net,
    moving: Sequence[Closure],
    names: tuple[str, ...],
    still: Mapping[str, Pose],
    parts: _Parts,
    turn_deg: float,
) -> tuple[Way, dict[str, Pose]]:
    """One closing, and where all panels lie after it."""
    widest = max(abs(closure.hinge.fold_deg) for closure in moving)
    turns = max(1, math.ceil(widest / turn_deg))
    way = Way(net.name, names, turns)
    poses = dict(still)
    for turn in range(1, turns + 1):
        share = turn / turns
        tries = HELD_DEG if turn < turns and len(names) > len(moving) else (0.0,)
        best: tuple[float, tuple[str, str] | None, float, dict[str, Pose]] | None = None
        for held in tries:
            tried = dict(still)
            for closure in moving:
                tried |= _swung(net, closure, still, share, held)
            depth, between = parts.deepest([closure.panels for closure in moving], tried)
            if best is None or depth < best[0]:
                best = (depth, between, held, tried)
            if depth <= allowed(parts.caliper):
                break
        assert best is not None
        depth, between, held, poses = best
        way = replace(way, held_deg=max(way.held_deg, abs(held)))
        if depth > allowed(parts.caliper) and depth > way.depth and between is not None:
            long = parts.reach(between[0])
            way = replace(way, depth=depth, between=between, radius=long**2 / (2 * depth))
    return way, poses


def _swung(
    net: Net, closure: Closure, poses: Mapping[str, Pose], share: float, held_deg: float
) -> dict[str, Pose]:
    """Where the panels of a closure lie once its first hinge has turned by a share of its angle;
    those on the first panel are held farther by so much. At 0 all lie flat."""
    found: dict[str, Pose] = {}
    hinges = [hinge for hinge in net.hinges if {hinge.first, hinge.second} & {*closure.panels}]
    carrier = closure.hinge.first
    if carrier in closure.panels:
        carrier = closure.hinge.second
    waiting = [(carrier, closure.hinge)]
    while waiting:
        near, hinge = waiting.pop(0)
        far = hinge.second if hinge.first == near else hinge.first
        if hinge is closure.hinge:
            angle = share * hinge.fold_deg
        elif not share:
            angle = 0.0
        else:
            farther = held_deg if near == closure.first else 0.0
            angle = hinge.fold_deg + farther * math.copysign(1.0, hinge.fold_deg)
        eased = hinge.eased * (share if hinge is closure.hinge else bool(share))
        found[far] = turned_over(found.get(near) or poses[near], hinge, near, angle, eased)
        waiting += [
            (far, other)
            for other in hinges
            if other is not hinge
            and far in (other.first, other.second)
            and not {other.first, other.second} <= {*found, carrier}
        ]
    return found


class _Parts:
    """The slabs of one net's panels, taken apart on the flat once."""

    def __init__(self, net: Net, box: Box, caliper: float) -> None:
        self.caliper = caliper
        there = {panel.name for panel in net.panels}
        faces = (face for face in box.assembly.faces if face.net == net.name)
        self._faces = {face.name: face for face in faces if face.name in there}
        self._hinges = net.hinges
        self._parts: dict[tuple[str, tuple[Segment, ...]], tuple[Polygon, ...]] = {}
        self._slabs: dict[tuple[str, tuple[Segment, ...]], tuple[Pose, tuple[Plate, ...]]] = {}

    def reach(self, name: str) -> float:
        """How far a panel reaches on the flat, in mm."""
        x0, y0, x1, y1 = self._faces[name].panel.outline.bounds
        return min(x1 - x0, y1 - y0)

    def deepest(
        self, moving: Sequence[Sequence[str]], poses: Mapping[str, Pose]
    ) -> tuple[float, tuple[str, str] | None]:
        """The deepest that a moving panel goes through one that hangs on another closure or keeps
        its place, and the two."""
        worst, between = 0.0, None
        whole = {name: self._slab(name, (), poses) for name in self._faces}
        for panels in moving:
            for one, other in itertools.product(panels, self._faces):
                if other in panels:
                    continue
                creases = tuple(
                    hinge.edge
                    for hinge in self._hinges
                    if {hinge.first, hinge.second} == {one, other}
                )
                pair = (
                    (self._slab(name, creases, poses) for name in (one, other))
                    if creases
                    else (whole[one], whole[other])
                )
                depth = deepest(*pair)
                if depth > worst:
                    worst, between = depth, (one, other)
        return worst, between

    def _slab(
        self, name: str, creases: tuple[Segment, ...], poses: Mapping[str, Pose]
    ) -> tuple[Plate, ...]:
        """Most panels lie where they lay a turn before."""
        pose = poses[name]
        lay, slab = self._slabs.get((name, creases), (None, ()))
        if lay != pose:
            face = replace(self._faces[name], pose=pose)
            if (name, creases) not in self._parts:
                self._parts[name, creases] = clear_parts(face, creases, self.caliper)
            slab = tuple(plate(face, part, self.caliper) for part in self._parts[name, creases])
            self._slabs[name, creases] = (pose, slab)
        return slab
