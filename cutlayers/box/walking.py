"""The turns of a box's steps, walked in small ones: whether anything stands in the way.

What swings turns about its first hinge, and what hangs on it is already folded, as fingers hold a
tuck. Where that would pass through another panel the fingers fold it farther, or less far. Where no
such turn gets by, the card must bend there: by how much it would pass through is told, and how
tight that is. Rings of hinges move all at once, each look at angles at which they close. Where they
close at none their panels bow, which rigid ones do not tell: that is not looked at.

A sheet that is folded flat on itself meets nothing, and is not walked either; nor is what slides.

Panels are slabs, as in `net/slabs.py`; the card of one piece gives in its crease zones, and as far
as a ring gapes. Folded by more than a right angle, two slabs meet up to c/2 · tan(θ/2) from their
crease, which is then as broad.

Source of the radius: a strip of length L that is bent by d at its end lies on an arc of radius
about L²/2d.

This module needs shapely and numpy; whoever need not measure does not import it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
from shapely import Polygon

from cutlayers.box.motions import Motion, Move
from cutlayers.box.stages import GIVES, SPRUNG, firmly
from cutlayers.box.steps import Step
from cutlayers.frozen import frozen
from cutlayers.geometry.segments import Segment
from cutlayers.net import Hinge
from cutlayers.net.folding import FoldedNet, turned
from cutlayers.net.slabs import Plate, allowed, clear_parts, deepest, plate
from cutlayers.net.space import Pose

if TYPE_CHECKING:
    from cutlayers.box.box import Box

TURN_DEG = 5.0
"""The largest turn between two looks."""

HELD_DEG = (0.0, 10.0, 20.0, 35.0, 50.0, 70.0, -10.0, -20.0, -35.0, -50.0, -70.0, -90.0)
"""How much farther than it stays fingers fold what hangs on a closure, tried in this order."""

AS_FLAT = 1000
"""Calipers; card bent to so wide a radius r stretches by c/2r, a twentieth of a per cent, on its
outside, and lies no flatter by itself."""

BROADEST = 12
"""Calipers; a crease zone is no broader, though panels are folded flat on each other."""


@frozen
class Way:
    """How panels that move together do so in a step; they are those of the blank.

    `turns` is how many were looked at, `held_deg` how far what hangs on them was held from where
    it stays at most. `depth` is how deep they would go through another panel on the way in mm, 0
    where nothing stands in the way; then `between` names the two, and `radius` is that of the bend
    in mm with which the moving one gets by. `gap` is how far in mm a ring gapes whose panels have
    to bow, 0 of one that closes.
    """

    step: Step
    panels: tuple[str, ...]
    turns: int
    held_deg: float = 0.0
    depth: float = 0.0
    between: tuple[str, str] | None = None
    radius: float = math.inf
    gap: float = 0.0

    @property
    def net(self) -> str:
        """The net that they are of."""
        return self.step.net

    @property
    def bends(self) -> bool:
        """Whether card has to bend on the way."""
        return self.between is not None or self.gap > 0


def walk(box: Box, turn_deg: float = TURN_DEG) -> tuple[Way, ...]:
    """Every move of a box, in order; empty where folds are curved, and where nothing moves.

    Raises NetError for a box that cannot be folded.
    """
    return tuple(walked(box, box.motions, turn_deg))


def walked(box: Box, motions: Sequence[Motion], turn_deg: float = TURN_DEG) -> Iterator[Way]:
    """Motions of a box in the order given, each hinge from where the one before left it."""
    walkers = {
        folded.net.name: _Walker(box, folded)
        for folded in (() if box.curved else box.assembly.boxes)
    }
    for motion in motions:
        walker = walkers[motion.step.net]
        walker.glued = motion.holding
        for move in motion.moves:
            way = walker.walk(motion.step, move, turn_deg)
            if way is not None:
                yield way


class _Walker:
    """One net on its way: where its hinges are, and which tabs hold."""

    glued: tuple[str, ...] = ()

    def __init__(self, box: Box, finished: FoldedNet) -> None:
        self._finished = finished
        self._caliper = box.card.of(finished.net.name).caliper
        self._blank = box.blank(finished.net.name).net
        self._angles = dict.fromkeys(finished.net.hinges, 0.0)
        self._parts = _Parts(finished, box)
        self._flat = False

    def walk(self, step: Step, move: Move, turn_deg: float) -> Way | None:
        """One move, made; nothing is told of one that folds the sheet flat on itself."""
        before = dict(self._angles)
        self._angles |= {turn.hinge: turn.to_deg for turn in move.turns}
        if move.pressed:
            self._flat = True
            return None
        sprung, self._flat = SPRUNG if self._flat else 0.0, False
        slow = [turn for turn in move.turns if _leads(move, turn.hinge)]
        widest = max(abs(turn.to_deg - turn.from_deg) for turn in slow)
        turns = max(1, math.ceil(widest / turn_deg))
        names = [name for closure in move.swing for name in closure.panels] or step.panels
        way = Way(step, tuple(dict.fromkeys(map(self._blank.panel_of, names))), turns)
        for turn in range(1, turns + 1):
            if move.swing:
                way = self._swung(way, move, before, turn / turns)
            elif turn / turns >= sprung:
                way = self._round(way, move, turn / turns)
        return way

    def _swung(self, way: Way, move: Move, before: Mapping[Hinge, float], share: float) -> Way:
        """A look at what swings, with what hangs on it held as it gets by best."""
        groups = [closure.panels for closure in move.swing]
        held_on = {closure.first for closure in move.swing}
        carried = any(len(closure.panels) > 1 for closure in move.swing)
        best: tuple[float, tuple[str, str] | None, float] | None = None
        for held in HELD_DEG if share < 1 and carried else (0.0,):
            angles = dict(before)
            for turn in move.turns:
                if _leads(move, turn.hinge):
                    angle = turn.from_deg + share * (turn.to_deg - turn.from_deg)
                elif {turn.hinge.first, turn.hinge.second} & held_on:
                    angle = turn.to_deg + held * math.copysign(1.0, turn.to_deg)
                else:
                    angle = turn.to_deg
                angles[turn.hinge] = angle
            depth, between = self._parts.deepest(groups, turned(self._finished, angles))
            if best is None or depth < best[0]:
                best = (depth, between, held)
            if depth <= allowed(self._caliper):
                break
        assert best is not None
        depth, between, held = best
        return self._deeper(replace(way, held_deg=max(way.held_deg, abs(held))), depth, between)

    def _round(self, way: Way, move: Move, share: float) -> Way:
        """A look at a ring, which moves all at once."""
        wanted = dict(self._angles)
        for turn in move.turns:
            wanted[turn.hinge] = turn.from_deg + share * (turn.to_deg - turn.from_deg)
        found = firmly(self._finished, wanted, self.glued, [turn.hinge for turn in move.turns])
        if found.gap > GIVES * self._caliper:
            return replace(way, gap=max(way.gap, found.gap))
        groups = [(panel.name,) for panel in self._finished.net.panels]
        depth, between = self._parts.deepest(groups, turned(self._finished, found.angles))
        if between is not None:
            # Of two that move the smaller one bends.
            one, other = sorted(between, key=self._parts.reach)
            between = (one, other)
        return self._deeper(way, depth - found.gap, between)

    def _deeper(self, way: Way, depth: float, between: tuple[str, str] | None) -> Way:
        """The way with the deepest that a panel goes through another, in those of the blank, unless
        it gets by as flat as card is."""
        if depth <= max(allowed(self._caliper), way.depth) or between is None:
            return way
        radius = self._parts.reach(between[0]) ** 2 / (2 * depth)
        if radius >= AS_FLAT * self._caliper:
            return way
        one, other = map(self._blank.panel_of, between)
        return replace(way, depth=depth, between=(one, other), radius=radius)


def _leads(move: Move, hinge: Hinge) -> bool:
    """Whether a hinge turns slowly: those that closures hang by, or all of a ring."""
    return not move.swing or any(closure.hinge == hinge for closure in move.swing)


Kept = tuple[str, tuple[tuple[Segment, int], ...]]
"""A panel, and its creases that are left out, each with how many calipers broad."""


class _Parts:
    """The slabs of one net's panels, taken apart on the flat once."""

    def __init__(self, finished: FoldedNet, box: Box) -> None:
        name = finished.net.name
        self._caliper = box.card.of(name).caliper
        self._faces = {face.name: face for face in box.assembly.faces if face.net == name}
        self._blank = box.blank(name).net
        self._parts: dict[Kept, tuple[Polygon, ...]] = {}
        self._slabs: dict[Kept, tuple[Pose, tuple[Plate, ...]]] = {}

    def reach(self, name: str) -> float:
        """How far the panel of the blank that one is a part of reaches, in mm."""
        x0, y0, x1, y1 = self._blank.panel(self._blank.panel_of(name)).outline.bounds
        return min(x1 - x0, y1 - y0)

    def deepest(
        self, groups: Sequence[Sequence[str]], folded: FoldedNet
    ) -> tuple[float, tuple[str, str] | None]:
        """The deepest that a panel of one group goes through one that is of none or of another, and
        the two."""
        worst, between = 0.0, None
        group = {name: index for index, names in enumerate(groups) for name in names}
        creases: dict[frozenset[str], list[tuple[Segment, int]]] = {}
        for hinge in folded.net.hinges:
            pair = frozenset((hinge.first, hinge.second))
            creases.setdefault(pair, []).append((hinge.edge, self._broad(hinge)))
        whole = {name: self._slab(name, (), folded) for name in self._faces}
        for one, other in _near(whole):
            if group.get(one) == group.get(other):
                continue
            out = tuple(creases.get(frozenset((one, other)), ()))
            depth = (
                deepest(*(self._slab(name, out, folded) for name in (one, other)))
                if out
                else deepest(whole[one], whole[other])
            )
            if depth > worst:
                worst, between = depth, (one, other) if one in group else (other, one)
        return worst, between

    def _broad(self, hinge: Hinge) -> int:
        """How many calipers of a crease's zone lie to either side of it."""
        half = min(abs(hinge.fold_deg), 179.0) / 2
        return min(BROADEST, max(1, math.ceil(math.tan(math.radians(half)) / 2 - 1e-9)))

    def _slab(
        self, name: str, creases: tuple[tuple[Segment, int], ...], folded: FoldedNet
    ) -> tuple[Plate, ...]:
        """Most panels lie where they lay a turn before."""
        pose = folded.poses[name]
        lay, slab = self._slabs.get((name, creases), (None, ()))
        if lay != pose:
            face = replace(self._faces[name], pose=pose)
            if (name, creases) not in self._parts:
                broad = self._caliper * max((count for _, count in creases), default=1)
                edges = [edge for edge, _ in creases]
                self._parts[name, creases] = clear_parts(face, edges, broad)
            slab = tuple(plate(face, part, self._caliper) for part in self._parts[name, creases])
            self._slabs[name, creases] = (pose, slab)
        return slab


def _near(slabs: Mapping[str, Sequence[Plate]]) -> Iterator[tuple[str, str]]:
    """Pairs of slabs whose boxes overlap."""
    names = list(slabs)
    low = np.array([np.min([part.low for part in slabs[name]], axis=0) for name in names])
    high = np.array([np.max([part.high for part in slabs[name]], axis=0) for name in names])
    overlap = ((low[:, None] < high[None, :]) & (low[None, :] < high[:, None])).all(axis=2)
    for one, other in zip(*np.nonzero(np.triu(overlap, 1)), strict=True):
        yield names[one], names[other]
