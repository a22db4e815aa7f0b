"""What every lock of a tongue and a slit is made from: the card, its play, and how far it bites."""

from __future__ import annotations

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
