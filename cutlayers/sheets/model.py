"""Pieces, and where they lie on which sheet.

A *piece* is one flat net with its lines; a *sheet* is one piece of stock with pieces placed on
it and register marks. Sheet coordinates have the sheet's lower left corner as the origin.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from cutlayers.artwork.model import Art
from cutlayers.box import Blank
from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Bounds
from cutlayers.geometry.strokes import Stroke
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.job.order import GrainWay, Rotation
from cutlayers.job.stock import Stock
from cutlayers.net import Linework, Net

SCALED_CHORD = 0.005
"""mm; an uneven scale makes ellipses of arcs, so they become chords, this near to them."""


@frozen
class Piece:
    """One blank to be made.

    `order` is the name of the order that it belongs to. `fill` asks for as many of the order's
    pieces as one sheet holds; there is then one of each net. `art` is what is printed on its
    panels. `for_each` says that the `grain` is meant for this blank, not for all of its box alike.
    """

    name: str
    order: str
    blank: Blank
    stock: Stock
    rotation: Rotation = "quarter"
    grain: GrainWay = "any"
    fill: bool = False
    art: tuple[Art, ...] = ()
    for_each: bool = True

    @property
    def net(self) -> Net:
        """The flat piece."""
        return self.blank.net

    @property
    def lines(self) -> Linework:
        """The lines that follow from the net, in its own coordinates."""
        return self.blank.lines

    @property
    def bounds(self) -> Bounds:
        """Bounding box of the blank."""
        return self.net.bounds


@frozen
class Placed:
    """A piece and the motion that carries it to its place on the sheet: a rigid one, unless the
    sheet was found printed at another scale."""

    piece: Piece
    place: Transform

    @property
    def strokes(self) -> tuple[Stroke, ...]:
        """The piece's lines in sheet coordinates."""
        lines: Iterable[Stroke] = self.piece.lines
        if not self.place.is_similarity:
            lines = (replace(line, path=line.path.flattened(SCALED_CHORD)) for line in lines)
        return tuple(stroke.transformed(self.place) for stroke in lines)

    def on_piece(self, direction: Point) -> Point:
        """A direction on the sheet as one on the flat piece, rounded to whole thousandths."""
        dx, dy = direction
        # The inverse of a turn is its mirror along the diagonal.
        x = self.place.xx * dx + self.place.yx * dy
        y = self.place.xy * dx + self.place.yy * dy
        return round(x, 3) + 0.0, round(y, 3) + 0.0


@frozen
class RegisterMark:
    """One mark: its centre, the lines to draw, and the half side of the square kept free."""

    centre: Point
    paths: tuple[Path, ...]
    reach: float

    @property
    def keep_out(self) -> Bounds:
        """The square that no piece may enter."""
        x, y = self.centre
        return x - self.reach, y - self.reach, x + self.reach, y + self.reach


@frozen
class Sheet:
    """One sheet of a stock. Guaranteed: pieces lie inside the area that the machine reaches,
    keep the gap between them, and stay out of the register marks' squares.

    `width` and `height` are the sheet as it lies on the bed, which may be turned. `copies` is how
    many sheets are to be made just like this one.
    """

    stock: Stock
    number: int
    width: float
    height: float
    placed: tuple[Placed, ...]
    marks: tuple[RegisterMark, ...]
    copies: int = 1

    @property
    def grain(self) -> Point | None:
        """The direction that the fibres run along as the sheet lies, where it is known."""
        return self.stock.grain_on(turned=(self.width, self.height) != self.stock.sheet)

    @property
    def strokes(self) -> tuple[Stroke, ...]:
        """All pieces' lines in sheet coordinates."""
        return tuple(stroke for placed in self.placed for stroke in placed.strokes)
