"""Lengths against limits as people read them: to a tenth of a millimetre, rounding apart."""

from __future__ import annotations

import math

from cutlayers.telling.refusals import Span

NAMED = 1e-6
"""mm; the last bits of a sum must not make a limit of 8 mm refuse the 8 mm that it names."""


def below(value: float, least: float) -> bool:
    """Whether a length is too small, by more than the rounding of a limit that is named."""
    return value < least - NAMED


def above(value: float, most: float) -> bool:
    """Whether a length is too large, by more than the rounding of a limit that is named."""
    return value > most + NAMED


def at_least(limit: float, *, zero: str = "") -> Span:
    """Lengths from `limit` mm, rounded up to 0.1 mm, which is not `below` it.

    `zero` says what 0 does, where that is allowed too.
    """
    return Span(_up(limit), unit="mm", zero=zero)


def at_most(limit: float, *, zero: str = "") -> Span:
    """Lengths to `limit` mm, rounded down to 0.1 mm, which is not `above` it."""
    return Span(most=_down(limit), unit="mm", zero=zero)


def between(least: float, most: float, about: str = "") -> Span:
    """Lengths from one limit to another in mm, both rounded inwards; `about` is what they give."""
    return Span(_up(least), _down(most), "mm", about=about)


def can_be_named(least: float, most: float) -> bool:
    """Whether a tenth of a mm lies from one limit to another."""
    return _up(least) <= _down(most)


def _up(limit: float) -> float:
    return math.ceil((limit - NAMED / 2) * 10) / 10


def _down(limit: float) -> float:
    return math.floor((limit + NAMED / 2) * 10) / 10
