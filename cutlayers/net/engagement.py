"""What every lock of a tongue and a slit is made from: the card, its play, and how far it bites."""

from __future__ import annotations

import math

from cutlayers.frozen import frozen

PLAY = 0.5
"""mm by which a slit or slot is larger than what goes through; common practice leaves half a
millimetre at tucks."""

BRIDGE = 3.0
"""Calipers of card that must be left beside a slit, or it tears there (common practice)."""


LEAST_HOLD = 2.0
"""mm of card that a tongue is held by at least (common practice, no source)."""


def least_bridge(caliper: float, least: float) -> float:
    """How much card in mm must be left beside a slit: `least`, or `BRIDGE` calipers."""
    return max(least, BRIDGE * caliper)


@frozen
class Engagement:
    """A tongue and its slit: whichever of them is given, the other is made from it.

    The tongue is of card `caliper` mm thick and goes into card `through` mm thick, of the same if
    not given; the slit is `play` mm wider than the tongue takes up in it, and as much longer.
    """

    caliper: float
    play: float = PLAY
    through: float | None = None

    @property
    def bite(self) -> float:
        """How far the tongue reaches into the card that holds it, in mm: through all of it."""
        return self.caliper if self.through is None else self.through

    def opening(self, sine: float = 1.0) -> float:
        """How wide the slit is in mm, across a tongue that goes through it at the angle of that
        sine, square to it if not given; the tongue may come through at up to a right angle.

        Card of caliper t that goes through card of caliper c at an angle φ takes up
        t/sin φ + c/tan φ.
        """
        return self.taken(sine) + self.play

    def taken(self, sine: float) -> float:
        """What the tongue takes up of the slit's width in mm at that angle."""
        return (self.caliper + self.bite * math.sqrt(max(0.0, 1.0 - sine**2))) / sine

    def tongue(self, slit: float) -> float:
        """How wide in mm the tongue is of a slit so long."""
        return slit - self.play

    def slit(self, tongue: float) -> float:
        """How long in mm the slit is of a tongue so wide."""
        return tongue + self.play


@frozen
class Held:
    """The other side of an engagement, by the panel's name."""

    panel: str
    lock: Engagement
