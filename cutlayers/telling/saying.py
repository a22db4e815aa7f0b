"""Numbers in words, in the unit of the job.

A job in inches is told in sixteenths. Where a sixteenth is so coarse that a small measure would
come out as nothing, or that two different measures would read alike, it is told finer: in
thirty-seconds, sixty-fourths, thousandths and so on until the words are honest.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Sequence
from functools import partial

from cutlayers.frozen import frozen
from cutlayers.telling.lengths import MM_PER, Unit, format_inches
from cutlayers.telling.quantities import Quantity

OFF = 0.06
"""Share of a length by which a fraction of an inch may be off; a sixteenth then says half an inch
or more, and a card's thickness is told in thousandths."""

MOST_DIGITS = 6
"""Decimals after which two lengths that still read alike are alike."""


@frozen
class Say:
    """How numbers are written for one job."""

    unit: Unit = "mm"

    def length(self, quantity: Quantity, digits: int = 1) -> str:
        """A measured length; `digits` are the least decimals of millimetres.

        >>> from cutlayers.telling.quantities import length
        >>> Say("in").length(length(4.0)), Say("in").length(length(0.25))
        ('5/32 in', '0.010 in')
        """
        return self.apart((quantity,), digits)[0]

    def apart(self, quantities: Sequence[Quantity], digits: int = 1) -> tuple[str, ...]:
        """Measured lengths that are told beside each other, fine enough to tell them apart."""
        values = [quantity.value for quantity in quantities]
        for write in self._ways(digits):
            texts = [write(value) for value in values]
            if all(text is not None for text in texts) and not _confused(values, texts):
                return tuple(text or "" for text in texts)
        return tuple(f"{value:g} mm" for value in values)

    def against(self, measured: Quantity, limit: Quantity, digits: int = 1) -> tuple[str, str]:
        """A measured length and the limit that it is held against: never told alike where they
        differ, nor on the wrong side of it. A limit in mm is told as it was set."""
        if self.unit == "in":
            one, other = self.apart((measured, limit), digits)
            return one, other
        text = self.limit(limit)
        for more in range(digits, MOST_DIGITS):
            written = self.length(measured, more)
            beyond = float(written.split()[0]) * MM_PER[self.unit] - limit.value
            if abs(beyond) > 1e-9 and (beyond > 0) == (measured.value > limit.value):
                return written, text
        return self.length(measured, digits), text

    def limit(self, quantity: Quantity) -> str:
        """A length that somebody set, as short as it can be written in full."""
        if self.unit == "in":
            return self.length(quantity)
        return f"{quantity.value / MM_PER[self.unit]:g} {self.unit}"

    def size(self, quantities: Sequence[Quantity], digits: int = 1) -> str:
        """Lengths that make one size: "60.0 × 40.0 mm"."""
        texts = [self.length(quantity, digits) for quantity in quantities]
        unit = f" {texts[0].rpartition(' ')[2]}"
        return " × ".join(text.removesuffix(unit) for text in texts) + unit

    def point(self, at: tuple[float, float]) -> str:
        """A point, in decimals of the unit: nobody adds up fractions in brackets."""
        digits = 1 if self.unit == "mm" else 2
        x, y = (round(each / MM_PER[self.unit], digits) + 0.0 for each in at)
        return f"({x:.{digits}f}, {y:.{digits}f}) {self.unit}"

    def _ways(self, digits: int) -> Iterator[Callable[[float], str | None]]:
        """Ways to write a length, each finer than the one before; None where it is too coarse."""
        if self.unit == "in":
            for denominator in (16, 32, 64):
                yield partial(_fraction, denominator=denominator)
            first = 3
        else:
            first = digits if self.unit == "mm" else digits + 1
        for places in range(first, MOST_DIGITS):
            yield partial(_decimal, unit=self.unit, places=places)


def angle(quantity: Quantity, digits: int = 1) -> str:
    """An angle in degrees."""
    return f"{quantity.value:.{digits}f}°"


def angle_limit(quantity: Quantity) -> str:
    """An angle that somebody set."""
    return f"{quantity.value:g}°"


def percent(quantity: Quantity) -> str:
    """A share in whole per cent, though never nothing or all where it is not."""
    share = quantity.value
    rounded = f"{share:.0%}"
    if (rounded == "100%" and share < 1.0) or (rounded == "0%" and share > 0.0):
        return f"{share:.1%}"
    return rounded


def number(quantity: Quantity) -> int:
    """How many."""
    return round(quantity.value)


def many(quantity: Quantity, what: str, plural: str = "") -> str:
    """How many of what: "1 point", "3 points"."""
    count = number(quantity)
    return f"{count} {what if count == 1 else plural or f'{what}s'}"


def listed(words: Sequence[str]) -> str:
    """Words in a row: "a, b and c"; of none, an empty text."""
    *some, last = words or ("",)
    return f"{', '.join(some)} and {last}" if some else last


def _fraction(value: float, denominator: int) -> str | None:
    nearest = round(abs(value) / MM_PER["in"] * denominator) / denominator * MM_PER["in"]
    if abs(nearest - abs(value)) > OFF * abs(value):
        return None
    return f"{format_inches(value, denominator)} in"


def _decimal(value: float, unit: Unit, places: int) -> str | None:
    text = f"{round(value / MM_PER[unit], places) + 0.0:.{places}f} {unit}"
    # Where inches are told in thousandths, a real length must not come out as none.
    if unit == "in" and value and float(text.split()[0]) == 0.0 and places < MOST_DIGITS - 1:
        return None
    return text


def _confused(values: Sequence[float], texts: Sequence[str | None]) -> bool:
    return any(
        texts[i] == texts[j] and abs(values[i] - values[j]) > 10.0**-MOST_DIGITS
        for i, j in itertools.combinations(range(len(values)), 2)
    )
