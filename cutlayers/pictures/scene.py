"""A picture as a value: shapes, labels and where they stand, before any writer makes a file of it.

A scene lies on paper: lengths are mm, the upper left corner is the origin, x runs to the right and
y down, as a page is read. What is drawn with y up carries its own motion onto the paper.
Later items are painted over earlier ones.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Literal

from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.transforms import Point, Transform

if TYPE_CHECKING:  # most pictures show no print
    from cutlayers.artwork.ink import Item as Ink

Anchor = Literal["start", "middle", "end"]

AS_IT_LIES = Transform()

CAPITAL = 0.7
"""Height of capitals as a share of a font's size, in most plain fonts."""

LINE_HEIGHT = 1.15
"""Distance of two lines of text as a share of the font's size."""


@frozen
class Chain:
    """Points joined by straight lines, back to the first where closed; nothing is checked.

    For the many small pieces that a cut-up surface falls into; what is worked on is a Path.
    """

    points: tuple[Point, ...]
    closed: bool


Outline = Path | Chain


@frozen
class Fade:
    """From one colour at `start` to another at `end`, points where the shape's outlines lie."""

    start: Point
    end: Point
    first: str
    last: str
    opacities: tuple[float, float] = (1.0, 1.0)
    """Of the one and of the other."""


@frozen
class Hatch:
    """Slanted lines `gap` mm apart on the paper, `width` mm wide, on a clear ground."""

    colour: str
    width: float
    gap: float


@frozen
class Pen:
    """A line: its paint, width and dashes, on and off, in mm of the picture.

    Ends are round, those of dashes blunt.
    """

    colour: str | Fade
    width: float
    dash: tuple[float, ...] = ()


@frozen
class Shape:
    """Outlines painted alike, filled before they are drawn round; colours are #RRGGBB.

    `onto` carries the outlines to where the shape lies; the widths of its pen are not scaled. With
    `even_odd` an outline inside another is a hole. `opacity` is the fill's, `blur` the standard
    deviation of a soft border in mm. `name` is the layer that the shape shows, if any.
    """

    outlines: tuple[Outline, ...]
    fill: str | Fade | Hatch | None = None
    pen: Pen | None = None
    onto: Transform = AS_IT_LIES
    even_odd: bool = False
    opacity: float = 1.0
    blur: float = 0.0
    name: str = ""


@frozen
class Print:
    """Ink that shows within outlines, even-odd; `onto` carries both to where they lie."""

    ink: tuple[Ink, ...]
    within: tuple[Chain, ...]
    onto: Transform = AS_IT_LIES


@frozen
class Label:
    """Lines of text, the base line of the first at `at`; turned, they run upwards.

    `cap` is the height of capitals in mm. `typed` text has the plain font of whoever reads the
    page; all else, and everything in a file of its own, is written in single strokes and looks the
    same everywhere.
    """

    lines: tuple[str, ...]
    at: Point
    cap: float
    colour: str
    anchor: Anchor = "start"
    bold: bool = False
    turned: bool = False
    typed: bool = False

    @property
    def size(self) -> float:
        """The font's size in mm."""
        return self.cap / CAPITAL


@frozen
class Group:
    """Items that belong together, moved by `place`; what a screen reader is told is `title`."""

    items: tuple[Item, ...]
    name: str = ""
    title: str = ""
    place: Transform = AS_IT_LIES


Item = Shape | Print | Label | Group


@frozen
class Scene:
    """A whole picture, `width` × `height` mm. `description` is told to who cannot see it."""

    title: str
    width: float
    height: float
    items: tuple[Item, ...]
    description: str = ""
    ground: str | None = None

    @property
    def shapes(self) -> Iterator[tuple[Shape, Transform]]:
        """Every shape from back to front, with the motion that carries its outlines onto paper."""
        for item, place in self._placed(self.items, AS_IT_LIES):
            if isinstance(item, Shape):
                yield item, place @ item.onto

    @property
    def labels(self) -> Iterator[tuple[Label, Point]]:
        """Every label, with the place on paper where it begins, has its middle, or ends."""
        for item, place in self._placed(self.items, AS_IT_LIES):
            if isinstance(item, Label):
                yield item, place.apply(item.at)

    @staticmethod
    def _placed(
        items: tuple[Item, ...], place: Transform
    ) -> Iterator[tuple[Shape | Print | Label, Transform]]:
        for item in items:
            if isinstance(item, Group):
                yield from Scene._placed(item.items, place @ item.place)
            else:
                yield item, place


def beside(title: str, scenes: tuple[Scene, ...], ground: str | None = None) -> Scene:
    """Scenes in a row from the left, each from the top, on one ground."""
    groups = []
    at = 0.0
    for scene in scenes:
        groups.append(Group(scene.items, title=scene.title, place=Transform.translation(at, 0.0)))
        at += scene.width
    height = max((scene.height for scene in scenes), default=0.0)
    return Scene(title, at, height, tuple(groups), ground=ground)
