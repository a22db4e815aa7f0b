"""The folding of a box in time: when each hinge turns, by how much, and which step that is.

Time is counted in moves of the assembly. At the end of a step the rings of a net are closed as
`box/stages.py` has them; in between angles change evenly.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING

import numpy as np

from cutlayers.box import Box
from cutlayers.frozen import frozen
from cutlayers.net.folding import turned
from cutlayers.net.space import Vector, moved
from cutlayers.net.stacking import key

if TYPE_CHECKING:
    from cutlayers.box.steps import Step

DECIMALS = 2
"""Of mm; a hundredth is finer than any screen."""


@frozen
class Swing:
    """Something that changes evenly while time runs: an angle in degrees, or a height in mm."""

    start: float
    end: float
    first: float
    last: float


@frozen
class Reach:
    """How much room the box takes at a time: the middle of it, and how far it goes from there."""

    time: float
    middle: Vector
    size: float


@frozen
class During:
    """When a step of the assembly is done."""

    step: Step
    start: float
    end: float


@frozen
class Timeline:
    """All that changes on the way from flat blanks to the finished box, which stands at `end`."""

    swings: Mapping[str, Sequence[tuple[Swing, ...]]]
    """Of each net, by the index of the hinge."""
    lifts: Mapping[str, tuple[Swing, ...]]
    steps: tuple[During, ...]
    reaches: tuple[Reach, ...]
    end: float


class _Clock:
    """Angles and heights as they are at a time, and how they came to be so."""

    def __init__(self, box: Box) -> None:
        self.now = 0.0
        self._finished = {folded.net.name: folded for folded in box.assembly.boxes}
        self.angles = {name: [0.0] * len(f.net.hinges) for name, f in self._finished.items()}
        self.swings: dict[str, list[list[Swing]]] = {
            name: [[] for _ in angles] for name, angles in self.angles.items()
        }
        self.heights = {
            apart.net.name: apart.poses[apart.net.root.name].origin[2]
            - self._finished[apart.net.name].poses[apart.net.root.name].origin[2]
            for apart in box.apart.boxes
        }
        self.lifts: dict[str, list[Swing]] = {name: [] for name in self.angles}
        self._rings = {key(face): np.array(face.ring) for face in box.assembly.faces}
        self.reaches = [self._reach()]

    def turn(self, net: str, goals: Mapping[int, float]) -> None:
        """Let hinges of a net turn for one unit of time."""
        changed = {i: to for i, to in goals.items() if abs(to - self.angles[net][i]) > 1e-9}
        if not changed:
            return
        for index, goal in changed.items():
            self.swings[net][index].append(
                Swing(self.now, self.now + 1, self.angles[net][index], round(goal, 4))
            )
            self.angles[net][index] = goal
        self._passed()

    def lower(self, nets: Iterable[str]) -> None:
        """Let lifted nets come down for one unit of time."""
        lifted = [name for name in nets if self.heights[name] > 1e-9]
        if not lifted:
            return
        for name in lifted:
            height = round(self.heights[name], 3)
            self.lifts[name].append(Swing(self.now, self.now + 1, height, 0.0))
            self.heights[name] = 0.0
        self._passed()

    def finish(self) -> None:
        """Let everything come to where the finished box has it."""
        for name, folded in self._finished.items():
            self.turn(name, {i: hinge.fold_deg for i, hinge in enumerate(folded.net.hinges)})
        self.lower([*self.heights])

    def _passed(self) -> None:
        self.now += 1
        self.reaches.append(self._reach())

    def _reach(self) -> Reach:
        """How much room all panels take as they are now."""
        shares = []
        for name, folded in self._finished.items():
            angles = dict(zip(folded.net.hinges, self.angles[name], strict=True))
            for panel, pose in turned(folded, angles).poses.items():
                ring = self._rings[name, panel]
                origin = moved(pose.origin, (0.0, 0.0, 1.0), self.heights[name])
                shares.append(ring @ np.array((pose.right, pose.up)) + np.array(origin))
        points = np.concatenate(shares)
        middle = (points.min(axis=0) + points.max(axis=0)) / 2
        x, y, z = (round(float(each), DECIMALS) for each in middle)
        size = float(np.linalg.norm(points - middle, axis=1).max())
        return Reach(self.now, (x, y, z), round(size, DECIMALS))


def timeline(box: Box) -> Timeline:
    """How a box goes together, its moves one after the other, each for a unit of time.

    A box with curved folds has no steps: all its folds are made at once. Raises NetError where it
    cannot be folded.
    """
    clock = _Clock(box)
    steps: list[During] = []
    if box.curved:
        for folded in box.assembly.boxes:
            goals = {i: hinge.fold_deg for i, hinge in enumerate(folded.net.hinges)}
            clock.turn(folded.net.name, goals)
    else:
        from cutlayers.box.stages import stages

        moving = {motion.step: motion for motion in box.motions}
        finished = {folded.net.name: folded.net for folded in box.assembly.boxes}
        for stage in stages(box):
            start, name = clock.now, stage.step.net
            motion = moving.get(stage.step)
            if motion is None:
                clock.lower((name, *stage.step.targets))
            else:
                at = {hinge: index for index, hinge in enumerate(finished[name].hinges)}
                turns = [{at[t.hinge]: t.to_deg for t in move.turns} for move in motion.moves]
                after = next(folded for folded in stage.nets if folded.net.name == name)
                turns[-1] |= {i: hinge.fold_deg for i, hinge in enumerate(after.net.hinges)}
                for each in turns:
                    clock.turn(name, each)
            if clock.now > start:
                steps.append(During(stage.step, start, clock.now))
    clock.finish()
    return Timeline(
        {name: [tuple(each) for each in swings] for name, swings in clock.swings.items()},
        {name: tuple(each) for name, each in clock.lifts.items()},
        tuple(steps),
        tuple(clock.reaches),
        clock.now,
    )
