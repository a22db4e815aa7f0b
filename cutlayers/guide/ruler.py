"""The ruler that a person measures with, and lengths written as they are read from it."""

from __future__ import annotations

import math
from collections.abc import Mapping
from fractions import Fraction
from typing import Literal

from cutlayers.frozen import frozen
from cutlayers.telling.lengths import MM_PER, format_inches


@frozen
class Ruler:
    """A ruler with so many `divisions` of its unit; lengths on the page are whole divisions."""

    unit: Literal["mm", "in"]
    divisions: int

    @property
    def step(self) -> float:
        """One division in mm."""
        return MM_PER[self.unit] / self.divisions

    def length(self, steps: int) -> float:
        """So many divisions in mm."""
        return float(steps * Fraction(str(MM_PER[self.unit])) / self.divisions)

    def nearest(self, millimetres: float) -> int:
        """The nearest whole number of divisions, halves away from zero."""
        return math.floor(abs(millimetres) / self.step + 0.5) * (-1 if millimetres < 0 else 1)

    def hole(self, diameter: float) -> float:
        """How large a hole is told, in mm: the nearest division, one at least."""
        return self.length(max(1, self.nearest(diameter)))

    def text(self, millimetres: float) -> str:
        """A length to the nearest division, without its unit.

        >>> Ruler("in", 16).text(2.4375 * 25.4), Ruler("mm", 2).text(30.5)
        ('2 7/16', '30.5')
        """
        if self.unit == "in":
            return format_inches(millimetres, self.divisions)
        return f"{self.length(self.nearest(millimetres)):g}"

    def written(self, millimetres: float) -> str:
        """The same with its unit.

        >>> Ruler("in", 16).written(12.7)
        '1/2 in'
        """
        return f"{self.text(millimetres)} {self.unit}"


RULERS: Mapping[str, Ruler] = {
    "1mm": Ruler("mm", 1),
    "0.5mm": Ruler("mm", 2),
    "1/16in": Ruler("in", 16),
    "1/32in": Ruler("in", 32),
}
"""By the name that the command line knows them by."""


def usual_ruler(unit: str) -> Ruler:
    """The ruler of someone who thinks in `unit`: half millimetres, or sixteenths of an inch."""
    return RULERS["1/16in"] if unit == "in" else RULERS["0.5mm"]
