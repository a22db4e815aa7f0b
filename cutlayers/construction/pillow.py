"""The two faces of a pillow pack and the flaps at their ends: where they lie, and flat strips
that stand for them.

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

import itertools
import math
from typing import Literal

from cutlayers.frozen import frozen
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.strokes import Operation
from cutlayers.geometry.transforms import Point
from cutlayers.net import Net, Role, Shape
from cutlayers.net.shapes import glue_tab, polygon

STRIPS = 15
"""How many strips stand for a bent face; odd, so that one lies in the middle."""

BLUNT = 1.0
"""mm that an inner flap is high where it ends bluntly; a finer point curls up when it is pushed in
(common practice, no source)."""

SEAM = 5.0
"""Calipers from a side edge to the tab's crease at most: 1/sin 12.2° in the flattest pack."""

End = Literal["top", "bottom"]


@frozen
class Span:
    """From how far to how far a face or flap reaches, from the side edge on its left in mm."""

    low: float
    high: float


@frozen
class Pillow:
    """Length and width of a face and the sagitta of its creases, score to score; how deep the tab
    is, and how far two layers lie apart."""

    length: float
    width: float
    sagitta: float
    tab: float
    step: float

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
        """What is left of the front face: it goes no farther out than the fold of the tab, which is
        half a caliper thick outside of its crease."""
        overhang = self._overhang(self._lean(self.outer))
        return Span(max(0.0, overhang - self.step / 2), self.width)

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


def facets(pillow: Pillow) -> Net:
    """The net with strips for the bent faces and flaps, thumb cuts left out.

    Strips whose corners lie on the true crease obey the same mirror rule exactly. A strip rises by
    the angle φ = asin(Δf/Δu); neighbours turn by the difference of theirs, a flap by the same the
    other way, and the crease between strip and flap by acos(−sin²φ): the outside normals are
    (−sin φ, 0, cos φ) and (sin φ, cos φ, 0).
    """
    bent = _Bent(pillow)
    rises, middle = bent.rises, STRIPS // 2
    over = 180.0 - 2 * math.degrees(rises[0])
    net = Net.start("pillow", "front", bent.strip("front", middle), Role.WALL)
    for index in range(middle - 1, -1, -1):
        net = net.attach(
            _part("front", index),
            bent.strip("front", index),
            to=f"{_part('front', index + 1)}.left",
            own="right",
            role=Role.WALL,
            fold_deg=math.degrees(rises[index] - rises[index + 1]),
            operation=Operation.DRAW,
        )
    for face in ("front", "back"):
        for index in range(STRIPS):
            if face == "front" and index <= middle:
                continue
            first = index == 0
            to = _part("front", STRIPS - 1) if first else _part(face, index - 1)
            turn = over if first else math.degrees(rises[index - 1] - rises[index])
            net = net.attach(
                _part(face, index),
                bent.strip(face, index),
                to=f"{to}.right",
                own="left",
                role=Role.WALL,
                fold_deg=turn,
                operation=Operation.SCORE if first else Operation.DRAW,
            )
    last = _part("back", STRIPS - 1)
    net = net.attach(
        "glue tab",
        tab_shape(pillow, net.panel(last).edge("right").chord),
        to=f"{last}.right",
        role=Role.GLUE_TAB,
        fold_deg=over,
        lands_on=_part("front", 0),
    )
    ends: tuple[End, ...] = ("top", "bottom")
    for face, role in (("back", Role.FLAP), ("front", Role.LID)):
        for end in ends:
            net = _with_end(net, bent, face, end, role)
    return net


def tab_shape(pillow: Pillow, edge: float) -> Shape:
    """The tab on an edge of that length, its ends at 45° as the flaps beside it ask for."""
    return glue_tab(edge, pillow.tab, pillow.tab, clear=pillow.tab_clear)


