"""Art as a job asks for it: a source, the panels it goes on, and how it lies there.

Everything is read and checked by then; no file is opened later.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from cutlayers.artwork.ink import Content
from cutlayers.frozen import frozen

PictureFit = Literal["contain", "cover", "tile"]
At = Literal["middle", "top", "bottom", "left", "right"]
PatternKind = Literal["stripes", "dots", "checks", "stars"]

DEFAULT_BORDER = 25.4 / 16
"""mm of a panel left to be seen all round its facing; 1/16 in is common practice."""

LARGEST_MEGABYTES = 60
"""Of a picture's file; a photograph for a whole A3 sheet has about 20."""


@frozen
class FlatColour:
    """One colour, #RRGGBB, over the whole panel and its bleed."""

    colour: str


@frozen
class Pattern:
    """A repeating pattern; `repeat` mm from one figure to the next, on a ground or on the card."""

    kind: PatternKind
    repeat: float
    ink: str
    ground: str | None = None


@frozen
class Lettering:
    """Lines of single-stroke text; capitals `height` mm high, as large as fits where None."""

    lines: tuple[str, ...]
    height: float | None
    ink: str


@frozen
class Picture:
    """A picture from a file. `aspect` is width over height; `repeat` is a tile's width in mm.

    `painted_as_pixels` is set for a vector file that holds more than filled and stroked outlines,
    `first_of_several` for one that holds further frames or pages.
    """

    name: str
    content: Content
    aspect: float
    fit: PictureFit = "contain"
    repeat: float | None = None
    painted_as_pixels: bool = False
    first_of_several: bool = False


Source = FlatColour | Pattern | Lettering | Picture


@frozen
class Spot:
    """A panel of one of a box's nets."""

    net: str
    panel: str


@frozen
class Art:
    """A source on panels. Guaranteed: each spot exists in its order.

    `rotation_deg` turns it to the left as seen on the finished box. `place` is where the job
    file asks for it, for messages.
    """

    source: Source
    spots: tuple[Spot, ...]
    place: str
    rotation_deg: float = 0.0
    at: At = "middle"

    @property
    def spreads(self) -> bool:
        """Whether it fills the whole panel and its bleed, instead of standing inside."""
        if isinstance(self.source, Picture):
            return self.source.fit != "contain"
        return not isinstance(self.source, Lettering)

    @property
    def covers_all(self) -> bool:
        """Whether nothing printed below it can be seen."""
        flat = isinstance(self.source, FlatColour)
        return flat or (isinstance(self.source, Pattern) and self.source.ground is not None)


def printed_panels(arts: Sequence[Art]) -> tuple[list[str], set[str]]:
    """The panels with any of the art, in its order, and those that some of it spreads over."""
    printed = list(dict.fromkeys(spot.panel for art in arts for spot in art.spots))
    return printed, {spot.panel for art in arts if art.spreads for spot in art.spots}
