"""A blank worked by hand: plain values that a page can print and a person can follow.

All lengths are mm and lie on divisions of the ruler. Places on the blank are
told from its left and its top edge, as it lies with its outside up and as it is drawn. On the
scoring board they are told from the stop on the left and from the fence along the top, and it
is said which edges of the blank lie there.
"""

from __future__ import annotations

from enum import StrEnum

from cutlayers.frozen import frozen
from cutlayers.geometry.strokes import Fold, Operation
from cutlayers.geometry.transforms import Point
from cutlayers.guide.ruler import Ruler
from cutlayers.net import Linework, Net


class Edge(StrEnum):
    """An edge of the blank, named as it is drawn."""

    LEFT = "left"
    TOP = "top"
    RIGHT = "right"
    BOTTOM = "bottom"


class CardFace(StrEnum):
    """The face of the card that lies up."""

    OUTSIDE = "outside"
    INSIDE = "inside"


class Turn(StrEnum):
    """How the blank gets from one position to the next."""

    LAY = "lay"
    QUARTER_LEFT = "quarter left"
    QUARTER_RIGHT = "quarter right"
    OVER = "over"
    """Head over heels: the edge at the stop stays there."""
    OVER_AND_QUARTER = "over and quarter"


@frozen
class Position:
    """How a blank lies on the board: the face that is up, the edges at the stop and the fence."""

    face: CardFace
    at_stop: Edge
    at_fence: Edge


@frozen
class Span:
    """From where to where along a line, start < end."""

    start: float
    end: float


@frozen
class Row:
    """Straight lines at one distance from an edge; `through` if one runs from edge to edge.

    `names` are what the lines part or belong to, such as "front | base".
    """

    at: float
    spans: tuple[Span, ...]
    through: bool
    names: tuple[str, ...]


class Curve(StrEnum):
    """How a line runs between two points."""

    STRAIGHT = "straight"
    QUARTER = "quarter circle"
    HALF = "half circle"
    ARC = "arc"


@frozen
class Join:
    """A line between two named points. A curve bulges to the left or the right of the way from
    `start` to `end`; `rise` is how far it stands off the straight line in its middle."""

    start: str
    end: str
    curve: Curve
    bulges_left: bool = False
    rise: float = 0.0
    towards: Edge | None = None
    """The edge of the blank that the curve bulges towards, for people."""


@frozen
class Mark:
    """A named point: its distances from the left and the top edge of the blank."""

    name: str
    left: float
    top: float


@frozen
class Hole:
    """A round hole: its middle from the left and the top edge, its diameter, what it is."""

    left: float
    top: float
    diameter: float
    name: str
    panel: str


@frozen
class ScoreStep:
    """Everything that is scored before the blank is moved again."""

    turn: Turn
    position: Position
    fold: Fold
    rows: tuple[Row, ...]
    joins: tuple[Join, ...]


@frozen
class CutStep:
    """Everything that is cut or perforated; the blank lies as drawn, its outside up.

    `down` are upright lines, told from the left edge, their spans from the top edge; `across`
    are level lines, told from the top edge, their spans from the left edge.
    """

    operation: Operation
    down: tuple[Row, ...]
    across: tuple[Row, ...]
    joins: tuple[Join, ...]

    @property
    def empty(self) -> bool:
        """Whether there is nothing to do."""
        return not (self.down or self.across or self.joins)


@frozen
class HandBlank:
    """One blank by hand: trim it to `width` × `height`, mark, score, perforate, cut, punch.

    `lines` are the net's lines as they are told, on the ruler's divisions, with letters that are
    cut out before them, which are only drawn; `net` has the panels that they belong to, and
    `origin` is the top left corner of the blank in its coordinates. `drawn` are the lines with the
    relief of thick card, which nobody measures out: `relief` mm, the radius of so many `rounds` and
    how far creases stop short of `stops` inner corners.
    """

    name: str
    ruler: Ruler
    width: float
    height: float
    marks: tuple[Mark, ...]
    scores: tuple[ScoreStep, ...]
    perforations: CutStep
    cuts: CutStep
    holes: tuple[Hole, ...]
    net: Net
    lines: Linework
    origin: Point
    drawn: Linework
    relief: float = 0.0
    rounds: int = 0
    stops: int = 0

    @property
    def only_trimmed(self) -> bool:
        """Whether nothing is left to do once the blank is trimmed."""
        return not (self.scores or self.holes) and self.perforations.empty and self.cuts.empty
