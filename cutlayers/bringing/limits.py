"""How much of a drawing is too much."""

from __future__ import annotations

from cutlayers.reading.values import ValueRefused

MOST_EDGES = 100_000
"""Lines and arcs of a drawing; a box with its tabs and holes has some hundreds."""


def too_many() -> ValueRefused:
    """That a drawing has more than can be worked on in a bounded time."""
    return ValueRefused(
        f"has more than {MOST_EDGES:,} lines", advice="save the net alone, without hatching"
    )
