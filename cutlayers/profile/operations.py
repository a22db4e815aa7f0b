"""How each operation is carried out: by which tool and in which way.

Everything is mm unless the name says otherwise.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from typing import Annotated, Literal

from cutlayers.frozen import frozen
from cutlayers.geometry.strokes import Operation
from cutlayers.profile.notation import COLOURS
from cutlayers.reading.declared import (
    Length,
    Whole,
    Word,
)
from cutlayers.telling.colours import DXF_COLOURS

PASSES = Whole(1, 20, "how often the tool goes over each line")


class Method(StrEnum):
    """How an operation is carried out."""

    TOOL = "tool"
    PERFORATE = "perforate"
    """By short cuts in a row, with the tool of the perforate operation."""
    DRAW = "draw"
    """By a drawn line, to be worked by hand along it."""
    TICKS = "ticks"
    """By short drawn lines at its ends, to lay a ruler to; for scores worked by hand."""
    BY_HAND = "by hand"
    """Not by the machine: left out of its files, shown in the picture and the report."""


@frozen
class Perforation:
    """A row of cuts parted by ties.

    Example:

        [operations.perforate.perforation]
        cut = 2
        tie = 1
        minimum_tie = 0.6
    """

    cut: Annotated[float, Length(0.2, 50, "length of each cut")] = 3.0
    tie: Annotated[float, Length(0.1, 50, "card left between two cuts")] = 1.0
    minimum_tie: Annotated[
        float, Length(0.05, 50, "least tie that holds, when a row is fitted")
    ] = 0.5


@frozen
class Scoring:
    """How scores end, and from which side they are worked.

    Common practice for `pull_back` is 0.5–1 mm; a score that reaches a free edge starts a tear.
    Ticks are for scores that are worked by hand. For the back the sheet is turned over about its
    vertical ("left-right") or horizontal ("top-bottom") middle line.

    Example:

        [operations.score.scoring]
        pull_back = 1
        tick = 4
        valleys = "front"
        turn = "left-right"
    """

    pull_back: Annotated[float, Length(0, 20, "left unscored where a score meets a cut")] = 0.5
    tick: Annotated[float, Length(0.5, 50, 'length of the ticks, with as = "ticks"')] = 3.0
    valleys: Annotated[
        Literal["front", "back"], Word("the side from which folds towards you are scored")
    ] = "front"
    turn: Annotated[
        Literal["left-right", "top-bottom"], Word("how you turn the sheet over for the back")
    ] = "left-right"


@frozen
class Bridges:
    """Places where an outline stays uncut, so that pieces keep still without a sticky mat.

    `count` bridges stand on each outline, or as many as keep them at most `spacing` mm apart;
    the larger number of the two counts, and 0 asks for none.

    Example:

        [operations.cut.bridges]
        width = 0.6
        count = 2
        spacing = 80
    """

    width: Annotated[float, Length(0.1, 20, "card that holds")] = 0.5
    count: Annotated[int, Whole(1, 200, "how many on each outline")] = 0
    spacing: Annotated[float, Length(5, 5000, "farthest from one to the next")] = 0.0


@frozen
class OperationPlan:
    """How one operation is done and shown. `tool` is None unless `method` is TOOL.

    `perforation` is for lines worked by short cuts, `scoring` for scores, `bridges` for cuts
    (None: pieces are cut free).
    """

    operation: Operation
    method: Method
    tool: str | None
    passes: int
    layer: str
    colour: str
    """#RRGGBB"""
    dxf_colour: int
    """DXF colour index 1…255"""
    perforation: Perforation = Perforation()
    scoring: Scoring = Scoring()
    bridges: Bridges | None = None


LOOKS: Mapping[Operation, tuple[str, int]] = {
    operation: (colour, DXF_COLOURS[colour]) for operation, colour in COLOURS.items()
}
"""Colour and DXF colour of each operation where the profile names none."""
