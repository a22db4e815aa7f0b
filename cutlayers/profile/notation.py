"""How lines are drawn for people: one notation for sheets, the gallery and the guide.

Folds are told as paper folders tell them: a valley is dashed, a mountain dashed with a dot between.
Source of the folds' lines: A. Yoshizawa's notation, as S. Randlett, The Art of Origami, 1961, has
it in print (from memory). That cut lines are solid and the others short-dashed is common practice,
no source.
"""

from __future__ import annotations

from collections.abc import Mapping

from cutlayers.geometry.strokes import Operation
from cutlayers.telling.colours import BLUE, GREEN, PURPLE, VERMILION

Dash = tuple[float, ...]
"""Lengths on and off."""

VALLEY: Dash = (2.5, 1.0)
MOUNTAIN: Dash = (2.5, 0.8, 0.5, 0.8)
PERFORATED: Dash = (1.0, 0.5)
DRAWN: Dash = (0.25, 0.75)
"""mm in a small picture, in the pattern of black and white that tells them apart."""

DASHES: Mapping[Operation, Dash] = {
    Operation.DRAW: DRAWN,
    Operation.SCORE: VALLEY,  # of a layer that holds folds of both ways
    Operation.PERFORATE: PERFORATED,
    Operation.CUT: (),
}

COLOURS: Mapping[Operation, str] = {
    Operation.DRAW: VERMILION,
    Operation.SCORE: GREEN,
    Operation.PERFORATE: PURPLE,
    Operation.CUT: BLUE,
}
"""Where the profile names none; black is left to the register marks."""


def enlarged(dash: Dash, by: float) -> Dash:
    """The same pattern in a larger picture."""
    return tuple(by * length for length in dash)
