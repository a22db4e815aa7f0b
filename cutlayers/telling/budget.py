"""How long dear work may go on: until a time is spent, or until somebody calls it off."""

from __future__ import annotations

import math
import time
from collections.abc import Callable

from cutlayers.frozen import frozen
from cutlayers.telling.errors import Cancelled


@frozen
class Budget:
    """Seconds that a piece of work may take, and a question that calls it off.

    The time counts from `start`, by default the clock when the budget is made. `seconds` None
    has no end. `cancel` is asked each time and says whether whoever waits for the work has gone.
    `clock` gives seconds that only grow.
    """

    seconds: float | None = None
    cancel: Callable[[], bool] | None = None
    clock: Callable[[], float] = time.monotonic
    start: float = math.nan

    def __post_init__(self) -> None:
        if math.isnan(self.start):
            object.__setattr__(self, "start", self.clock())

    @property
    def left(self) -> float | None:
        """Seconds that are left, 0 at least; None where there is no end."""
        if self.seconds is None:
            return None
        return max(0.0, self.seconds - (self.clock() - self.start))

    @property
    def spent(self) -> bool:
        """Whether the time is over. Raises Cancelled where the work was called off."""
        self.check()
        left = self.left
        return left is not None and left <= 0.0

    def check(self) -> None:
        """Raise Cancelled where the work was called off; whoever has no half result asks this."""
        if self.cancel is not None and self.cancel():
            raise Cancelled("stopped")


ENDLESS = Budget()
"""As long as it takes, and nobody calls it off."""
