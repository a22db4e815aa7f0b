"""A pillow pack: two faces that bulge, closed at each end by two flaps with curved folds.

On the flat a crease is a circular arc of sagitta h over the width W, so the pack is 2·h thick and
∫√(1 − f′²) du wide; the arc may leave its end line by 45° at most, h ≤ (√2 − 1)/2 · W, where the
faces would stand upright at their side edges. `construction/pillow.py` has the geometry: a face is
as high above the middle plane as its crease is drawn in.
"""

from __future__ import annotations

import math
from dataclasses import replace

from cutlayers.construction import options
from cutlayers.construction.card import Card
from cutlayers.construction.dimension import proportion, size
from cutlayers.construction.options import LEAST_FLAP, LEAST_TAB, LEAST_THUMB, THUMB
from cutlayers.construction.pillow import SEAM, Pillow, Span, tab_shape
from cutlayers.construction.pillow_strips import facets
from cutlayers.construction.refusing import (
    refuse_above,
    refuse_below,
    refuse_small,
    refuse_unless_none,
)
from cutlayers.construction.style import Style
from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Segment
from cutlayers.net import Net, Role, Shape, Stand

FLATTEST = 0.08
"""Thickness over width of a face; the ends of a flatter pack do not stay folded in."""

STEEPEST = (math.sqrt(2) - 1) / 2
"""Sagitta over width at which the arc leaves the end line by 45°."""

LEANING = 0.38
"""Thickness over width where card has a thickness: faces lean by 62.6° at most at their side edges.
In steeper ones the flaps of one end would have to lie ever farther apart."""

NAMED = 0.1
"""mm to which limits are named; so much is left between the least of a tab and its most."""

SHORTEST = 15.0
"""So many times as long as the inner flaps are set in, at least, so that a tab is left."""

LAYERED = 3.0
"""Calipers of a thickness that the layers of an end take, at most."""

SIMPSON = 400
"""Intervals of Simpson's rule; even."""


@frozen
class PillowPack:
    """Dimensions of a pillow pack, along the card."""

    length: float = size("from end to end along the side edges", example=120)
    width: float = size("of a face, along the bent card", example=80)
    thickness: float | None = proportion(
        "of the closed pack in its middle; 0.3 of the width if not given",
        example=24,
        minimum=4,
        maximum=400,
    )
    tab: float | None = options.fitting_tab()
    thumb: float | None = options.thumb("diameter of the thumb cuts in the outer end flaps")


def build(dims: PillowPack, card: Card) -> tuple[Net, ...]:
    """One net; the front face is the root, the seam is on the left.

    Raises StyleError for a pack too thick for its width or length, for a tab that
    would not bend with the face, and for thumb cuts larger than half of a flap.
    """
    width = card.score(dims.width, 2)
    layered = LEAST_FLAP + LAYERED * card.step if card.step else 0.0
    narrowest = SEAM * card.step
    refuse_small(
        card,
        "size.width",
        dims.width,
        2,
        6 * max(LEAST_TAB, narrowest + NAMED, (layered + NAMED) / LEANING / 6),
        "too narrow for a glue tab that bends with the face",
    )
    if dims.thickness is not None:
        most = LEANING if card.step else 2 * STEEPEST
        refuse_above(
            "options.thickness",
            dims.thickness,
            card.given(most * width, 2),
            "more than bends over this width",
        )
        least = max(FLATTEST * width, layered)
        refuse_small(card, "options.thickness", dims.thickness, 2, least, "too thin to stay shut")
    pillow = _pillow(dims, card, 0.0)
    sagitta = pillow.sagitta
    refuse_small(
        card,
        "size.length",
        dims.length,
        0,
        max(3 * sagitta, 5 * LEAST_TAB, 4.5 * (narrowest + NAMED), SHORTEST * pillow.inset),
        "too short between the two end flaps",
    )
    deepest = min(width / 6, pillow.length / 4.5)
    tab = min(12.0, deepest) if dims.tab is None else dims.tab
    refuse_above("options.tab", tab, deepest, "deeper than what bends with the face")
    refuse_below("options.tab", tab, narrowest, "too narrow to lie under a face")
    largest = min(1.5 * sagitta, width / 3)
    thumb = min(THUMB, largest) if dims.thumb is None else dims.thumb
    refuse_unless_none(
        "options.thumb",
        thumb,
        LEAST_THUMB,
        largest,
        ("too small for a nail", "larger than what leaves enough of an end flap"),
    )
    pillow = replace(pillow, tab=tab)
    blank, bent = (
        replace(net, stand=Stand("front"), caliper=card.step)
        for net in (_curved(pillow, thumb), facets(pillow))
    )
    return (replace(blank, facets=bent),)


def _pillow(dims: PillowPack, card: Card, tab: float) -> Pillow:
    thickness = 0.3 * dims.width if dims.thickness is None else dims.thickness
    return Pillow(
        card.score(dims.length, 0),
        card.score(dims.width, 2),
        card.score(thickness, 2) / 2,
        tab,
        card.step,
        card.bulk if card.step else 0.0,
    )


