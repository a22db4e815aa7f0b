"""What a user says of a drawing: how large it is, which line is what, how it folds.

It is what a piece of a job has under `drawing`; all of it may be left out where the drawing itself
is clear.
"""

from __future__ import annotations

from typing import Annotated, Literal

from cutlayers.frozen import frozen
from cutlayers.reading.declared import (
    Flag,
    Length,
    Number,
    Several,
    Text,
    Whole,
    a_colour,
)

DrawnIn = Literal["mm", "cm", "in", "pt", "1/96 in", "1/90 in"]
"""What one unit of a drawing may be."""

Ends = Literal["trim", "keep"]

EACH = "lines that all of these hold for"


@frozen
class Selection:
    """Lines of a drawing: those for which everything holds that is said here.

    Example:

        [[piece]]
        drawing = "box.svg"
        stock = "kraft"

        [piece.lines]
        cut = [{ layer = "outline" }, { colour = "#ff0000", dash = false }]
        score = [{ colour = "#0000ff" }, { numbers = [3, 4] }]
        ignore = [{ group = "notes" }, { width = 0.5 }, { name = "frame" }]
    """

    layer: Annotated[str | None, Text("the layer they are on")] = None
    colour: Annotated[str | None, a_colour("their colour")] = None
    dash: Annotated[bool | None, Flag("dashed lines, or with false those that are not")] = None
    width: Annotated[
        float | None, Number(0.0, 1e6, "units of the drawing", "how wide they are drawn")
    ] = None
    group: Annotated[str | None, Text("a group or block that they are in")] = None
    name: Annotated[str | None, Text("their own name")] = None
    numbers: Annotated[
        tuple[int, ...],
        Several("single lines", each="a line's number", item=Whole(1, 1_000_000, "")),
    ] = ()


@frozen
class Rules:
    """Which line is what, by kind; of two selections that hold a line the one that says more counts."""

    cut: Annotated[tuple[Selection, ...], Several("lines to be cut", each=EACH)] = ()
    score: Annotated[tuple[Selection, ...], Several("lines to be scored", each=EACH)] = ()
    perforate: Annotated[tuple[Selection, ...], Several("lines to be perforated", each=EACH)] = ()
    draw: Annotated[tuple[Selection, ...], Several("lines to be drawn", each=EACH)] = ()
    register: Annotated[
        tuple[Selection, ...], Several("register marks, which are left out", each=EACH)
    ] = ()
    ignore: Annotated[
        tuple[Selection, ...], Several("frames, notes and dimension lines", each=EACH)
    ] = ()


@frozen(kw_only=True)
class Known:
    """A line of the drawing whose length is known.

    Example:

        [[piece]]
        drawing = "box.svg"
        stock = "kraft"
        known = { line = 12, length = 60 }
    """

    line: Annotated[int, Whole(1, 1_000_000, "the line's number, as 'cutlayers bring' tells it")]
    length: Annotated[float, Length(0.1, 2000, "how long it is")]
