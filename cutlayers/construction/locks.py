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

    Both are of card `caliper` mm thick; the slit is `play` mm wider than the card takes up in it,
    and as much longer than the tongue. The tongue bites through the whole of the card.
    """

    caliper: float
    play: float = PLAY

    def opening(self, sine: float = 1.0) -> float:
        """How wide the slit is in mm, across a tongue that goes through it at the angle of that
        sine, square to it if not given; the tongue may come through at up to a right angle.

        Card of caliper c that goes through card of caliper c at an angle φ takes up
        c/sin φ + c/tan φ.
        """
        return self.caliper * (1.0 + math.sqrt(1.0 - sine**2)) / sine + self.play

    def tongue(self, slit: float) -> float:
        """How wide in mm the tongue is of a slit so long."""
        return slit - self.play

    def slit(self, tongue: float) -> float:
        """How long in mm the slit is of a tongue so wide."""
        return tongue + self.play
