"""A drawing of a blank being made: where the blank lies on it, its lines, and what room is taken.

Drawn for paper: one unit of the drawing is 1 mm on the page, y down. Lines differ by dash and
weight, and colour only repeats what these say, so that the page can be printed in black.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Literal

from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Fold, Operation, Stroke
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.guide.by_hand import HandBlank
from cutlayers.guide.layout import Label, Rectangle, text_width
from cutlayers.pictures import scene
from cutlayers.pictures.scene import CAPITAL, Chain, Item, Pen, Scene, Shape
from cutlayers.profile.notation import MOUNTAIN, PERFORATED, VALLEY, enlarged
from cutlayers.telling.colours import PAGE_INK, PAGE_QUIET

PAGE_WIDTH = 178.0
"""mm; what both A4 and letter paper leave for a drawing within their margins."""

RIGHT, BOTTOM = 9.0, 8.0
"""mm right of the blank and below it, for its width and height."""

FIGURE_SIZE = 2.9
"""mm; font size of distances."""

LineKind = Literal["cut", "away", "towards", "perforate", "trim"]

PENS: dict[LineKind, Pen] = {
    "cut": Pen(PAGE_INK, 0.5),
    "away": Pen(PAGE_INK, 0.32, enlarged(MOUNTAIN, 1.3)),
    "towards": Pen(PAGE_INK, 0.42, enlarged(VALLEY, 1.3)),
    "perforate": Pen(PAGE_INK, 0.5, enlarged(PERFORATED, 1.3)),
    "trim": Pen(PAGE_QUIET, 0.18),
}

RULE = Pen(PAGE_QUIET, 0.15)
TICK = Pen(PAGE_INK, 0.25)


@frozen
class Figure:
    """A drawing of a blank: the scene, what its ids begin with, its scale on paper, and panels told
    by a number."""

    scene: Scene
    ident: str
    scale: float
    numbered: tuple[tuple[int, str], ...] = ()


@dataclass(slots=True)
class Sheet:
    """A drawing being made; `corner` is the blank's upper left corner on paper."""

    blank: HandBlank
    scale: float
    corner: Point
    size: tuple[float, float]
    items: list[Item] = field(default_factory=list)
    taken: list[Rectangle] = field(default_factory=list)

    @staticmethod
    def of(blank: HandBlank, corner: Point, height: float) -> Sheet:
        """An empty drawing, no higher than `height` mm, never larger than the blank."""
        scale = min(
            1.0,
            (PAGE_WIDTH - corner[0] - RIGHT) / blank.width,
            (height - corner[1] - BOTTOM) / blank.height,
        )
        size = (corner[0] + scale * blank.width + RIGHT, corner[1] + scale * blank.height + BOTTOM)
        return Sheet(blank, scale, corner, size)

    def figure(
        self, ident: str, title: str, description: str, numbered: tuple[tuple[int, str], ...] = ()
    ) -> Figure:
        """The finished drawing."""
        made = Scene(title, *self.size, tuple(self.items), description)
        return Figure(made, ident, self.scale, numbered)

    def place(self, left: float, top: float) -> Point:
        """A place on the blank, on paper."""
        return (self.corner[0] + self.scale * left, self.corner[1] + self.scale * top)

    @property
    def flip(self) -> Transform:
        """From the net's coordinates to paper."""
        x, y = self.blank.origin
        return Transform(
            xx=self.scale,
            yy=-self.scale,
            dx=self.corner[0] - self.scale * x,
            dy=self.corner[1] + self.scale * y,
        )

    def draw(self, kind: LineKind, pen: Pen | None = None) -> None:
        """Draw the blank's lines of a kind."""
        paths = tuple(line.path for line in self.blank.drawn if _kind(line) == kind)
        if paths:
            self.items.append(Shape(paths, None, pen or PENS[kind], self.flip))

    def fill(self, paths: Iterable[Path], fill: str | scene.Hatch) -> None:
        """Fill paths of the net; one inside another is a hole."""
        outlines = tuple(paths)
        if outlines:
            self.items.append(Shape(outlines, fill, onto=self.flip, even_odd=True))

    def trim(self) -> None:
        """The rectangle that the blank is trimmed to."""
        corners = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)]
        wide, high = self.blank.width, self.blank.height
        points = tuple(self.place(x * wide, y * high) for x, y in corners)
        self.items.append(Shape((Chain(points, closed=True),), None, PENS["trim"]))

    def rule(self, start: Point, end: Point, pen: Pen = RULE) -> None:
        """A thin line on paper."""
        self.items.append(Shape((Chain((start, end), closed=False),), None, pen))

    def text(self, label: Label, *, bold: bool = False, colour: str = PAGE_INK) -> None:
        """Write a label and take its room."""
        x, y = label.at
        # From the middle of the text to the base line of its first line.
        down = 0.35 * label.size - (len(label.lines) - 1) * scene.LINE_HEIGHT * label.size / 2
        self.items.append(
            scene.Label(
                label.lines,
                (x + down, y) if label.turned else (x, y + down),
                CAPITAL * label.size,
                colour,
                "middle",
                bold,
                label.turned,
                typed=True,
            )
        )
        self.taken.append(label.box)


def closed_cuts(blank: HandBlank) -> list[Path]:
    """The outline of a blank and its openings."""
    return [
        line.path for line in blank.drawn if line.operation is Operation.CUT and line.path.closed
    ]


def overall(sheet: Sheet) -> None:
    """Width and height of the blank, below it and on its right."""
    blank, ruler, size = sheet.blank, sheet.blank.ruler, FIGURE_SIZE
    (x0, y0), (x1, y1) = sheet.corner, sheet.place(blank.width, blank.height)
    for start, end, text, turned in (
        ((x0, y1 + 4.2), (x1, y1 + 4.2), ruler.written(blank.width), False),
        ((x1 + 4.2, y0), (x1 + 4.2, y1), ruler.written(blank.height), True),
    ):
        middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
        half = text_width(text, size) / 2 + 1
        if turned:
            sheet.rule(start, (middle[0], middle[1] - half))
            sheet.rule((middle[0], middle[1] + half), end)
        else:
            sheet.rule(start, (middle[0] - half, middle[1]))
            sheet.rule((middle[0] + half, middle[1]), end)
        for x, y in (start, end):
            sheet.rule((x - 0.8, y + 0.8), (x + 0.8, y - 0.8), TICK)
            if turned:
                sheet.rule((x1 + 0.8, y), (x + 1.2, y))
            else:
                sheet.rule((x, y1 + 0.8), (x, y + 1.2))
        sheet.text(Label((text,), middle, size, turned))


def sample_line(kind: LineKind) -> Scene:
    """A short line of a kind, for the legend."""
    line = Chain(((0.2, 1.5), (13.8, 1.5)), closed=False)
    return Scene("", 14.0, 3.0, (Shape((line,), None, PENS[kind]),))


def _kind(stroke: Stroke) -> LineKind | None:
    match stroke.operation:
        case Operation.CUT:
            return "cut"
        case Operation.PERFORATE:
            return "perforate"
        case Operation.SCORE:
            return "towards" if stroke.fold is Fold.VALLEY else "away"
        case _:
            return None
