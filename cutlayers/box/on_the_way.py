"""The angles of a move's hinges on the way, before the rings that they lie in are closed.

Where four creases meet and go from flat to folded flat, the tangents of half of their angles keep
their ratios. Source: Huffman, "Curvature and creases", 1976; Tachi, "Generalization of rigid
foldable quadrilateral mesh origami", 2009 (from memory).
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from cutlayers.box.moves import Move
from cutlayers.net import Hinge

ROUNDING = 1e-6
"""Degrees."""


def evenly(move: Move, share: float) -> dict[Hinge, float]:
    """The angles of a move's hinges after a share of the way, as if each turned by itself."""
    return {
        each.hinge: each.from_deg + share * (each.to_deg - each.from_deg) for each in move.turns
    }


def as_tangents(move: Move, half_way: Mapping[Hinge, float], share: float) -> dict[Hinge, float]:
    """The angles after a share of the way from flat to folded flat, by those half way."""
    lead = math.tan(math.radians(share * 180.0) / 2)
    return {
        each.hinge: each.to_deg
        if share == 1.0
        else 2 * math.degrees(math.atan(lead * math.tan(math.radians(half_way[each.hinge]) / 2)))
        for each in move.turns
    }


def apart(move: Move, half_way: Mapping[Hinge, float], turns: int) -> tuple[int, int]:
    """The first and the last turn at which no two panels lie nearer to each other than a turn."""
    least = 180.0 / turns - ROUNDING
    apart = [
        turn
        for turn in range(turns)
        if all(
            least <= abs(angle) <= 180.0 - least
            for angle in as_tangents(move, half_way, turn / turns).values()
        )
    ]
    return (apart[0], apart[-1]) if apart else (turns // 2, turns // 2)
