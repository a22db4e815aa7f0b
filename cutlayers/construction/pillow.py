"""The two faces of a pillow pack and the flaps at their ends: where they lie.

A face is part of a cylinder along the pack, z = f(x); the end is its mirror image in a plane at
45°, so it stands upright and meets the face along a crease that on the flat runs f(u) inside of
the end line: the face is as high above the middle plane as its crease is drawn in. A flap reaches
as far beyond the end line, which closes the end wholly.

Where the faces lean by φ from level, sin φ = f′(u), most at the side edges, and card is t thick:

- The inner flaps are the outer ones moved along the pack, by t/cos φ, so that they lie a caliper
  apart where they lean most and never less. So all of the back face's creases stand so much
  farther in.
- An inner flap goes under the front face. Its free edge ends (1 + sin²φ)·t/2·cos φ below the
  middle of that: a half caliper of the face, as far as it leans, and the corner of the flap's own
  that leans with it; and half a caliper more for a hand. Where nothing but a sliver is left of it,
  at both ends, it ends bluntly.
- The tab lies a caliper inside of the front face, which the back face meets at the angle 2φ. So
  its crease stands t/sin 2φ inside of where the faces meet; of a flat pack the front face, which
  would stand out beyond that fold, ends as far out as this.

Sources: the mirror rule after Mitani and Igarashi, "Interactive design of planar curved folding by
reflection", Pacific Graphics 2011; what card adds is worked by hand.
"""

from __future__ import annotations

import math

from cutlayers.frozen import frozen
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Point
from cutlayers.net import Shape
from cutlayers.net.shapes import glue_tab

BLUNT = 1.0
"""mm that an inner flap is high where it ends bluntly; a finer point curls up when it is pushed in
(common practice, no source)."""

SEAM = 5.0
"""Calipers from a side edge to the tab's crease at most: 1/sin 12.2° in the flattest pack."""


@frozen
class Span:
    """From how far to how far a face or flap reaches, from the side edge on its left in mm."""

    low: float
    high: float


@frozen
class Pillow:
    """Length and width of a face and the sagitta of its creases, score to score; how deep the tab
    is, how far two layers lie apart, and how far outside of its crease an outer face lies."""

    length: float
    width: float
    sagitta: float
    tab: float
    step: float
    bulk: float

    @property
    def bulge(self) -> float:
        """Of the crease; a sagitta is bulge × half the chord."""
        return 2 * self.sagitta / self.width

    @property
    def radius(self) -> float:
        """Of the crease."""
        return self.width * (1 + self.bulge**2) / (4 * self.bulge)

    def height(self, u: float) -> float:
        """f(u), how far the crease lies inside the end line, u from the side edge."""
        if u in (0.0, self.width):
            return 0.0
        return math.sqrt(max(0.0, self.radius**2 - (u - self.width / 2) ** 2)) - (
            self.radius - self.sagitta
        )

    @property
    def steepest(self) -> float:
        """Sine of φ at the side edges: the slope of the arc where it leaves its end line."""
        return 2 * self.bulge / (1 - self.bulge**2)

    @property
    def inset(self) -> float:
        """How much farther in the back face's creases stand than those of the front."""
        return self.step and self.step / math.sqrt(1 - self.steepest**2)

    @property
    def clear(self) -> float:
        """How much shorter the inner flaps are than would reach the front face."""
        return (1 + self.steepest**2) / 2 * self.inset + self.step / 2

    @property
    def outer(self) -> float:
        """Width of the outer strips, which do not bend, so that the tab lies flat on one."""
        # The strip of twice the width leans less, so that the tab begins farther in there.
        return self.tab + max(0.0, self._overhang(self._lean(2 * self.tab)))

    @property
    def seam(self) -> float:
        """How far the tab's crease stands inside of where the two faces meet, along the back."""
        return self.step and self.step / math.sin(2 * self._lean(self.outer))

    @property
    def front(self) -> Span:
        """What is left of the front face: it goes no farther out than the fold of the tab, whose
        outer face lies that much outside of its crease."""
        overhang = self._overhang(self._lean(self.outer))
        return Span(max(0.0, overhang - self.bulk), self.width)

    @property
    def back(self) -> Span:
        """The back face, from its side edge at the front face to the crease of the tab."""
        return Span(0.0, self.width - self.seam)

    @property
    def inner_flap(self) -> Span:
        """The flaps of the back face."""
        if not self.step:
            return self.back
        least = (self.clear + BLUNT) / 2 + self.radius - self.sagitta
        end = self.width / 2 - math.sqrt(self.radius**2 - least**2)
        return Span(end, self.width - end)

    @property
    def tab_clear(self) -> float:
        """How far the tab's ends keep off those of its edge, so that the inner flaps pass them."""
        return 1.5 * self.inset

    def arc(self, span: Span, moved: float = 0.0) -> Segment:
        """Part of the crease's arc over the end line, from left to right, bowing up."""
        share = 1.0
        if span != Span(0.0, self.width):
            middle = self.width / 2
            low, high = (math.asin((u - middle) / self.radius) for u in (span.low, span.high))
            share = (high - low) / (2 * math.asin(middle / self.radius))
        ends: list[Point] = [(u, self.height(u) + moved) for u in (span.low, span.high)]
        return Segment(ends[0], ends[1], -math.tan(math.atan(self.bulge) * share))

    def _lean(self, wide: float) -> float:
        """φ of a flat strip of that width beside a side edge, in radians."""
        return math.asin(self.height(wide) / wide)

    def _overhang(self, lean: float) -> float:
        """How far the front face goes out beyond the crease of the tab."""
        return self.step and self.step / math.tan(2 * lean)


def tab_shape(pillow: Pillow, edge: float) -> Shape:
    """The tab on an edge of that length, its ends at 45° as the flaps beside it ask for."""
    return glue_tab(edge, pillow.tab, pillow.tab, clear=pillow.tab_clear)
