"""A thing to be packed: its shape and size as it stands in the box."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from typing import Literal

from cutlayers.construction.dimension import LARGEST
from cutlayers.frozen import frozen
from cutlayers.net.space import Vector
from cutlayers.reading.values import read_length
from cutlayers.telling.errors import StyleError
from cutlayers.telling.lengths import Unit, format_inches
from cutlayers.telling.nearest import nearest
from cutlayers.telling.refusals import Refusal, Span
from cutlayers.telling.written import shown

ItemShape = Literal["cuboid", "cylinder", "egg", "sphere"]

SHAPES: dict[ItemShape, tuple[str, ...]] = {
    "cuboid": ("length", "width", "height"),
    "cylinder": ("diameter", "height"),
    "egg": ("length", "diameter"),
    "sphere": ("diameter",),
}
"""The measures that each shape needs. An egg stands on end: `length` is its height, and it is
taken as a spheroid, an ellipse turned about its long axis."""


INCH_DIVISIONS = 64
"""Of things to be packed: the finest that rulers have."""

CLEARANCE = "clearance"
"""What a table of measures may have beside those of a shape."""

PLAY = ("ease", "gap", "play", "room", "slack")
"""Other words for it."""


@frozen
class Item:
    """A thing as it stands: extents in mm along the front, from front to back, and upwards.

    `clearance` is the room to spare in each direction, both sides together; flaps and glue tabs may
    take it up. Guaranteed by `item`: all finite, extents positive, clearance not negative.
    """

    shape: ItemShape
    length: float
    width: float
    height: float
    clearance: float = 0.0

    @property
    def extents(self) -> Vector:
        """Length, width and height of the thing itself."""
        return (self.length, self.width, self.height)

    @property
    def measures(self) -> dict[str, float]:
        """Those of its shape in mm, as `SHAPES` lists them."""
        named = {
            "length": self.height if self.shape == "egg" else self.length,
            "width": self.width,
            "height": self.height,
            "diameter": self.width,
        }
        return {name: named[name] for name in SHAPES[self.shape]}

    @property
    def with_clearance(self) -> Item:
        """The room it asks for, as a thing of its own without clearance."""
        return replace(
            self,
            length=self.length + self.clearance,
            width=self.width + self.clearance,
            height=self.height + self.clearance,
            clearance=0.0,
        )

    def reach(self, normal: Vector) -> float:
        """How far it extends from its middle along a unit vector, in mm.

        Source: support functions of a box, an ellipsoid and a cylinder.
        """
        a, b, c = (extent / 2 for extent in self.extents)
        x, y, z = normal
        if self.shape == "cuboid":
            return abs(x) * a + abs(y) * b + abs(z) * c
        if self.shape == "cylinder":
            return math.hypot(x, y) * a + abs(z) * c
        return math.sqrt((x * a) ** 2 + (y * b) ** 2 + (z * c) ** 2)

    def in_words(self, unit: Unit = "mm") -> str:
        """The thing with its measures, to 0.1 mm or a sixty-fourth of an inch.

        >>> item("sphere", {"diameter": 50.8}).in_words("in")
        'sphere ⌀ 2 in'
        """
        length, width, height = (
            format_inches(each, INCH_DIVISIONS) if unit == "in" else f"{each:.1f}"
            for each in self.extents
        )
        size = {
            "cuboid": f"{length} × {width} × {height}",
            "cylinder": f"⌀ {length} × {height}",
            "egg": f"{height} × ⌀ {length}",
            "sphere": f"⌀ {length}",
        }[self.shape]
        return f"{self.shape} {size} {unit}"


def read_measure(value: object, unit: Unit = "mm") -> float:
    """A measure of a thing in mm: a number in that unit, or a text with its own. Raises
    ValueRefused for one that is no length, below 0, or larger than any box."""
    return read_length(value, unit, 0.0, LARGEST)


def item(shape: str, sizes: Mapping[str, float], clearance: float = 0.0) -> Item:
    """Make an item from its shape's measures in mm, as `SHAPES` lists them.

    Raises StyleError that names the field (`holds.shape`, `holds.diameter` …) for an unknown
    shape, a measure that is missing, not wanted or not positive, and a negative clearance.
    """
    wanted = next((names for name, names in SHAPES.items() if name == shape), None)
    if wanted is None:
        raise StyleError("holds.shape", f"is {shown(shape)}", tuple(sorted(SHAPES)))
    for name in sizes:
        if name not in wanted:
            raise StyleError(f"holds.{name}", _unknown(shape, name, wanted))
    for name in wanted:
        if name not in sizes:
            raise StyleError(f"holds.{name}", f"is missing for a {shape}; {_needs(wanted)}")
        if not (math.isfinite(sizes[name]) and sizes[name] > 0):
            raise StyleError(f"holds.{name}", "is {}", "more than 0", lengths=(sizes[name],))
    if not (math.isfinite(clearance) and clearance >= 0):
        raise StyleError("holds.clearance", "is {}", Span(0, unit="mm"), lengths=(clearance,))
    if shape == "cuboid":
        return Item("cuboid", sizes["length"], sizes["width"], sizes["height"], clearance)
    across = sizes["diameter"]
    if shape == "cylinder":
        return Item("cylinder", across, across, sizes["height"], clearance)
    if shape == "egg":
        return Item("egg", across, across, sizes["length"], clearance)
    return Item("sphere", across, across, across, clearance)


def _unknown(shape: str, name: str, wanted: tuple[str, ...]) -> Refusal | str:
    """A measure of another thing is told which this one needs; any other word what it is like."""
    if any(name in measures for measures in SHAPES.values()):
        return f"is not a measure of a {shape}; {_needs(wanted)}"
    known = (*wanted, CLEARANCE)
    return Refusal(
        reason=f"is not a measure of a {shape}",
        fault="unknown",
        allowed=known,
        nearest=nearest(name, known) or (CLEARANCE if name in PLAY else None),
    )


def _needs(wanted: tuple[str, ...]) -> str:
    return f"it needs {', '.join(wanted)}"
