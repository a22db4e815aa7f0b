"""A pillow pack: two faces that bulge, closed at each end by two flaps with curved folds.

Geometry: a face is part of a cylinder along the pack, z = f(x); the end is its mirror image in a
plane at 45°, so it stands upright and meets the face along a crease that on the flat runs f(u)
inside of the end line: the face is as high above the middle plane as its crease is drawn in. A
flap reaches as far beyond the end line, which closes the end wholly. On the flat the crease is a
circular arc of sagitta h over the width W, so the pack is 2·h thick and ∫√(1 − f′²) du wide; the
arc may leave its end line by 45° at most, h ≤ (√2 − 1)/2 · W.
Sources: the mirror rule after Mitani and Igarashi, "Interactive design of planar curved folding
by reflection", Pacific Graphics 2011; the crease offset equal to the height after the definition
of the pillow box in arXiv 2509.02049.

Faces that bend are folded as flat strips between rulings: strips whose corners lie on the true
crease obey the same mirror rule exactly.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

from cutlayers.construction import options
from cutlayers.construction.card import Card
from cutlayers.construction.dimension import option, size
from cutlayers.construction.options import LEAST_TAB, LEAST_THUMB, THUMB
from cutlayers.construction.refusing import refuse_above, refuse_small, refuse_unless_none
from cutlayers.construction.style import Style
from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.strokes import Operation
from cutlayers.net import Net, Role, Shape, Stand
from cutlayers.net.shapes import glue_tab, polygon

FLATTEST = 0.08
"""Thickness over width of a face; the ends of a flatter pack do not stay folded in."""

STEEPEST = (math.sqrt(2) - 1) / 2
"""Sagitta over width at which the arc leaves the end line by 45°."""

SIMPSON = 400
"""Intervals of Simpson's rule; even."""

STRIPS = 15
"""How many strips stand for a bent face; odd, so that one lies in the middle."""


@frozen
class PillowPack:
    """Dimensions of a pillow pack, along the card."""

    length: float = size("from end to end along the side edges", example=120)
    width: float = size("of a face, along the bent card", example=80)
    thickness: float | None = option(
        "of the closed pack in its middle; 0.3 of the width if not given",
        default=None,
        minimum=4,
        maximum=400,
    )
    tab: float | None = options.fitting_tab()
    thumb: float | None = options.thumb("diameter of the thumb cuts in the outer end flaps")


@frozen
class _Pillow:
    """Length and width of a face and the sagitta of its creases, score to score."""

    length: float
    width: float
    sagitta: float

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
        return math.sqrt(max(0.0, self.radius**2 - (u - self.width / 2) ** 2)) - (
            self.radius - self.sagitta
        )


def build(dims: PillowPack, card: Card) -> tuple[Net, ...]:
    """One net; the front face is the root, the seam is on the left.

    Raises StyleError for a pack too thick for its width or length, for a tab that
    would not bend with the face, and for thumb cuts larger than half of a flap.
    """
    pillow = _pillow(dims, card)
    length, width, sagitta = pillow.length, pillow.width, pillow.sagitta
    refuse_small(
        card,
        "size.width",
        dims.width,
        2,
        6 * LEAST_TAB,
        "too narrow for a glue tab that bends with the face",
    )
    if dims.thickness is not None:
        refuse_above(
            "options.thickness",
            dims.thickness,
            card.given(2 * STEEPEST * width, 2),
            "more than bends over this width",
        )
        refuse_small(
            card, "options.thickness", dims.thickness, 2, FLATTEST * width, "too thin to stay shut"
        )
    refuse_small(
        card,
        "size.length",
        dims.length,
        0,
        max(3 * sagitta, 5 * LEAST_TAB),
        "too short between the two end flaps",
    )
    deepest = min(width / 6, length / 4.5)
    tab = min(12.0, deepest) if dims.tab is None else dims.tab
    refuse_above("options.tab", tab, deepest, "deeper than what bends with the face")
    largest = min(1.5 * sagitta, width / 3)
    thumb = min(THUMB, largest) if dims.thumb is None else dims.thumb
    refuse_unless_none(
        "options.thumb",
        thumb,
        LEAST_THUMB,
        largest,
        ("too small for a nail", "larger than what leaves enough of an end flap"),
    )
    return (replace(_curved(pillow, tab, thumb), facets=_facets(pillow, tab)),)