def _curved(pillow: Pillow, thumb: float) -> Net:
    """The blank, with arcs for creases."""
    net = Net.start("pillow", "front", _face(pillow, pillow.front, pillow.front, 0.0), Role.WALL)
    net = net.attach(
        "back",
        _face(pillow, pillow.back, pillow.inner_flap, pillow.inset),
        to="front.right",
        own="left",
        role=Role.WALL,
        fold_deg=180,
    )
    net = net.attach(
        "glue tab",
        tab_shape(pillow, net.panel("back").edge("right").chord),
        to="back.right",
        role=Role.GLUE_TAB,
        fold_deg=180,
        lands_on="front",
    )
    for end in ("top", "bottom"):
        net = net.attach(
            f"back {end} flap",
            _lens(pillow, _seen(pillow, pillow.inner_flap, end), pillow.clear, 0.0),
            to=f"back.{end}",
            role=Role.FLAP,
        )
        net = net.attach(
            f"front {end} flap",
            _lens(pillow, _seen(pillow, pillow.front, end), 0.0, thumb),
            to=f"front.{end}",
            role=Role.LID,
        )
    return net


def _seen(pillow: Pillow, span: Span, end: str) -> Span:
    """A span as one sees it who has the flap above its face."""
    return span if end == "top" else Span(pillow.width - span.high, pillow.width - span.low)


def _face(pillow: Pillow, face: Span, flap: Span, inset: float) -> Shape:
    """A face, whose creases stand `inset` mm inside of the end lines and are as long as its flaps;
    beside these its ends are free."""
    marks = [
        (f"{{}}{name}", Span(low, high))
        for name, low, high in (
            ("-start", face.low, flap.low),
            ("", flap.low, flap.high),
            ("-end", flap.high, face.high),
        )
        if low < high
    ]
    bottom = [(name.format("bottom"), pillow.arc(span, inset)) for name, span in marks]
    top = [
        (name.format("top"), _mirrored(pillow, edge))
        for (name, _), (_, edge) in zip(marks, bottom, strict=True)
    ]
    top.reverse()
    ring = [
        *bottom,
        ("right", Segment(bottom[-1][1].end, top[0][1].start)),
        *top,
        ("left", Segment(top[-1][1].end, bottom[0][1].start)),
    ]
    return Shape(
        Path.from_segments([edge for _, edge in ring], closed=True), tuple(name for name, _ in ring)
    )


def _mirrored(pillow: Pillow, edge: Segment) -> Segment:
    """An edge of the bottom as it is at the top, from right to left."""
    (x0, y0), (x1, y1) = edge.start, edge.end
    return Segment((x1, pillow.length - y1), (x0, pillow.length - y0), edge.bulge)


def _lens(pillow: Pillow, span: Span, clear: float, thumb: float) -> Shape:
    """A flap on its crease: both arcs bow out, the free one `clear` mm less far, with a half-round
    thumb cut in its middle; its ends are straight where it does not come to a point."""
    crease = _below(pillow.arc(span))
    free = [("top", pillow.arc(span, -clear).reversed())]
    if thumb:
        low, high = pillow.width / 2 - thumb / 2, pillow.width / 2 + thumb / 2
        first, last = (
            pillow.arc(part, -clear).reversed()
            for part in (Span(high, span.high), Span(span.low, low))
        )
        cut = Segment(first.end, last.start, -1.0)
        free = [("top-start", first), ("thumb cut", cut), ("top-end", last)]
    ring = [("bottom", crease)]
    if crease.end != free[0][1].start:
        ring.append(("right", Segment(crease.end, free[0][1].start)))
    ring += free
    if free[-1][1].end != crease.start:
        ring.append(("left", Segment(free[-1][1].end, crease.start)))
    return Shape(
        Path.from_segments([edge for _, edge in ring], closed=True), tuple(name for name, _ in ring)
    )


def _below(arc: Segment) -> Segment:
    """An arc of the crease turned over, bowing down."""
    (x0, y0), (x1, y1) = arc.start, arc.end
    return Segment((x0, -y0), (x1, -y1), -arc.bulge)


def volume(dims: PillowPack, card: Card) -> float:
    """∫ 2f(L − 2f) dx with dx = √(1 − f′²) du, by Simpson's rule over the arc's angle θ:
    f = R cos θ − (R − h), dx = R √(cos 2θ) dθ."""
    pillow = _pillow(dims, card, 0.0)
    radius, half = pillow.radius, math.asin(pillow.width / 2 / pillow.radius)

    def slice_at(theta: float) -> float:
        height = radius * math.cos(theta) - (radius - pillow.sagitta)
        across = radius * math.sqrt(max(0.0, math.cos(2 * theta)))
        return 2 * height * (pillow.length - 2 * height) * across

    step = 2 * half / SIMPSON
    weights = [1, *([4, 2] * (SIMPSON // 2))[:-1], 1]
    return step / 3 * sum(w * slice_at(-half + i * step) for i, w in enumerate(weights))


STYLE = Style(
    name="pillow-pack",
    summary="two bulging faces with curved folds at both ends",
    dimensions=PillowPack,
    build=build,
    volume=volume,
)
