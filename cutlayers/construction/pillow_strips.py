"""Flat strips that stand for the bent faces of a pillow pack and for its flaps.

A face is divided along its rulings, and strips whose corners lie on the true crease obey the mirror
rule of `pillow.py` exactly.
"""

from __future__ import annotations

import itertools
import math
from typing import Literal

from cutlayers.construction.pillow import BLUNT, Pillow, Span, tab_shape
from cutlayers.frozen import frozen
from cutlayers.geometry.strokes import Operation
from cutlayers.geometry.transforms import Transform
from cutlayers.net import Net, Role, Shape
from cutlayers.net.shapes import polygon

STRIPS = 15
"""How many strips stand for a bent face; odd, so that one lies in the middle."""

End = Literal["top", "bottom"]


def facets(pillow: Pillow) -> Net:
    """The net with strips for the bent faces and flaps, thumb cuts left out; they lie where what
    they stand for lies on the pillow's net, whose front begins at x = 0.

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
    left, *_ = net.panel(_part("front", 0)).outline.bounds
    return net.transformed(Transform.translation(-left, 0.0))


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
