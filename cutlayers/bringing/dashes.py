"""What patterns of dashes tell: published folding notation, and the lines of drawings.

Source: a valley is dashed and a mountain dashed with dots between, A. Yoshizawa's notation as
S. Randlett, The Art of Origami, 1961, and R. J. Lang, Origami Design Secrets, 2003, have it in
print (from memory). That a fold is dashed where a cut is solid is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum


class Pattern(StrEnum):
    """How a line is broken."""

    SOLID = "solid"
    DASHED = "dashed"
    DASH_DOT = "dash-dot"
    DOTTED = "dotted"


DOT = 0.5
"""Of the longest dash, or of the gap beside it: what is shorter is a dot."""


def pattern_of(dash: Sequence[float]) -> Pattern:
    """Lengths on and off in turn."""
    drawn, left = [*dash[::2]], [*dash[1::2]]
    if not drawn or not sum(left):
        return Pattern.SOLID
    longest = max(drawn)
    if longest <= DOT * min(left):
        return Pattern.DOTTED
    if min(drawn) <= DOT * longest:
        return Pattern.DASH_DOT
    return Pattern.DASHED


def period_of(dash: Sequence[float]) -> float:
    """How long a pattern is before it comes again; one that is written twice counts once."""
    half = len(dash) // 2
    once = dash[:half] if half % 2 == 0 and tuple(dash[:half]) == tuple(dash[half:]) else dash
    return sum(once)
