"""A number and what it measures, so that whoever tells it knows how.

Lengths are mm, angles degrees, areas mm², masses g, shares 0 to 1; a count is a whole number.
"""

from __future__ import annotations

from typing import Literal

from cutlayers.frozen import frozen

Measures = Literal["length", "angle", "area", "mass", "share", "count"]

UNITS: dict[Measures, str] = {
    "length": "mm",
    "angle": "deg",
    "area": "mm2",
    "mass": "g",
    "share": "1",
    "count": "1",
}
"""The unit of each kind, as data for scripts names it; "1" is a bare number."""

DIGITS = 6
"""Decimals that are kept: far finer than anything is measured, and coarse enough that the same
fact is the same number whatever computer found it."""


@frozen
class Quantity:
    """A number of one kind, in the unit that `UNITS` gives, to `DIGITS` decimals."""

    kind: Measures
    value: float

    def __post_init__(self) -> None:
        # The sum turns -0.0 into 0.0.
        object.__setattr__(self, "value", round(self.value, DIGITS) + 0.0)


def length(millimetres: float) -> Quantity:
    """A length in mm."""
    return Quantity("length", millimetres)


def angle(degrees: float) -> Quantity:
    """An angle in degrees."""
    return Quantity("angle", degrees)


def area(square_millimetres: float) -> Quantity:
    """An area in mm²."""
    return Quantity("area", square_millimetres)


def mass(grams: float) -> Quantity:
    """A mass in g."""
    return Quantity("mass", grams)


def share(part: float) -> Quantity:
    """A part of a whole, 0 to 1."""
    return Quantity("share", part)


def count(number: int) -> Quantity:
    """How many."""
    return Quantity("count", number)


def lengths(*millimetres: float) -> tuple[Quantity, ...]:
    """Several lengths in mm, such as a width and a height."""
    return tuple(length(each) for each in millimetres)