def _pillow(dims: PillowPack, card: Card) -> _Pillow:
    thickness = 0.3 * dims.width if dims.thickness is None else dims.thickness
    return _Pillow(
        card.score(dims.length, 0), card.score(dims.width, 2), card.score(thickness, 2) / 2
    )


def _curved(pillow: _Pillow, tab: float, thumb: float) -> Net:
    """The blank, with arcs for creases."""
    length, width, bulge = pillow.length, pillow.width, pillow.bulge
    face = Shape(
        Path(
            ((0.0, 0.0), (width, 0.0), (width, length), (0.0, length)),
            (-bulge, 0.0, -bulge, 0.0),
            closed=True,
        ),
        ("bottom", "right", "top", "left"),
    )
    # A lens on its crease: both arcs bow out.
    lens = Shape(Path(((0.0, 0.0), (width, 0.0)), (bulge, bulge), closed=True), ("bottom", "top"))
    outer = _lens_with_thumb(pillow, thumb) if thumb else lens
    net = Net.start("pillow", "front", face, Role.WALL)
    net = net.attach("back", face, to="front.right", own="left", role=Role.WALL, fold_deg=180)
    net = net.attach(
        "glue tab",
        glue_tab(length, tab, tab),
        to="back.right",
        role=Role.GLUE_TAB,
        fold_deg=180,
        lands_on="front",
    )
    for end in ("top", "bottom"):
        net = net.attach(f"back {end} flap", lens, to=f"back.{end}", role=Role.FLAP)
        net = net.attach(f"front {end} flap", outer, to=f"front.{end}", role=Role.LID)
    return replace(net, stand=Stand("front"))


def _lens_with_thumb(pillow: _Pillow, thumb: float) -> Shape:
    """The lens with a half-round cut in the middle of its free arc."""
    width, bulge = pillow.width, pillow.bulge
    arc = Segment((width, 0.0), (0.0, 0.0), bulge)
    share = 0.5 - math.asin(thumb / 2 / pillow.radius) / arc.sweep
    first, last = arc.part(0.0, share), arc.part(1.0 - share, 1.0)
    cut = Segment(first.end, last.start, -1.0)
    crease = Segment((0.0, 0.0), (width, 0.0), bulge)
    return Shape(
        Path.from_segments((crease, first, cut, last), closed=True),
        ("bottom", "top-start", "thumb cut", "top-end"),
    )


def _facets(pillow: _Pillow, tab: float) -> Net:
    """The same net with strips for the bent faces and flaps, thumb cuts left out.

    A strip rises by the angle φ = asin(Δf/Δu); neighbours turn by the difference of theirs, a
    flap by the same the other way, and the crease between strip and flap by acos(−sin²φ): the
    outside normals are (−sin φ, 0, cos φ) and (sin φ, cos φ, 0).
    """
    marks = _marks(pillow.width, tab)
    heights = [pillow.height(u) for u in marks]
    heights[0] = heights[-1] = 0.0
    rises = [
        math.asin((h1 - h0) / (u1 - u0))
        for (u0, h0), (u1, h1) in itertools.pairwise(zip(marks, heights, strict=True))
    ]
    strips = [
        _strip(pillow.length, u1 - u0, h0, h1)
        for (u0, h0), (u1, h1) in itertools.pairwise(zip(marks, heights, strict=True))
    ]
    middle = len(strips) // 2
    over = 180.0 - 2 * math.degrees(rises[0])
    net = Net.start("pillow", "front", strips[middle], Role.WALL)
    for index in range(middle - 1, -1, -1):
        turn = math.degrees(rises[index] - rises[index + 1])
        net = net.attach(
            _part("front", index),
            strips[index],
            to=f"{_part('front', index + 1)}.left",
            own="right",
            role=Role.WALL,
            fold_deg=turn,
            operation=Operation.DRAW,
        )
    for face in ("front", "back"):
        for index in range(len(strips)):
            if face == "front" and index <= middle:
                continue
            first = index == 0
            to = _part("front", len(strips) - 1) if first else _part(face, index - 1)
            turn = over if first else math.degrees(rises[index - 1] - rises[index])
            net = net.attach(
                _part(face, index),
                strips[index],
                to=f"{to}.right",
                own="left",
                role=Role.WALL,
                fold_deg=turn,
                operation=Operation.SCORE if first else Operation.DRAW,
            )
    net = net.attach(
        "glue tab",
        glue_tab(pillow.length, tab, tab),
        to=f"{_part('back', len(strips) - 1)}.right",
        role=Role.GLUE_TAB,
        fold_deg=over,
        lands_on=_part("front", 0),
    )
    for face, role in (("back", Role.FLAP), ("front", Role.LID)):
        for end in ("top", "bottom"):
            net = _with_end(net, face, end, role, strips, rises)
    return replace(net, stand=Stand("front"))