@frozen
class _Bent:
    """A pillow whose faces are flat strips between rulings."""

    pillow: Pillow

    @property
    def marks(self) -> list[float]:
        """Where strips begin and end: the outer ones are as wide as the tab needs."""
        width, outer = self.pillow.width, self.pillow.outer
        inner = (width - 2 * outer) / (STRIPS - 2)
        return [0.0, *(outer + i * inner for i in range(STRIPS - 1)), width]

    @property
    def rises(self) -> list[float]:
        """φ of each strip, in radians."""
        return [
            math.asin((self.pillow.height(u1) - self.pillow.height(u0)) / (u1 - u0))
            for u0, u1 in itertools.pairwise(self.marks)
        ]

    def within(self, index: int, span: Span) -> Span:
        """The part of a strip that lies in a span; one that ends before it begins if none does."""
        low, high = self.marks[index : index + 2]
        return Span(max(low, span.low), min(high, span.high))

    def height(self, index: int, u: float) -> float:
        """How far inside of the end line a strip's crease lies."""
        low, high = self.marks[index : index + 2]
        at_low, at_high = self.pillow.height(low), self.pillow.height(high)
        if u in (low, high):
            return at_low if u == low else at_high
        return at_low + (at_high - at_low) * (u - low) / (high - low)

    def inner_flap(self, index: int) -> Span:
        """The part of a strip on which an inner flap stands. The strip's crease lies nearer to the
        end line than the true one, so that the flap on it ends sooner."""
        pillow = self.pillow
        span = self.within(index, pillow.inner_flap)
        low, high = self.marks[index : index + 2]
        at_low, at_high = self.height(index, low), self.height(index, high)
        least = (pillow.clear + BLUNT) / 2
        if not pillow.step or min(at_low, at_high) >= least:
            return span
        if max(at_low, at_high) <= least:
            return Span(low, low)
        ends = low + (high - low) * (least - at_low) / (at_high - at_low)
        if at_low < at_high:
            return Span(max(span.low, ends), span.high)
        return Span(span.low, min(span.high, ends))

    def strip(self, face: str, index: int) -> Shape:
        """Part of a face between two rulings, with creases at both ends."""
        pillow = self.pillow
        span = self.within(index, pillow.front if face == "front" else pillow.back)
        inset = 0.0 if face == "front" else pillow.inset
        left, right = (inset + self.height(index, u) for u in (span.low, span.high))
        wide = span.high - span.low
        return polygon(
            (0, left),
            (wide, right),
            (wide, pillow.length - right),
            (0, pillow.length - left),
            edges=("bottom", "right", "top", "left"),
        )

    def flap(self, face: str, index: int, end: End) -> tuple[Shape, float | None] | None:
        """Where the rulings go on beyond a strip's crease, as far as the crease lies inside, and
        where on that it begins, None if it is as long; None where the flap has ended."""
        pillow = self.pillow
        whole = pillow.front if face == "front" else pillow.back
        strip = self.within(index, whole)
        span = strip if face == "front" else self.inner_flap(index)
        if span.low >= span.high:
            return None
        inset, clear = (0.0, 0.0) if face == "front" else (pillow.inset, pillow.clear)
        left, right = (self.height(index, u) for u in (span.low, span.high))
        x0, x1 = span.low, span.high
        if end == "top":
            line = pillow.length - inset
            ring = [
                ((x0, line - left), "bottom"),
                ((x1, line - right), "right"),
                ((x1, line + right - clear), "top"),
                ((x0, line + left - clear), "left"),
            ]
        else:
            ring = [
                ((x1, inset + right), "bottom"),
                ((x0, inset + left), "left"),
                ((x0, inset - left + clear), "top"),
                ((x1, inset - right + clear), "right"),
            ]
        # At a side edge the crease meets the end line, and the strip's end is a point.
        gone = {"left": not left, "right": not right}
        kept = [(corner, name) for corner, name in ring if not gone.get(name)]
        shape = polygon(*(corner for corner, _ in kept), edges=tuple(name for _, name in kept))
        if span == strip:
            return shape, None
        ahead = strip.high - x1 if end == "top" else x0 - strip.low
        slanted = math.hypot(x1 - x0, right - left) / (x1 - x0)
        return shape, ahead * slanted


def _with_end(net: Net, bent: _Bent, face: str, end: End, role: Role) -> Net:
    """The flap at one end of a face, strip by strip from left to right as the face is drawn."""
    before: str | None = None
    for index, rise in enumerate(bent.rises):
        found = bent.flap(face, index, end)
        if found is None:
            before = None
            continue
        shape, at = found
        name = _part(f"{face} {end} flap", index)
        net = net.attach(
            name,
            shape,
            to=f"{_part(face, index)}.{end}",
            at=at,
            role=role,
            fold_deg=math.degrees(math.acos(-(math.sin(rise) ** 2))),
        )
        if before:
            net = net.close(
                f"{before}.right",
                f"{name}.left",
                fold_deg=-math.degrees(bent.rises[index - 1] - rise),
                operation=Operation.DRAW,
            )
        before = name
    return net


def _part(name: str, index: int) -> str:
    """The middle strip has the name of what it is part of."""
    return name if index == STRIPS // 2 else f"{name} strip {index + 1}"
