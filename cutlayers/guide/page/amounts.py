"""Amounts as people read them in running text: lengths to buy, sizes, weights."""

from __future__ import annotations

from cutlayers.telling.lengths import MM_PER, Unit, format_length


def length_text(millimetres: float, unit: Unit) -> str:
    """A length for people, without a needless .0."""
    return format_length(millimetres, unit).replace(".0 ", " ")


def thickness_text(millimetres: float, unit: Unit) -> str:
    """A caliper as it is measured: in mm, or in thousandths of an inch."""
    return f"{millimetres / MM_PER[unit]:.3f} in" if unit == "in" else f"{millimetres:g} mm"


def bought_length(millimetres: float, unit: Unit) -> str:
    """A length to buy or to travel, as coarse as a shop measures: metres, or inches."""
    if unit == "in":
        return format_length(millimetres, unit, 2)
    if millimetres >= 1000:
        return f"{millimetres / 1000:.2f} m"
    return f"{millimetres:.0f} mm"


def size_text(sides: tuple[float, float], unit: Unit) -> str:
    """Width × height."""
    return " × ".join(length_text(side, unit) for side in sides)


def grams_text(grams: float) -> str:
    """A weight as a kitchen scale shows it."""
    return f"{grams:.1f} g" if grams < 100 else f"{grams:.0f} g"
