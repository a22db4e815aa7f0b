"""The box after each step: its nets as they stand, part-folded, and what the step has moved.

Rings hang together as `net/rings.py` finds them. One that is glued lying flat is shown as it
springs open when it is let go of, or flat where its panels would have to bend for that.

This module needs shapely and numpy; whoever need not measure does not import it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from cutlayers.box.moves import Motion
from cutlayers.box.sliding import JOINED
from cutlayers.box.steps import Action, Step
from cutlayers.frozen import frozen
from cutlayers.net import Hinge
from cutlayers.net.folding import FoldedNet, turned
from cutlayers.net.rings import Settled, settled

if TYPE_CHECKING:
    from cutlayers.box.box import Box
    from cutlayers.net.stacking import Key

SPRUNG = 0.3
"""How far a ring that was pressed flat springs open, as a share of the way to standing square."""

GIVES = 1.5
"""Calipers by which the loops of a ring may gape; card of several layers gives as much at its
creases. Common practice, no source."""


@frozen
class Stage:
    """A step, the nets that lie together once it is done, and the panels that it has moved, each
    with its net's name."""

    step: Step
    nets: tuple[FoldedNet, ...]
    moved: frozenset[Key]


def stages(whole: Box, after: Collection[Step] | None = None) -> Iterator[Stage]:
    """The box after each step that moves panels or joins nets, or some of these, each drawn when it
    is asked for; none where curved folds have no facets.

    Raises NetError for a box that cannot be folded.
    """
    if not whole.foldable:
        return
    finished = {folded.net.name: folded for folded in whole.assembly.boxes}
    moving = {motion.step: motion for motion in whole.motions}
    stand = {
        name: turned(folded, dict.fromkeys(folded.net.hinges, 0.0))
        for name, folded in finished.items()
    }
    angles = {name: dict.fromkeys(folded.net.hinges, 0.0) for name, folded in finished.items()}
    together: list[str] = []
    last: dict[str, Motion] = {}
    for step in whole.steps():
        motion = moving.get(step)
        if motion is not None and motion.moves:
            angles[step.net] |= {t.hinge: t.to_deg for move in motion.moves for t in move.turns}
            last[step.net] = motion
        elif step.action in JOINED:
            together += [n for n in (*step.targets, step.net) if n not in together]
        else:
            continue
        if after is not None and step not in after:
            continue
        shown = together if step.net in together else [step.net]
        for name in last.keys() & {*shown}:
            caliper = whole.card.of(name).caliper
            stand[name] = _after(finished[name], angles[name], last.pop(name), caliper)
        yield Stage(step, tuple(stand[name] for name in shown), _moved(whole, step, motion))


def _after(
    finished: FoldedNet, angles: Mapping[Hinge, float], motion: Motion, caliper: float
) -> FoldedNet:
    """A net after a motion, its rings closed."""
    move = motion.moves[-1]
    moving = [turn.hinge for turn in move.turns]
    if move.pressed:
        wanted = {hinge: _sprung(hinge, angle) for hinge, angle in angles.items()}
        moving = [hinge for hinge in angles if wanted[hinge] != angles[hinge]]
        found = firmly(finished, wanted, motion.glued, moving)
        return turned(finished, found.angles if found.gap <= GIVES * caliper else angles)
    if move.swing:
        return turned(finished, angles)
    return turned(finished, firmly(finished, angles, motion.glued, moving).angles)


def _sprung(hinge: Hinge, angle: float) -> float:
    if hinge.flat_deg is None or angle != hinge.flat_deg:
        return angle
    return angle + SPRUNG * (hinge.fold_deg - angle)


def firmly(
    finished: FoldedNet,
    wanted: Mapping[Hinge, float],
    glued: Collection[str],
    moving: Sequence[Hinge],
) -> Settled:
    """The angles next to those wanted at which the rings of a net close while some hinges move: the
    others stay, and the first of them is the one that is turned. `glued` are tabs that hold."""
    firm = (wanted.keys() - {*moving}) | {*moving[:1]}
    return settled(finished, wanted, glued, firm)


def _moved(whole: Box, step: Step, motion: Motion | None) -> frozenset[Key]:
    net = whole.blank(step.net).net
    swung = {
        name
        for move in (motion.moves if motion else ())
        for closure in move.swing
        for name in closure.panels
    }
    named = {*step.panels, *step.brought}
    if step.action is Action.SQUARE:
        named |= {*step.targets}
    folded = next(each.net for each in whole.assembly.boxes if each.net.name == step.net)
    return frozenset(
        (net.name, panel.name)
        for panel in folded.panels
        if step.action in JOINED or panel.name in swung or net.panel_of(panel.name) in named
    )