def _marks(width: float, tab: float) -> list[float]:
    """Where strips begin and end: the outer ones are as wide as the tab, so that it lies flat."""
    inner = (width - 2 * tab) / (STRIPS - 2)
    return [0.0, *(tab + i * inner for i in range(STRIPS - 1)), width]


def _strip(length: float, wide: float, left: float, right: float) -> Shape:
    """Part of a face between two rulings, the creases inside of the end lines by left and right."""
    return polygon(
        (0, left),
        (wide, right),
        (wide, length - right),
        (0, length - left),
        edges=("bottom", "right", "top", "left"),
    )


def _with_end(
    net: Net, face: str, end: str, role: Role, strips: list[Shape], rises: list[float]
) -> Net:
    """The flap at one end of a face, strip by strip from left to right as the face is drawn."""
    for index, (strip, rise) in enumerate(zip(strips, rises, strict=True)):
        net = net.attach(
            _part(f"{face} {end} flap", index),
            _flap_strip(strip, end),
            to=f"{_part(face, index)}.{end}",
            role=role,
            fold_deg=math.degrees(math.acos(-(math.sin(rise) ** 2))),
        )
        if index:
            net = net.close(
                f"{_part(f'{face} {end} flap', index - 1)}.right",
                f"{_part(f'{face} {end} flap', index)}.left",
                fold_deg=-math.degrees(rises[index - 1] - rise),
                operation=Operation.DRAW,
            )
    return net


def _flap_strip(strip: Shape, end: str) -> Shape:
    """Where the strip's rulings go on beyond its crease, as far as the crease lies inside."""
    (x0, left), (x1, right), (_, far), _ = strip.outline.vertices
    if end == "top":
        line = far + right
        ring = [
            ((x0, line - left), "bottom"),
            ((x1, line - right), "right"),
            ((x1, line + right), "top"),
            ((x0, line + left), "left"),
        ]
    else:
        ring = [
            ((x1, right), "bottom"),
            ((x0, left), "left"),
            ((x0, -left), "top"),
            ((x1, -right), "right"),
        ]
    # At a side edge the crease meets the end line, and the strip's end is a point.
    gone = {"left": not left, "right": not right}
    kept = [(corner, name) for corner, name in ring if not gone.get(name)]
    return polygon(*(corner for corner, _ in kept), edges=tuple(name for _, name in kept))


def _part(name: str, index: int) -> str:
    """The middle strip has the name of what it is part of."""
    return name if index == STRIPS // 2 else f"{name} strip {index + 1}"


def volume(dims: PillowPack, card: Card) -> float:
    """∫ 2f(L − 2f) dx with dx = √(1 − f′²) du, by Simpson's rule over the arc's angle θ:
    f = R cos θ − (R − h), dx = R √(cos 2θ) dθ."""
    pillow = _pillow(dims, card)
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
