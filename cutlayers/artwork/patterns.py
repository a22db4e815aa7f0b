"""Repeating patterns, drawn as outlines."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from cutlayers.artwork.ink import Contour
from cutlayers.artwork.model import PatternKind
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Bounds
from cutlayers.geometry.transforms import Point

STRIPE_SHARE = 0.5
DOT_SHARE = 0.2
STAR_SHARE = 0.32
STAR_WAIST = 0.38
"""Width of a stripe, radius of a dot and of a star's tips as shares of the repeat, and a star's
inner radius as a share of its outer one."""

STAR_TIPS = 6


def pattern(kind: PatternKind, repeat: float, bounds: Bounds) -> tuple[Contour, ...]:
    """Closed contours that cover `bounds`, one figure standing in their middle.

    All are counter-clockwise and none overlap.
    """
    return tuple(_DRAW[kind](repeat, bounds))


def _stripes(repeat: float, bounds: Bounds) -> Iterator[Contour]:
    # Whole lengths, not tiles: tiles that touch show hairlines on screens.
    left, bottom, right, top = bounds
    half = repeat * STRIPE_SHARE / 2
    for x in _steps(left, right, repeat):
        yield Contour.polygon(
            ((x - half, bottom), (x + half, bottom), (x + half, top), (x - half, top))
        )


def _checks(repeat: float, bounds: Bounds) -> Iterator[Contour]:
    half = repeat / 4
    for x, y in _staggered(repeat / 2, repeat / 2, bounds):
        yield Contour.polygon(
            (
                (x - half, y - half),
                (x + half, y - half),
                (x + half, y + half),
                (x - half, y + half),
            )
        )


def _dots(repeat: float, bounds: Bounds) -> Iterator[Contour]:
    for centre in _staggered(repeat / 2, repeat * math.sqrt(3) / 2, bounds):
        yield Contour.of(Path.circle(centre, repeat * DOT_SHARE))


def _stars(repeat: float, bounds: Bounds) -> Iterator[Contour]:
    for x, y in _staggered(repeat / 2, repeat * math.sqrt(3) / 2, bounds):
        points = []
        for i in range(2 * STAR_TIPS):
            radius = repeat * STAR_SHARE * (1.0 if i % 2 == 0 else STAR_WAIST)
            angle = math.pi / 2 + i * math.pi / STAR_TIPS
            points.append((x + radius * math.cos(angle), y + radius * math.sin(angle)))
        yield Contour.polygon(points)


def _staggered(across: float, up: float, bounds: Bounds) -> Iterator[Point]:
    """Every second crossing of a grid, row by row, as the black fields of a chessboard."""
    left, bottom, right, top = bounds
    middle = (left + right) / 2
    for row, y in enumerate(_steps(bottom, top, up)):
        odd = (row + _first_step(bottom, top, up)) % 2
        shift = middle + odd * across
        count = math.ceil((right - left) / 2 / (2 * across)) + 1
        for i in range(-count, count + 1):
            yield shift + 2 * i * across, y


def _first_step(low: float, high: float, step: float) -> int:
    return math.ceil((high - low) / 2 / step) + 1


def _steps(low: float, high: float, step: float) -> Iterator[float]:
    """Places `step` apart over a range and one beyond at each end, one of them its middle."""
    count = _first_step(low, high, step)
    middle = (low + high) / 2
    for i in range(-count, count + 1):
        yield middle + i * step


_DRAW: dict[PatternKind, Callable[[float, Bounds], Iterator[Contour]]] = {
    "stripes": _stripes,
    "dots": _dots,
    "checks": _checks,
    "stars": _stars,
}
