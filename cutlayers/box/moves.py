"""What moves in the steps of a box: turns of hinges, and slides of whole nets."""

from __future__ import annotations

from cutlayers.box.closing import Closure
from cutlayers.box.steps import Step
from cutlayers.frozen import frozen
from cutlayers.net import Hinge
from cutlayers.net.space import Vector


@frozen
class Turn:
    """One hinge that turns from one angle to another, in degrees."""

    hinge: Hinge
    from_deg: float
    to_deg: float


@frozen
class Move:
    """Turns that are made at once. Where panels `swing`, the first of each closure turns, and what
    hangs on it is folded before; else a whole ring moves. One that is `pressed` ends lying flat on
    itself; one that `bows` does not close in between, since its panels bend along curved folds."""

    turns: tuple[Turn, ...]
    swing: tuple[Closure, ...] = ()
    pressed: bool = False
    bows: bool = False


@frozen
class Slide:
    """A net that slides as one body, along the unit vector `way` in space, from `far` mm before the
    place that it has in the finished box, past the nets named."""

    way: Vector
    far: float
    past: tuple[str, ...]


@frozen
class Motion:
    """A step, and what moves in it, one after the other; hinges are those of the folded net.

    `glued` are the tabs of the net that hold once it is done.
    """

    step: Step
    moves: tuple[Move, ...]
    glued: tuple[str, ...]
    slide: Slide | None = None

    @property
    def holding(self) -> tuple[str, ...]:
        """The tabs that hold while it is done: not yet those that it glues."""
        return tuple(name for name in self.glued if name not in self.step.panels)
