"""What walking a move of a box finds: in whose way anything stands, and by how much card bends."""

from __future__ import annotations

import math

from cutlayers.box.steps import Step
from cutlayers.frozen import frozen


@frozen
class Way:
    """How panels that move together do so in a step; they are those of the blank.

    `turns` is in how many they were walked, none where panels bow, and none of a net that slides,
    which has `slid` so many mm instead. `held_deg` is how far what hangs on them was held from
    where it stays at most. `depth` is how deep they would go through another panel on the way in
    mm, 0 where nothing stands in the way; then `between` names the two, with their nets where these
    slide, and `radius` is that of the bend in mm with which the moving one gets by. `gap` is how
    far in mm a ring gapes whose panels have to bow, 0 of one that closes, and `bow` the radius in
    mm to which they do: the smaller of the two that gape farthest, or what bends along a curved
    fold, which gets through lying flat to what it is bent to in the finished box.
    """

    step: Step
    panels: tuple[str, ...]
    turns: int
    held_deg: float = 0.0
    depth: float = 0.0
    between: tuple[str, str] | None = None
    radius: float = math.inf
    gap: float = 0.0
    bow: float = math.inf
    slid: float = 0.0

    @property
    def net(self) -> str:
        """The net that they are of."""
        return self.step.net

    @property
    def bends(self) -> bool:
        """Whether card has to bend on the way."""
        return self.between is not None or self.gap > 0
