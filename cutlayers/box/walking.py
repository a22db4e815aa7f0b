"""What moves in a box's steps, walked: whether anything stands in the way.

What swings turns about its first hinge, and what hangs on it is already folded, as fingers hold a
tuck. Where that would pass through another panel the fingers fold it farther, or less far. Where no
such turn gets by, the card must bend there: by how much it would pass through is told, and how
tight that is. Rings of hinges move all at once, each look at angles at which they close. Where they
close at none their panels bow, which rigid ones do not tell: that is not looked at.

A panel that is folded flat on its sheet is walked until they lie on each other, a turn before: then
they share a plane, which no slabs do. So is a ring that is pressed flat; which of those that lie on
each other before is uppermost is not asked.

A net that slides over or into others is walked at once, and nothing is missed: what a slab passes
through on a straight way is as convex as it is itself. That has the calipers of both nets, and
whatever play there is between them.

Which panels are looked at together, and what their slabs are, is told in `passing.py`. A ring may
gape as far as card gives, and its slabs share as much more.

Source of the radius: a strip of length L that is bent by d at its end lies on an arc of radius
about L²/2d.

This module needs shapely and numpy; whoever need not measure does not import it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

from cutlayers.box.moves import Motion, Move, Slide
from cutlayers.box.on_the_way import apart, as_tangents, evenly
from cutlayers.box.passing import NOWHERE, Lying, Pairs, Slabs
from cutlayers.box.stages import GIVES, SPRUNG, firmly
from cutlayers.box.steps import Step
from cutlayers.box.ways import Way
from cutlayers.geometry.segments import Segment
from cutlayers.net import Hinge
from cutlayers.net.calipers import bends
from cutlayers.net.folding import FoldedNet
from cutlayers.net.rings import Settled
from cutlayers.net.slabs import Plate, allowed, deepest, slid

if TYPE_CHECKING:
    from cutlayers.box.box import Box

TURN_DEG = 5.0
"""The largest turn between two looks."""

HELD_DEG = (0.0, 10.0, 20.0, 35.0, 50.0, 70.0, -10.0, -20.0, -35.0, -50.0, -70.0, -90.0)
"""How much farther than it stays fingers fold what hangs on a closure, tried in this order."""

AS_FLAT = 1000
"""Calipers; card bent to so wide a radius r stretches by c/2r, a twentieth of a per cent, on its
outside, and lies no flatter by itself."""

BEYOND = 100.0
"""Lengths of a crease to either side of it, within which its whole blank lies."""


def walk(box: Box, turn_deg: float = TURN_DEG) -> tuple[Way, ...]:
    """Every move of a box, in order; empty where nothing moves.

    Raises NetError for a box that cannot be folded.
    """
    return tuple(walked(box, box.motions, turn_deg))


def walked(box: Box, motions: Sequence[Motion], turn_deg: float = TURN_DEG) -> Iterator[Way]:
    """Motions of a box in the order given, each hinge from where the one before left it."""
    folded = box.assembly.boxes if motions else ()
    walkers = {each.net.name: _Walker(box, each) for each in folded}
    for motion in motions:
        walker = walkers[motion.step.net]
        walker.glued = motion.holding
        for move in motion.moves:
            yield walker.walk(motion.step, move, turn_deg)
        if motion.slide is not None:
            still = [walkers[net] for net in motion.slide.past]
            yield walker.slide(motion.step, motion.slide, still)


Look = Callable[[int], Lying | None]
"""A net after so many turns of a move; None where its rings gape."""


class _Walker:
    """One net on its way: where its hinges are, and which tabs hold."""

    glued: tuple[str, ...] = ()

    def __init__(self, box: Box, finished: FoldedNet) -> None:
        self._finished = finished
        self._caliper = box.card.of(finished.net.name).caliper
        self._blank = box.blank(finished.net.name).net
        self._angles = dict.fromkeys(finished.net.hinges, 0.0)
        self._slabs = Slabs(finished, box)
        self._flat = False

    def walk(self, step: Step, move: Move, turn_deg: float) -> Way:
        """One move, made."""
        before = dict(self._angles)
        self._angles |= {turn.hinge: turn.to_deg for turn in move.turns}
        sprung, self._flat = SPRUNG if self._flat else 0.0, move.pressed
        slow = _leading(move)
        widest = max(abs(turn.to_deg - turn.from_deg) for turn in move.turns if turn.hinge in slow)
        turns = max(1, math.ceil(widest / turn_deg))
        names = [name for closure in move.swing for name in closure.panels] or step.panels
        way = Way(step, tuple(dict.fromkeys(map(self._blank.panel_of, names))), turns)
        if move.swing:
            return self._swung(way, move, before)
        return self._round(way, move, math.ceil(sprung * turns) or 1)

    def slide(self, step: Step, slide: Slide, still: Sequence[_Walker]) -> Way:
        """A net, as it stands, that slides as one body past others as these stand."""
        way = Way(step, tuple(panel.name for panel in self._blank.panels), 0, slid=slide.far)
        back = (-slide.way[0], -slide.way[1], -slide.way[2])
        beside = [
            (each._label(name), allowed(min(self._caliper, each._caliper)), slab)
            for each in still
            for name, slab in each._standing().items()
        ]
        for name, slab in self._standing().items():
            moving = [slid(part, back, slide.far) for part in slab]
            for other, least, plates in beside:
                depth = deepest(moving, plates)
                if depth > max(least, way.depth):
                    way = replace(way, depth=depth, between=(self._label(name), other))
        return way

    def _standing(self) -> dict[str, tuple[Plate, ...]]:
        return self._slabs.whole(self._slabs.lying(self._angles))

    def _label(self, part: str) -> str:
        return f"{self._blank.name}: {self._blank.panel_of(part)}"

    def _swung(self, way: Way, move: Move, before: Mapping[Hinge, float]) -> Way:
        """What swings, with what hangs on it held as it gets by best."""
        slow = _leading(move)
        held_on = {closure.first for closure in move.swing}
        carried = any(len(closure.panels) > 1 for closure in move.swing)

        @cache
        def look(turn: int, held: float = 0.0) -> Lying:
            angles = dict(before)
            for each in move.turns:
                angle = each.to_deg
                if each.hinge in slow:
                    angle = each.from_deg + turn / way.turns * (each.to_deg - each.from_deg)
                elif {each.hinge.first, each.hinge.second} & held_on:
                    angle += held * math.copysign(1.0, each.to_deg)
                angles[each.hinge] = angle
            return self._slabs.lying(angles)

        last = way.turns - move.pressed
        groups = [closure.panels for closure in move.swing]
        if {*groups[0]} == {name for names in groups for name in names}:
            # With what hangs on them and is not folded yet.
            start, end = look(0).poses, look(last).poses
            groups = [tuple(name for name, pose in start.items() if end[name] != pose)]
        moved = {name for group in groups for name in group}
        all_pairs = self._slabs.moving(groups)
        rims = self._rims(slow, groups[0], look(0)) if move.pressed else NOWHERE
        for turn, pairs in self._looks(look, all_pairs, 0, last):
            best: tuple[float, tuple[str, str] | None, float] | None = None
            for held in HELD_DEG if turn < way.turns and carried else (0.0,):
                here = pairs if held == 0.0 else self._slabs.on_the_way(all_pairs)
                depth, between = self._slabs.deepest(here, look(turn, held), rims)
                if best is None or depth < best[0]:
                    best = (depth, between, held)
                if depth <= allowed(self._caliper):
                    break
            assert best is not None
            depth, between, held = best
            if between is not None and between[0] not in moved:
                between = between[::-1]
            way = self._deeper(replace(way, held_deg=max(way.held_deg, abs(held))), depth, between)
        return way

    def _rims(
        self, hinges: Sequence[Hinge], names: Sequence[str], flat: Lying
    ) -> dict[str, tuple[Segment, ...]]:
        """The creases that panels turn about, beyond their ends too, as they lie on each panel."""
        found: dict[str, tuple[Segment, ...]] = dict.fromkeys(names, ())
        for hinge in hinges:
            carrier = flat.poses[hinge.first]
            ends = [carrier.place(hinge.edge.point_at(at)) for at in (-BEYOND, 1 + BEYOND)]
            for name in names:
                (x0, y0, _), (x1, y1, _) = (flat.poses[name].flat(end) for end in ends)
                found[name] += (Segment((x0, y0), (x1, y1)),)
        return found

    def _round(self, way: Way, move: Move, first: int) -> Way:
        """A ring, which moves all at once."""
        moving = [turn.hinge for turn in move.turns]
        rings: dict[int, Settled] = {}

        def settle(angles: Mapping[Hinge, float]) -> Settled:
            return firmly(self._finished, {**self._angles, **angles}, self.glued, moving)

        half_way = settle(evenly(move, 0.5)).angles if move.pressed else {}

        @cache
        def look(turn: int) -> Lying | None:
            share = turn / way.turns
            wanted = as_tangents(move, half_way, share) if move.pressed else evenly(move, share)
            found = rings[turn] = settle(wanted)
            return self._slabs.lying(found.angles) if found.gap <= GIVES * self._caliper else None

        if move.bows:
            look(way.turns // 2)
            gap, bent = rings[way.turns // 2].gap, bends(self._blank, self._caliper)
            bow = min((each.of for each in bent if each.panel in way.panels), default=math.inf)
            return replace(way, turns=0, gap=gap, bow=bow)
        names = [panel.name for panel in self._finished.net.panels]
        pairs = self._slabs.moving([(name,) for name in names])
        last, rims = way.turns, NOWHERE
        flat, half = look(0), look(last // 2)
        if move.pressed and flat and half:
            pairs, rims = pairs & ~self._slabs.still(flat, half), self._rims(moving, names, flat)
            first, last = apart(move, half_way, last)
        for turn, near in self._looks(look, pairs, first - 1, last):
            lying = look(turn)
            if lying is None:
                way = self._bowed(way, rings[turn])
                continue
            depth, between = self._slabs.deepest(near, lying, rims)
            if between is not None:
                # Of two that move the smaller one bends.
                one, other = sorted(between, key=self._slabs.reach)
                between = (one, other)
            way = self._deeper(way, depth - rings[turn].gap, between)
        return way

    def _bowed(self, way: Way, ring: Settled) -> Way:
        """The way with a ring that gapes, unless it has gaped farther."""
        if ring.between is None or ring.gap <= way.gap:
            return way
        return replace(way, gap=ring.gap, bow=self._radius(ring.between, ring.gap))

    def _looks(
        self, look: Look, pairs: Pairs, first: int, last: int
    ) -> Iterator[tuple[int, Pairs]]:
        """The turns at which panels may meet, each with those that do, the last with all."""
        yield from self._halved(look, self._slabs.on_the_way(pairs), first, last)
        yield last, pairs

    def _halved(
        self, look: Look, pairs: Pairs, first: int, last: int
    ) -> Iterator[tuple[int, Pairs]]:
        if last - first <= 1:
            if first + 1 == last:
                yield last, pairs
            return
        half = (first + last) // 2
        start, middle, end = look(first), look(half), look(last)
        if start and middle and end:
            pairs = self._slabs.near(pairs, start, middle, end)
            if not pairs.any():
                return
        yield from self._halved(look, pairs, first, half)
        yield from self._halved(look, pairs, half, last)

    def _deeper(self, way: Way, depth: float, between: tuple[str, str] | None) -> Way:
        """The way with the deepest that a panel goes through another, in those of the blank, unless
        it gets by as flat as card is."""
        if depth <= max(allowed(self._caliper), way.depth) or between is None:
            return way
        radius = self._radius(between[:1], depth)
        if radius >= AS_FLAT * self._caliper:
            return way
        one, other = map(self._blank.panel_of, between)
        return replace(way, depth=depth, between=(one, other), radius=radius)

    def _radius(self, panels: Sequence[str], aside: float) -> float:
        """To which the smallest of some panels bends that comes so far aside."""
        return min(map(self._slabs.reach, panels)) ** 2 / (2 * aside)


def _leading(move: Move) -> tuple[Hinge, ...]:
    """The hinges that turn slowly: those that closures hang by; all of a ring, and of closures
    that hang still."""
    turning = tuple(turn.hinge for turn in move.turns)
    leading = tuple(closure.hinge for closure in move.swing if closure.hinge in turning)
    return leading or turning
