"""Small drawings with measures worked out by hand; one table for all writers and readers."""

from __future__ import annotations

import math
from dataclasses import dataclass

from cutlayers.formats.drawing import Drawing, Layer
from cutlayers.geometry.paths import Path, rounded
from cutlayers.geometry.segments import Bounds

QUARTER = math.tan(math.radians(90) / 4)
"""Bulge of a quarter circle."""


@dataclass(frozen=True)
class Measures:
    """What a reader has to find on one layer; `area` counts closed paths alone, unsigned."""

    closed: tuple[bool, ...]
    length: float
    area: float
    bounds: Bounds


@dataclass(frozen=True)
class Example:
    """A drawing and, for each layer that is not empty, its measures."""

    name: str
    drawing: Drawing
    layers: dict[str, Measures]

    def __str__(self) -> str:
        return self.name


def sheet(*layers: Layer) -> Drawing:
    """A sheet of 120 × 80 mm."""
    return Drawing("Soap bars, sheet 1", 120.0, 80.0, layers)


def cut(*paths: Path) -> Layer:
    """A layer that cuts."""
    return Layer("cut", "Cut", "#D55E00", 1, paths)


def score(*paths: Path) -> Layer:
    """A layer that scores."""
    return Layer("score", "Score", "#0072B2", 5, paths, dash=(4.0, 2.0))


def draw(*paths: Path) -> Layer:
    """A layer that draws."""
    return Layer("draw", "Draw", "#009E73", 3, paths, dash=(0.8, 1.2))


CIRCLE = Path.circle((60.0, 30.0), 20.0)
BOX = rounded(((10, 10), (110, 10), (110, 70), (10, 70)), (10,) * 4)

EXAMPLES = (
    Example(
        "circle",
        sheet(cut(CIRCLE)),
        {"cut": Measures((True,), 40 * math.pi, 400 * math.pi, (40, 10, 80, 50))},
    ),
    Example(
        "rounded rectangle",
        sheet(cut(BOX)),
        # 100 × 60 mm with r = 10: 6000 − (4 − π)·r² and 320 − (8 − 2π)·r.
        {"cut": Measures((True,), 302.831853, 5914.159265, (10, 10, 110, 70))},
    ),
    Example(
        "clockwise hole",
        sheet(cut(CIRCLE.reversed())),
        {"cut": Measures((True,), 40 * math.pi, 400 * math.pi, (40, 10, 80, 50))},
    ),
    Example(
        "open arc",
        # A quarter of the circle about (10, 10), from its right to its top.
        sheet(score(Path(((50.0, 10.0), (10.0, 50.0)), (QUARTER,), closed=False))),
        {"score": Measures((False,), 20 * math.pi, 0.0, (10, 10, 50, 50))},
    ),
    Example(
        "open arc, right turn",
        # The same ends by way of the circle about (50, 50).
        sheet(score(Path(((50.0, 10.0), (10.0, 50.0)), (-QUARTER,), closed=False))),
        {"score": Measures((False,), 20 * math.pi, 0.0, (10, 10, 50, 50))},
    ),
    Example(
        "three quarters of a circle",
        # About (50, 40), r = 20, from its bottom round by the right and the top to its left.
        sheet(cut(Path(((50.0, 20.0), (30.0, 40.0)), (1 + math.sqrt(2),), closed=False))),
        {"cut": Measures((False,), 30 * math.pi, 0.0, (30, 20, 70, 60))},
    ),
    Example(
        "line",
        sheet(draw(Path.line((10.0, 20.0), (40.0, 60.0)))),
        {"draw": Measures((False,), 50.0, 0.0, (10, 20, 40, 60))},
    ),
    Example(
        "several layers, one empty",
        sheet(
            draw(Path.line((20.0, 20.0), (100.0, 20.0)), Path.line((20.0, 24.0), (100.0, 24.0))),
            score(Path.polyline(((10.0, 40.0), (60.0, 40.0), (60.0, 70.0)))),
            Layer("perforate", "Perforate", "#CC79A7", 6, ()),
            cut(BOX, Path.circle((85.0, 50.0), 8.0).reversed()),
        ),
        {
            "draw": Measures((False, False), 160.0, 0.0, (20, 20, 100, 24)),
            "score": Measures((False,), 80.0, 0.0, (10, 40, 60, 70)),
            "cut": Measures(
                (True, True),
                302.831853 + 16 * math.pi,
                5914.159265 + 64 * math.pi,
                (10, 10, 110, 70),
            ),
        },
    ),
)
