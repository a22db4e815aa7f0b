"""What a user says of a drawing: how large it is, which line is what, how it folds.

It is what a piece of a job has under `drawing`; all of it may be left out where the drawing itself
is clear.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field, fields
from pathlib import Path
from typing import Annotated, Any, Literal

from cutlayers.frozen import frozen
from cutlayers.reading.declared import (
    Flag,
    Inner,
    Length,
    Number,
    Several,
    Special,
    Text,
    Whole,
    Word,
    a_colour,
    a_file,
)
from cutlayers.reading.values import ValueRefused, read_number
from cutlayers.telling.lengths import Unit

DrawnIn = Literal["mm", "cm", "in", "pt", "1/96 in", "1/90 in"]
"""What one unit of a drawing may be."""

Ends = Literal["trim", "keep"]

Shows = Literal["outside", "inside"]
"""Which side of the card a drawing shows."""

JOIN = 0.3
"""mm; ends that lie no farther apart were meant to meet. Common practice, no source."""

EACH = "lines that all of these hold for"


@frozen
class Selection:
    """Lines of a drawing: those for which everything holds that is said here.

    Example:

        [[piece.lines.cut]]
        layer = "outline"

        [[piece.lines.cut]]
        colour = "#FF0000"
        dash = false

        [[piece.lines.score]]
        numbers = [3, 4]

        [[piece.lines.ignore]]
        group = "notes"
        width = 0.5
        name = "frame"
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
    """Which line is what, by kind. Of selections that hold one line that which says more counts,
    and numbers more than all else.

    Example:

        [piece.lines]
        cut = [{ layer = "outline" }, { colour = "#FF0000", dash = false }]
        score = [{ numbers = [3, 4] }]
        perforate = [{ name = "tear" }]
        draw = [{ layer = "pen" }]
        register = [{ group = "marks" }]
        ignore = [{ group = "notes", width = 0.5, name = "frame" }]
    """

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

        [piece.known]
        line = 3
        length = 30
    """

    line: Annotated[int, Whole(1, 1_000_000, "the line's number, as 'cutlayers bring' tells it")]
    length: Annotated[float, Length(0.1, 2000, "how long it is")]


@frozen
class Turn:
    """How far a fold turns, in degrees, a mountain above 0; `guessed` where nothing tested it, and
    nobody has said so since."""

    deg: float
    guessed: bool = False


def _read_folds(value: object, _unit: Unit) -> Mapping[str, Turn]:
    """Which folds there are the drawing will say."""
    if not isinstance(value, Mapping):
        raise ValueRefused(found=value, allowed="a table of angles by fold")
    found: dict[str, Turn] = {}
    for fold, angle in value.items():
        try:
            found[fold] = _read_turn(angle)
        except ValueRefused as error:
            error.refusal = error.refusal.under(fold)
            raise
    return found


def _read_turn(value: object) -> Turn:
    if not isinstance(value, Mapping):
        return Turn(read_number(value, -180.0, 180.0, "degrees"))
    if [*value] != ["guess"]:
        raise ValueRefused(found=dict(value), allowed="an angle in degrees, or { guess = 90 }")
    try:
        return Turn(read_number(value["guess"], -180.0, 180.0, "degrees"), guessed=True)
    except ValueRefused as error:
        error.refusal = error.refusal.under("guess")
        raise


_DEGREES: Mapping[str, Any] = {"type": "number", "minimum": -180, "maximum": 180}

FOLDS: Mapping[str, Any] = {
    "type": "object",
    "additionalProperties": {
        "anyOf": [
            _DEGREES,
            {
                "type": "object",
                "properties": {"guess": _DEGREES},
                "required": ["guess"],
                "additionalProperties": False,
            },
        ]
    },
}


@frozen(kw_only=True)
class Asked:
    """What a user says of the lines of a drawing.

    Of `unit`, `scale` and `known` one is needed where the file does not say how large it is.
    """

    unit: Annotated[
        DrawnIn | None, Word("what one unit of the drawing is, where its file does not say it")
    ] = None
    scale: Annotated[
        float | None, Number(1e-6, 1e6, "mm", "how long one unit of the drawing is")
    ] = None
    known: Annotated[
        Known | None, Inner("a line whose length is known, to find the scale of the drawing")
    ] = None
    join: Annotated[
        float, Length(0.0, 5.0, "ends of drawn lines that lie no farther apart are joined")
    ] = JOIN
    ends: Annotated[
        Ends,
        Word("scores that stop short of a line or run past it: trim them to it, or keep them"),
    ] = "trim"
    shows: Annotated[
        Shows | None,
        Word("which side of the box the drawing shows; an inside is turned over, left for right"),
    ] = None
    lines: Annotated[Rules, Inner("which of its lines are cut, scored, drawn, left out")] = Rules()


@frozen(kw_only=True)
class FromDrawing(Asked):
    """What a piece says of the drawing that it is made from, in place of a style."""

    drawing: Annotated[
        Path | None, a_file("an SVG, DXF or FOLD file to be made into a box, in place of a style")
    ] = None
    folds: Annotated[
        Mapping[str, Turn],
        Special(
            "how far each fold turns, in degrees by the names of its panels, a mountain above 0; "
            "{ guess = 90 } for one that nothing tests",
            _read_folds,
            FOLDS,
        ),
    ] = field(default_factory=dict)

    @property
    def asked(self) -> Asked:
        """What is said of its lines, by itself."""
        return Asked(**{each.name: getattr(self, each.name) for each in fields(Asked)})
