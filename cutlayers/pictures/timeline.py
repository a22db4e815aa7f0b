"""The folding of a box in time: when each hinge turns, by how much, and which step that is.

Time is counted in moves of the assembly. At the end of a step the rings of a net are closed as
`box/stages.py` has them; in between angles change evenly.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

import numpy as np

from cutlayers.box import Box
from cutlayers.frozen import frozen
from cutlayers.net.folding import folding_order, placed
from cutlayers.net.space import Vector, moved
from cutlayers.net.stacking import key

if TYPE_CHECKING:
    from cutlayers.box.steps import Step

CLEAR = 15.0
"""mm that a net begins farther away than it is clear of the others."""

DECIMALS = 2
"""Of mm; a hundredth is finer than any screen."""


@frozen
class Swing:
    """Something that changes evenly while time runs: an angle in degrees, or a distance in mm."""

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
    slides: Mapping[str, tuple[Vector, tuple[Swing, ...]]]
    """Of each net, the direction in which it is away from its place, and how far in mm."""
    steps: tuple[During, ...]
    reaches: tuple[Reach, ...]
    end: float


class _Clock:
    """Angles, and how far nets are from their places, at a time, and how they came to be so."""

    def __init__(self, box: Box) -> None:
        self.now = 0.0
        self._finished = {folded.net.name: folded for folded in box.assembly.boxes}
        self._trees = {name: folding_order(f.net)[0] for name, f in self._finished.items()}
        self.angles = {name: [0.0] * len(f.net.hinges) for name, f in self._finished.items()}
        self.swings: dict[str, list[list[Swing]]] = {
            name: [[] for _ in angles] for name, angles in self.angles.items()
        }
        self._slides = {
            motion.step.net: motion.slide for motion in box.motions if motion.slide is not None
        }
        self.far = dict.fromkeys(self._finished, 0.0)
        self.far |= {name: round(each.far + CLEAR, 3) for name, each in self._slides.items()}
        self.slid: dict[str, list[Swing]] = {name: [] for name in self.angles}
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

    def join(self, net: str) -> None:
        """Let a net slide to its place for one unit of time, if it has not yet."""
        if self.far[net]:
            self.slid[net].append(Swing(self.now, self.now + 1, self.far[net], 0.0))
            self.far[net] = 0.0
            self._passed()

    def away(self, net: str) -> Vector:
        """The direction in which a net is away from its place until it is joined."""
        slide = self._slides.get(net)
        return (0.0, 0.0, 0.0) if slide is None else moved((0.0, 0.0, 0.0), slide.way, -1.0)

    def finish(self) -> None:
        """Let everything come to where the finished box has it."""
        for name, folded in self._finished.items():
            self.turn(name, {i: hinge.fold_deg for i, hinge in enumerate(folded.net.hinges)})
        for name in self._finished:
            self.join(name)

    def _passed(self) -> None:
        self.now += 1
        self.reaches.append(self._reach())

    def _reach(self) -> Reach:
        """How much room all panels take as they are now."""
        shares = []
        for name, folded in self._finished.items():
            angles = dict(zip(folded.net.hinges, self.angles[name], strict=True))
            for panel, pose in placed(folded, self._trees[name], angles).items():
                ring = self._rings[name, panel]
                origin = moved(pose.origin, self.away(name), self.far[name])
                shares.append(ring @ np.array((pose.right, pose.up)) + np.array(origin))
        points = np.concatenate(shares)
        middle = (points.min(axis=0) + points.max(axis=0)) / 2
        x, y, z = (round(float(each), DECIMALS) for each in middle)
        size = float(np.linalg.norm(points - middle, axis=1).max())
        return Reach(self.now, (x, y, z), round(size, DECIMALS))


def timeline(box: Box) -> Timeline:
    """How a box goes together, its moves one after the other, each for a unit of time.

    Where it has no steps all its folds are made at once. Raises NetError where it cannot be folded.
    """
    clock = _Clock(box)
    steps: list[During] = []
    if box.foldable:
        from cutlayers.box.stages import stages

        moving = {motion.step: motion for motion in box.motions}
        finished = {folded.net.name: folded.net for folded in box.assembly.boxes}
        for stage in stages(box):
            start, name = clock.now, stage.step.net
            motion = moving.get(stage.step)
            if motion is not None and motion.moves:
                at = {hinge: index for index, hinge in enumerate(finished[name].hinges)}
                turns = [{at[t.hinge]: t.to_deg for t in move.turns} for move in motion.moves]
                after = next(folded for folded in stage.nets if folded.net.name == name)
                turns[-1] |= {i: hinge.fold_deg for i, hinge in enumerate(after.net.hinges)}
                for each in turns:
                    clock.turn(name, each)
            if motion is not None and motion.slide is not None:
                clock.join(name)
            if clock.now > start:
                steps.append(During(stage.step, start, clock.now))
    clock.finish()
    return Timeline(
        {name: [tuple(each) for each in swings] for name, swings in clock.swings.items()},
        {name: (clock.away(name), tuple(each)) for name, each in clock.slid.items()},
        tuple(steps),
        tuple(clock.reaches),
        clock.now,
    )
