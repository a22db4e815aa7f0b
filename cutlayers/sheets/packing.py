"""Rectangles into a rectangle that has forbidden squares, each as it is or in a quarter turn.

The method keeps every largest free rectangle and puts the next piece where the shorter side
left over is least. Source: J. Jylänki, "A Thousand Ways to Pack the Bin" (2010), the maximal
rectangles algorithm with the best-short-side-fit rule (from memory).
"""

from __future__ import annotations

from collections.abc import Sequence

from cutlayers.frozen import frozen
from cutlayers.geometry.segments import Bounds

SLACK = 1e-9
"""mm; lets a rectangle fit a hole of exactly its own size despite rounding."""


@frozen
class Spot:
    """Where a rectangle's lower left corner goes, and whether it is turned by a quarter."""

    x: float
    y: float
    turned: bool


class FreeSpace:
    """What is left of one sheet. Rectangles keep `gap` mm from one another."""

    def __init__(self, area: Bounds, forbidden: Sequence[Bounds], gap: float) -> None:
        left, bottom, right, top = area
        self._gap = gap
        # A gap added to every rectangle's right and top needs as much room past the far edges.
        self._free: list[Bounds] = [(left, bottom, right + gap, top + gap)]
        for box in forbidden:
            self._take(box)

    def place(
        self, width: float, height: float, turns: Sequence[bool] = (False, True)
    ) -> Spot | None:
        """Take the best spot for a rectangle, or return None where it does not fit.

        `turns` says whether it may lie as it is, turned by a quarter, or both.
        """
        best: tuple[tuple[float, float, float, float], Spot] | None = None
        for turned in turns:
            wide, high = (height, width) if turned else (width, height)
            wide, high = wide + self._gap, high + self._gap
            for left, bottom, right, top in self._free:
                spare_x, spare_y = right - left - wide, top - bottom - high
                if spare_x >= -SLACK and spare_y >= -SLACK:
                    score = (min(spare_x, spare_y), max(spare_x, spare_y), bottom, left)
                    if best is None or score < best[0]:
                        best = score, Spot(left, bottom, turned)
        if best is None:
            return None
        spot = best[1]
        wide, high = (height, width) if spot.turned else (width, height)
        self._take((spot.x, spot.y, spot.x + wide + self._gap, spot.y + high + self._gap))
        return spot

    def _take(self, box: Bounds) -> None:
        split: list[Bounds] = []
        for free in self._free:
            split.extend(_around(free, box))
        self._free = [
            box
            for i, box in enumerate(split)
            if not any(
                _inside(box, other) and (box != other or j < i)
                for j, other in enumerate(split)
                if j != i
            )
        ]


def _around(free: Bounds, box: Bounds) -> list[Bounds]:
    """The largest rectangles of `free` that stay clear of `box`."""
    left, bottom, right, top = free
    if box[0] >= right or box[2] <= left or box[1] >= top or box[3] <= bottom:
        return [free]
    pieces = []
    if box[0] > left:
        pieces.append((left, bottom, box[0], top))
    if box[2] < right:
        pieces.append((box[2], bottom, right, top))
    if box[1] > bottom:
        pieces.append((left, bottom, right, box[1]))
    if box[3] < top:
        pieces.append((left, box[3], right, top))
    return pieces


def _inside(inner: Bounds, outer: Bounds) -> bool:
    return (
        inner[0] >= outer[0]
        and inner[1] >= outer[1]
        and inner[2] <= outer[2]
        and inner[3] <= outer[3]
    )
