"""How large a drawing is: what its file says, or else what it may be.

A file without a unit is never guessed at: the candidates are told with the size that each gives.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from cutlayers.bringing.lines import Drawing, DrawnLine, DrawnText, Scale
from cutlayers.bringing.rules import DrawnIn
from cutlayers.geometry.segments import Bounds, union_bounds
from cutlayers.geometry.transforms import Transform
from cutlayers.reading.values import ValueRefused
from cutlayers.telling.refusals import Span

MM_PER_UNIT: Mapping[DrawnIn, float] = {
    "mm": 1.0,
    "cm": 10.0,
    "in": 25.4,
    "pt": 25.4 / 72,
    "1/96 in": 25.4 / 96,
    "1/90 in": 25.4 / 90,
}
"""The inch is exact; a px of 1/96 in is CSS Values and Units 3, section 6.2, and one of 1/90 in,
common in older drawings, is SVG 1.1's example of a pixel, section 7.10."""

UNIT_WORDS: Mapping[DrawnIn, str] = {
    "mm": "in mm",
    "cm": "in cm",
    "in": "in inches",
    "pt": "at 72 to the inch",
    "1/96 in": "at 96 to the inch",
    "1/90 in": "at 90 to the inch",
}

PAGES: Mapping[str, tuple[float, float]] = {
    "A3": (297.0, 420.0),
    "A4": (210.0, 297.0),
    "A5": (148.0, 210.0),
    "Letter": (215.9, 279.4),
}
"""mm. Source: ISO 216; ANSI/ASME Y14.1 (size A)."""

SAME_PAGE = 0.6
"""mm that a page's side may miss by, since px are often written whole."""

OF_SCREEN: tuple[DrawnIn, ...] = ("1/96 in", "1/90 in", "pt", "mm", "in")
OF_PLAN: tuple[DrawnIn, ...] = ("mm", "in", "cm", "pt", "1/96 in", "1/90 in")
"""What is likelier first: for SVG, whose unit is a px, and for DXF, which has lengths."""


def scaled(drawing: Drawing, scale: Scale) -> Drawing:
    """The drawing in mm; hints stay as the file has them, since they are what it says."""
    grown = Transform(xx=scale.mm, yy=scale.mm)
    lines = tuple(
        DrawnLine(line.path.transformed(grown), line.hints, line.number) for line in drawing.lines
    )
    texts = tuple(DrawnText(text.text, grown.apply(text.at)) for text in drawing.texts)
    return replace(drawing, lines=lines, texts=texts, scale=scale, candidates=())


def of_unit(unit: DrawnIn) -> Scale:
    """The scale of a drawing whose unit was said."""
    return Scale(MM_PER_UNIT[unit], f"said to be drawn {UNIT_WORDS[unit]}", unit)


def of_line(drawing: Drawing, number: int, length: float) -> Scale:
    """The scale at which the line of that number is `length` mm long. Raises ValueRefused."""
    line = next((each for each in drawing.lines if each.number == number), None)
    if line is None:
        numbers = [each.number for each in drawing.lines]
        allowed = Span(1, max(numbers, default=0), whole=True, about="the drawing's lines")
        raise ValueRefused(found=number, allowed=allowed)
    drawn = line.path.length
    return Scale(length / drawn, f"line {number}, {drawn:g} long in the drawing, is {length:g} mm")


def candidates(
    bounds: Bounds | None, units: tuple[DrawnIn, ...], page: tuple[float, float] | None = None
) -> tuple[Scale, ...]:
    """What a unit may be, each with the size that the drawing has then; a unit that makes the page
    one of those that are sold comes first."""
    left, low, right, high = bounds or (0.0, 0.0, 0.0, 0.0)
    plain, fitting = [], []
    for unit in units:
        mm = MM_PER_UNIT[unit]
        reason = (
            f"drawn {UNIT_WORDS[unit]} it is {(right - left) * mm:.4g} × {(high - low) * mm:.4g} mm"
        )
        sold = None if page is None else _sold(page[0] * mm, page[1] * mm)
        if sold is None:
            plain.append(Scale(mm, reason, unit))
        else:
            fitting.append(Scale(mm, f"{reason}, on a page of {sold}", unit))
    return (*fitting, *plain)


def bounds_of(lines: tuple[DrawnLine, ...]) -> Bounds | None:
    """Round all lines, in the drawing's units; None where there are none."""
    return union_bounds(line.path.bounds for line in lines) if lines else None


def _sold(width: float, height: float) -> str | None:
    sides = sorted((width, height))
    for name, page in PAGES.items():
        if all(abs(a - b) <= SAME_PAGE for a, b in zip(sides, page, strict=True)):
            return name
    return None
