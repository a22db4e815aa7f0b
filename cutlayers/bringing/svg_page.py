"""The page of an SVG: which way its coordinates run, and how large a unit of them is.

Source: SVG 1.1, sections 7.2 (the initial viewport) to 7.10 (units); CSS Values and Units 3, 6.2.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from cutlayers.artwork.svg_outlines import LARGEST, LENGTH, PX_PER, SMALLEST
from cutlayers.artwork.svg_style import number
from cutlayers.bringing.lines import DrawnLine, Scale
from cutlayers.bringing.scale import MM_PER_UNIT, OF_SCREEN, bounds_of, candidates
from cutlayers.frozen import frozen
from cutlayers.geometry.transforms import Transform
from cutlayers.reading.values import ValueRefused
from cutlayers.telling.written import shown

if TYPE_CHECKING:
    from lxml import etree

Box = tuple[float, float, float, float]
"""Left, top, width and height of a viewBox."""

SAME = 1e-3
"""Relative difference of the two scales of a page that is rounding alone."""


@frozen
class Page:
    """`onto` carries user units, y down, to the drawing's, y up; `size` is in user units."""

    onto: Transform
    scale: Scale | None
    size: tuple[float, float] | None

    def candidates(self, lines: tuple[DrawnLine, ...]) -> tuple[Scale, ...]:
        """What a unit may be, where the file does not say it."""
        return candidates(bounds_of(lines), OF_SCREEN, self.size)


def page_of(root: etree._Element) -> Page:
    """Of the outermost svg. Raises ValueRefused for a page that cannot be."""
    box = view_box(root)
    sides = [_side(root, side) for side in ("width", "height")]
    left, top, _, high = box or (0.0, 0.0, 0.0, sides[1][0] if sides[1] else 0.0)
    onto = Transform(dx=-left, yy=-1.0, dy=top + high)
    if box is not None:
        size: tuple[float, float] | None = (box[2], box[3])
    elif sides[0] and sides[1]:
        size = (sides[0][0], sides[1][0])
    else:
        size = None
    return Page(onto, _scale(box, sides), size)


def view_box(element: etree._Element) -> Box | None:
    """Raises ValueRefused for one that is no four numbers or has no size."""
    view = str(element.get("viewBox") or "").strip()
    if not view:
        return None
    box = [number(part, "a part of viewBox") for part in re.split(r"[\s,]+", view) if part]
    usable = len(box) == 4 and all(abs(part) <= LARGEST for part in box)
    if not usable or min(box[2:]) < SMALLEST:
        allowed = f"four numbers up to {LARGEST:g}, of which the last two are a size"
        raise ValueRefused(f"has viewBox {shown(view)}", found=view, allowed=allowed)
    return box[0], box[1], box[2], box[3]


def _side(root: etree._Element, side: str) -> tuple[float, str] | None:
    """The px and the unit of a side; None where it is missing or a share of another page."""
    match = LENGTH.fullmatch(str(root.get(side) or ""))
    if match is None or match["unit"] not in PX_PER:
        return None
    px = float(match["number"]) * PX_PER[match["unit"]]
    if not SMALLEST <= px <= LARGEST:
        allowed = f"a size of {SMALLEST:g} to {LARGEST:g} px"
        raise ValueRefused(f"has {shown(root.get(side))} as {side}", allowed=allowed)
    return px, match["unit"]


def _scale(box: Box | None, sides: list[tuple[float, str] | None]) -> Scale | None:
    """What a unit is by the page's width and height, if these have a unit of length."""
    px = MM_PER_UNIT["1/96 in"]
    true = [
        (side[0] * px, side[1], part)
        for side, part in zip(sides, (box or (0, 0, None, None))[2:], strict=True)
        if side and side[1] not in ("", "px")
    ]
    if not true:
        return None
    unit = true[0][1]
    if box is None:
        return Scale(
            px, f"the page's size is in {unit} and a unit is 1/96 in, as SVG has it", "1/96 in"
        )
    # Where width and height differ in scale, the whole of the drawing is fitted into the page.
    scales = [mm / part for mm, _, part in true if part]
    found = min(scales)
    if max(scales) - found > SAME * found:
        how = ", fitted into it"
    else:
        how = ""
    size = " × ".join(f"{mm:.5g}" for mm, _, _ in true)
    reason = f"the page is {size} mm (given in {unit}){how} and {box[2]:g} × {box[3]:g} units"
    return Scale(found, reason, "mm" if abs(found - 1.0) < 1e-9 else "")
