"""How long would an SVG's filters take to paint? Counted before any is painted.

A filter of a few words can ask for hours: noise of a thousand octaves, or the largest of all
pixels within a hundred. Each primitive counts as so many steps for every pixel of the picture,
once for every place where the filter is used. The counts are our own timings in round numbers,
one step about 10 ns. Source of what a primitive asks for: SVG 1.1, chapter 15.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from cutlayers.artwork.svg_safety import XLINK_HREF
from cutlayers.artwork.svg_style import (
    NUMBER,
    StyleSheet,
    SvgTooRich,
    given_style,
    style_sheet,
)
from cutlayers.frozen import frozen
from cutlayers.reading.markup import local_name
from cutlayers.reading.values import ValueRefused
from cutlayers.telling.written import shown

if TYPE_CHECKING:
    from lxml import etree

MOST_STEPS = 450e6
"""Of all filters of a picture together: some seconds."""

WIDTHS = (3000, 2400, 1900, 1500, 1200, 1000)
"""Pixels along the longer side, the first of them that the filters' steps allow: 300 dpi over
254 mm, and less for what is a blurred shape or a grain anyway."""

PLAIN, BLUR, OCTAVE, CELL = 30.0, 50.0, 35.0, 1.0
"""Steps a pixel of most primitives, of a blur, of each octave of noise and of each pixel looked at
by a primitive that looks around."""

_NUMBERS = re.compile(NUMBER)
_TARGET = re.compile(r"url\(\s*['\"]?#(?P<name>[^'\")\s]*)")


@frozen
class _Use:
    """A filter where it is used: `scale` is how much larger than the picture's units it lies."""

    filter: etree._Element
    scale: float


def painted_side(root: etree._Element, largest: float) -> int:
    """Pixels along the longer side, `largest` units long, that a picture can be painted with.

    Raises ValueRefused where its filters take too long even on the fewest, naming the dearest.
    """
    uses = tuple(_uses(root))
    for side in WIDTHS:
        steps = side**2 * sum(
            _steps(primitive, use.scale * side / largest)
            for use in uses
            for primitive in use.filter
        )
        if steps <= MOST_STEPS:
            return side
    density = WIDTHS[-1] / largest
    use, primitive = max(
        ((use, primitive) for use in uses for primitive in use.filter),
        key=lambda one: _steps(one[1], one[0].scale * density),
    )
    raise ValueRefused(
        f"has filters that would take too long to paint, above all <{local_name(primitive)}> in "
        f"the filter {shown(use.filter.get('id') or '')}",
        line=primitive.sourceline,
        advice="take it out, or save the picture as a PNG",
    )


def _uses(root: etree._Element) -> Iterator[_Use]:
    """Every use of a filter, with references unfolded; safe once these are known to end."""
    by_id: Mapping[str, etree._Element] = {
        str(element.get("id")): element for element in root.iter() if element.get("id")
    }
    sheet: StyleSheet
    try:
        sheet = style_sheet(root)
    except SvgTooRich:
        sheet = {}  # the process that paints has a limit of its own

    def within(element: etree._Element, scale: float) -> Iterator[_Use]:
        if local_name(element) == "filter":
            return
        try:
            given = given_style(element, sheet)
        except SvgTooRich:
            given = {}
        here = scale * _growth(str(element.get("transform") or ""))
        for match in _TARGET.finditer(given.get("filter", "")):
            found = by_id.get(match["name"])
            if found is not None and local_name(found) == "filter":
                yield _Use(found, here)
        for child in element:
            yield from within(child, here)
        pointed_at = str(element.get("href") or element.get(XLINK_HREF) or "").strip()[1:]
        if local_name(element) == "use" and pointed_at in by_id:
            yield from within(by_id[pointed_at], here)

    return within(root, 1.0)


def _growth(transform: str) -> float:
    """How much longer a length becomes at most: the larger singular value."""
    from svgelements import Matrix

    try:
        m = Matrix(transform)
        half = (m.a**2 + m.b**2 + m.c**2 + m.d**2) / 2.0
        turned = m.a * m.d - m.b * m.c
        return math.sqrt(half + math.sqrt(max(0.0, half**2 - turned**2)))
    except (ValueError, TypeError, IndexError, OverflowError):
        return 1.0


def _steps(primitive: etree._Element, density: float) -> float:
    """Steps a pixel; `density` is in pixels per unit of the primitive."""
    match local_name(primitive):
        case "feTurbulence":
            return PLAIN + OCTAVE * max(1.0, _numbers(primitive, "numOctaves", 1.0)[0])
        case "feMorphology":
            radius = _numbers(primitive, "radius", 0.0)
            across = [max(1.0, 2.0 * each * density) for each in (radius[0], radius[-1])]
            return PLAIN + CELL * across[0] * across[1]
        case "feConvolveMatrix":
            order = _numbers(primitive, "order", 3.0)
            return PLAIN + 2.0 * CELL * abs(order[0] * order[-1])
        case "feGaussianBlur" | "feDropShadow":
            return BLUR
        case "feMerge":
            return PLAIN + 0.2 * PLAIN * len(primitive)
        case _:
            return PLAIN


def _numbers(element: etree._Element, key: str, default: float) -> list[float]:
    found = [float(each) for each in _NUMBERS.findall(str(element.get(key) or ""))]
    return found or [default]
