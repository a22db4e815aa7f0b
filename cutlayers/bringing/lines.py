"""What a drawing from outside holds, before anybody says what its lines are for.

Lengths are in the drawing's own units until `Scale` makes mm of them; y points up. Curves are arcs
and straight lines already.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from enum import StrEnum

from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Point, Transform


class Kind(StrEnum):
    """What is done along a line of a drawing."""

    CUT = "cut"
    SCORE = "score"
    PERFORATE = "perforate"
    DRAW = "draw"
    REGISTER = "register"
    """A mark that a sheet is aligned by; a sheet of ours gets its own."""
    IGNORE = "ignore"
    """Frames, dimension lines, notes."""


@frozen
class Hints:
    """What a file says of a line beside its shape; empty where it says nothing.

    `colour` is "#RRGGBB"; `dash` are lengths on and off and `width` the width of the line, both as
    the file has them (DXF has widths in mm); they stay so when lines are scaled. `group` are the
    names of the groups or blocks around it, the outermost first; `name` is its own.

    `fold_deg` is the angle of a fold where the file gives a number, positive a mountain; `fold`
    "mountain" or "valley" where it says only which.
    """

    layer: str = ""
    colour: str = ""
    dash: tuple[float, ...] = ()
    width: float | None = None
    group: tuple[str, ...] = ()
    name: str = ""
    fold_deg: float | None = None
    fold: str = ""


@frozen
class DrawnLine:
    """One line of a drawing; `number` is its place among them, from 1."""

    path: Path
    hints: Hints
    number: int


@frozen
class DrawnText:
    """A text in a drawing: a number beside a fold may be its angle, a word on a panel its name."""

    text: str
    at: Point


@frozen
class Scale:
    """How many mm a unit of the drawing is, and why: "the file says mm"; `unit` is its name, where
    it has one that a job can be told by."""

    mm: float
    reason: str
    unit: str = ""


@frozen
class Drawing:
    """The lines of a file. `scale` is None where the file does not say it: then `candidates` are
    what it may be. `set_aside` counts what is no line work, by what it is: "hatch", "picture"."""

    lines: tuple[DrawnLine, ...]
    scale: Scale | None
    candidates: tuple[Scale, ...] = ()
    texts: tuple[DrawnText, ...] = ()
    set_aside: Mapping[str, int] | None = None


@frozen
class Meant:
    """A line in mm with what it is for, and the evidence for that: "layer 'CUT'". A doubtful one
    is to be looked at by the user."""

    line: DrawnLine
    kind: Kind
    evidence: str
    doubtful: bool = False


@frozen
class Edge:
    """A stretch of a cleaned drawing, in mm, with the numbers of the lines that it was drawn as.

    The angle of a fold is given in degrees, positive a mountain, or only the way it folds.
    """

    segment: Segment
    kind: Kind
    sources: tuple[int, ...]
    fold_deg: float | None = None
    fold: str = ""


TURNED = {"mountain": "valley", "valley": "mountain"}


def turned_over(drawing: Drawing, lines: Sequence[Meant]) -> tuple[Drawing, tuple[Meant, ...]]:
    """A drawing and what its lines are for as seen from the other side, left for right: a mountain
    is a valley then."""
    over = Transform.mirror(0.0)

    def turned(line: DrawnLine) -> DrawnLine:
        hints = line.hints
        deg = None if hints.fold_deg is None else 0.0 - hints.fold_deg
        hints = replace(hints, fold=TURNED.get(hints.fold, hints.fold), fold_deg=deg)
        return replace(line, path=line.path.transformed(over), hints=hints)

    return (
        replace(
            drawing,
            lines=tuple(map(turned, drawing.lines)),
            texts=tuple(replace(each, at=over.apply(each.at)) for each in drawing.texts),
        ),
        tuple(replace(each, line=turned(each.line)) for each in lines),
    )
