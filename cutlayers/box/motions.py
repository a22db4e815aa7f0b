"""The steps that move panels, as turns of hinges and slides of nets, from the flat blank to the
finished box.

A net begins flat. What is glued rises with the step that glues it; a ring that can be pressed flat
is glued lying flat, and stands up as it is squared. Afterwards each closure turns about the hinge
that it hangs by. What no closure moves hangs together in rings of hinges, which turn all at once:
when the box is squared up, when a pop-up is pushed out, when a gable's gussets and ridges go in.

A net that goes over or into others slides as one body, along a straight line: down, unless what it
goes into is a ring that lies; then along the ring.

A panel beyond a curved crease bends with the one it hangs on while it is open, its rulings running
on, and the other way once it is closed (the mirror rule: see `construction/pillow.py`).

This module needs shapely; whoever need not measure does not import it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from cutlayers.box.across import beside, straight_across
from cutlayers.box.closing import SAME_RIM, Closure, End, ends, reached, unglued
from cutlayers.box.moves import Motion, Move, Turn
from cutlayers.box.sliding import slides
from cutlayers.box.steps import Action, Step
from cutlayers.geometry.strokes import Operation
from cutlayers.net import Hinge, Net
from cutlayers.net.assembly import Assembly
from cutlayers.net.folding import FoldedNet
from cutlayers.net.tube import parallel, tube_creases

if TYPE_CHECKING:
    from cutlayers.box.box import Box

GLUED: tuple[Action, ...] = (Action.SEAM, Action.GLUE)
AT_ONCE = (Action.SQUARE, Action.PUSH_OUT, Action.GUSSETS, Action.RIDGES)
CLOSED: tuple[Action, ...] = (
    *(Action.FOLD_IN, Action.CLOSE, Action.TUCK, Action.ENGAGE),
    *(Action.INTERLEAVE, Action.BRING_UP),
)

HALF_IN = 0.5
"""How far a gable is closed when its gussets are in, as a share of the way."""


def motions(whole: Box) -> tuple[Motion, ...]:
    """The steps of a box that move panels or nets, in their order; none where curved folds have no
    facets.

    Guaranteed: turns of one hinge follow on each other from 0°, and end where the finished box has
    it. Raises NetError for a box that cannot be folded.
    """
    if not whole.foldable:
        return ()
    steps = whole.steps()
    plans: dict[str, _Plan | _CurvedPlan] = {
        folded.net.name: _CurvedPlan(folded, blank.net)
        if blank.curved
        else _Plan(folded, whole.assembly, steps)
        for blank, folded in zip(whole.wholes, whole.assembly.boxes, strict=True)
    }
    sliding = slides(whole, steps)
    found = []
    for step in steps:
        moves = plans[step.net].moves(step)
        slide = sliding.get(step)
        if moves or slide:
            found.append(Motion(step, moves, plans[step.net].glued, slide))
    return tuple(found)


class _CurvedPlan:
    """One net whose panels bend along curved folds: all of it at once, but for its flaps."""

    def __init__(self, folded: FoldedNet, blank: Net) -> None:
        self.glued: tuple[str, ...] = ()
        self._net, self._blank = folded.net, blank
        self._angles = dict.fromkeys(self._net.hinges, 0.0)
        self._open = {
            name
            for hinge in blank.hinges
            if hinge.edge.bulge
            for name in (hinge.first, hinge.second)
            if len(blank.hinges_of([name])) == 1
        }

    def moves(self, step: Step) -> tuple[Move, ...]:
        """What moves in a step: the first that glues or closes bends the panels."""
        moves = []
        if step.action in (*GLUED, *CLOSED) and not any(self._angles.values()):
            moves.append(self._turned(bows=False))
        if step.action in GLUED:
            self.glued += step.panels
        elif step.action in CLOSED:
            self._open -= {*step.panels, *step.brought}
            moves.append(self._turned(bows=True))
        return tuple(move for move in moves if move.turns)

    def _turned(self, *, bows: bool) -> Move:
        goals = {hinge: self._goal(hinge) for hinge in self._net.hinges}
        return Move(_turns(self._angles, goals), bows=bows)

    def _goal(self, hinge: Hinge) -> float:
        """Open flaps go on as their panels do."""
        one, other = map(self._blank.panel_of, (hinge.first, hinge.second))
        if not {one, other} & self._open:
            return hinge.fold_deg
        return -hinge.fold_deg if one == other else 0.0


class _Plan:
    """One net on its way: the angles that its hinges have, and what has still to move."""

    def __init__(self, folded: FoldedNet, box: Assembly, steps: Sequence[Step]) -> None:
        self.net = folded.net
        self.glued: tuple[str, ...] = ()
        self._angles = dict.fromkeys(self.net.hinges, 0.0)
        steps = [step for step in steps if step.net == self.net.name]
        self._steps = steps
        actions = {step.action for step in steps}
        self._flat = Action.SQUARE in actions
        self._tube = Action.GUSSETS in actions
        self._last = {group: _last(steps, group) for group in (GLUED, CLOSED)}
        self._rising = [*ends(unglued(self.net), box)]
        self._free = [*ends(self.net, box)]
        swinging = {name for end in self._free for each in end.closures for name in each.panels}
        self._tied = tuple(
            hinge for hinge in self.net.hinges if not {hinge.first, hinge.second} & swinging
        )

    def moves(self, step: Step) -> tuple[Move, ...]:
        """What moves in a step."""
        found: list[Move] = []
        if step.action is Action.JOIN_PARTS:
            self.glued += step.panels
        elif step.action in GLUED:
            self.glued += step.panels
            swung = self._swung(step, GLUED, self._rising, (*step.panels, *step.targets))
            # What closes a ring lies on it where that is pressed flat, else it stands before.
            found += [*self._pressed(), *swung] if self._flat else [*swung, *self._raised()]
        elif step.action in AT_ONCE:
            share = HALF_IN if step.action is Action.GUSSETS else 1.0
            found += self._at_once({hinge: hinge.fold_deg for hinge in self._tied}, share)
            # Parts of panels that bend to lie on each other do so at last.
            bent = [end for end in self._free if all(map(_bends, end.closures))]
            found += self._swung(step, CLOSED, bent, ())
        elif step.action in CLOSED:
            found += self._swung(step, CLOSED, self._free, (*step.panels, *step.brought))
        return tuple(found)

    def _swung(
        self, step: Step, group: tuple[Action, ...], opened: list[End], names: Iterable[str]
    ) -> Iterator[Move]:
        """The closures of a step, as their ends have them; the last step takes all that is left,
        and so does one without names."""
        all_left = step is self._last[group] or not names
        flat = self._flat and group is GLUED
        for end in [*opened]:
            mine = [closure for closure in end.closures if all_left or {*closure.panels} & {*names}]
            together = end.interleaved and end.carries
            for swing in [tuple(mine)] if together and mine else [(each,) for each in mine]:
                later = [*self._later(step, swing)] if flat else []
                opened += [End(((closure,),)) for closure in later]
                yield from self._closed(swing, later, flat=flat)
            left = tuple(
                tuple(closure for closure in members if closure not in mine)
                for members in end.groups
            )
            at = opened.index(end)
            opened[at : at + 1] = [End(left, end.interleaved)] if any(left) else []

    def _later(self, step: Step, swing: tuple[Closure, ...]) -> Iterator[Closure]:
        """What hangs on closures and is folded over tabs only in a later step, which glues these to
        its inside."""
        glued = [each for each in self._steps if each.action in GLUED]
        tabs = [name for each in glued[glued.index(step) + 1 :] for name in each.panels]
        onto = {panel.lands_on for panel in map(self.net.panel, tabs) if panel.under}
        for closure in swing:
            links = [(hinge.first, hinge.second) for hinge in self._within(closure)]
            for hinge in self._within(closure):
                far = max(hinge.first, hinge.second, key=closure.panels.index)
                if far in onto and far not in step.targets:
                    links.remove((hinge.first, hinge.second))
                    yield Closure(tuple(reached(far, links)), hinge)

    def _closed(
        self, swing: tuple[Closure, ...], later: Sequence[Closure], *, flat: bool
    ) -> Iterator[Move]:
        hinges = [closure.hinge for closure in swing]
        hinges += [hinge for closure in swing for hinge in self._within(closure)]
        waiting = [closure.hinge for closure in later]
        waiting += [hinge for closure in later for hinge in self._within(closure)]
        hinges = [hinge for hinge in hinges if hinge not in waiting]
        goals = {hinge: self._goal(hinge, flat=flat) for hinge in hinges}
        turns = _turns(self._angles, goals)
        if turns:
            yield Move(turns, swing, pressed=flat)

    def _raised(self) -> Iterator[Move]:
        """Rings of hinges that were there before any glue, with the first tabs that are glued."""
        rings = self._rings()
        if self._tube:
            goals = _tube_angles(self.net, rings)
        else:
            goals = {hinge: hinge.fold_deg for hinge in rings}
        turns = _turns(self._angles, goals)
        if turns:
            yield Move(turns)

    def _pressed(self) -> Iterator[Move]:
        """The same, pressed flat: creases that go straight across them, which turn whatever lies
        beyond by itself, the least of it first; all that is left at once; and the last of those
        creases, or what is beyond it would lie on the others on the way in."""
        goals = {hinge: self._goal(hinge, flat=True) for hinge in self._rings()}
        swings = straight_across(self.net, goals)
        across = [
            {closure.hinge: goals.pop(closure.hinge) for closure in swing} for swing in swings
        ]
        order = [*zip(across, swings, strict=True)]
        order.insert(-1, (goals, ()))
        for turning, swing in order:
            turns = _turns(self._angles, turning)
            if turns:
                yield Move(turns, swing, pressed=True)

    def _rings(self) -> list[Hinge]:
        """Hinges of rings that have not turned yet."""
        waiting = {
            hinge
            for end in self._rising
            for closure in end.closures
            for hinge in (closure.hinge, *self._within(closure))
        }
        return [h for h in self._tied if h not in waiting and not self._angles[h]]

    def _within(self, closure: Closure) -> Iterator[Hinge]:
        """The hinges between panels of a closure."""
        return (h for h in self.net.hinges if {h.first, h.second} <= {*closure.panels})

    def _at_once(self, goals: Mapping[Hinge, float], share: float) -> Iterator[Move]:
        between = {
            hinge: self._angles[hinge] + share * (goal - self._angles[hinge])
            for hinge, goal in goals.items()
        }
        turns = _turns(self._angles, between)
        if turns:
            yield Move(turns)

    def _goal(self, hinge: Hinge, *, flat: bool) -> float:
        return hinge.flat_deg if flat and hinge.flat_deg is not None else hinge.fold_deg


def _turns(angles: dict[Hinge, float], goals: Mapping[Hinge, float]) -> tuple[Turn, ...]:
    """The turns that hinges make from their angles to others, which they have from then on."""
    turns = tuple(
        Turn(hinge, angles[hinge], goal) for hinge, goal in goals.items() if goal != angles[hinge]
    )
    angles |= goals
    return turns


def _last(steps: Sequence[Step], group: tuple[Action, ...]) -> Step | None:
    return next((step for step in reversed(steps) if step.action in group), None)


def _bends(closure: Closure) -> bool:
    """Whether it is a part of a panel that keeps its place."""
    return closure.hinge.operation is Operation.DRAW


def _tube_angles(net: Net, rings: Sequence[Hinge]) -> dict[Hinge, float]:
    """The angles of a tube that stands open with its roof upright: creases in line with those round
    the tube turn as these do, both sides of a strip half of it, and all others lie flat."""
    found: dict[Hinge, float] = {}
    # Named as `strip_name` has it.
    strips = {panel.name for panel in net.panels if " | " in panel.name}
    for crease in tube_creases(net):
        for hinge in rings:
            if parallel(hinge, crease) and beside(hinge, crease) <= SAME_RIM:
                halves = 2 if {hinge.first, hinge.second} & strips else 1
                found[hinge] = crease.fold_deg / halves
    return found
