"""A pyramid: a base of n equal sides, a triangle on each, flaps that go behind the next triangle.

With a tied top no seam is glued: a ribbon through holes near the tips holds the triangles. With
a tucked top all seams but two are glued, and the first triangle is opened and tucked in with its
two flaps.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from cutlayers.errors import StyleError
from cutlayers.net import Net, Panel, Role, Stand
from cutlayers.net.shapes import Shape, glue_tab
from cutlayers.parts import options
from cutlayers.parts.openings import PUNCH_BORDER, punched
from cutlayers.parts.stars import (
    LEAST_TAB,
    USUAL_TAB,
    Star,
    apothem,
    side_score,
    star_net,
    star_tab,
    tab_depth,
    wall_name,
)
from cutlayers.style import Card, Style, choice, count, option, size

FLATTEST_DEG = 20.0
"""A triangle that rises less than this from the table is not worth folding."""


@dataclass(frozen=True, slots=True)
class PyramidBox:
    """Dimensions of a pyramid box."""

    side: float = size("of one side of the base", example=70)
    height: float = size("from the base to the tip, upright", example=85)
    sides: int = count("how many sides", default=4, minimum=3, maximum=8)
    top: str = choice(
        "tied: a ribbon through holes near the tips; tucked: one side opens and tucks in",
        default="tied",
        choices=("tied", "tucked"),
    )
    punch: float = option("diameter of the ribbon's holes", default=4, minimum=2, maximum=20)
    tab: float | None = options.fitting_tab()


def build(dims: PyramidBox, card: Card) -> tuple[Net, ...]:
    """One net; the base is the root.

    Raises StyleError for a pyramid that lies almost flat, for tabs without room, and for a hole
    that would not leave card round it in the upper half of a triangle.
    """
    star = _star(dims, card)
    least = abs(star.run) * math.tan(math.radians(FLATTEST_DEG))
    if star.height < least:
        raise StyleError(
            "size.height",
            f"is {dims.height:g} mm, so the sides rise less than {FLATTEST_DEG:g}° from the "
            f"table; at least {least + dims.height - star.height:.1f} mm works",
        )
    if dims.top == "tied":
        net = _tied(dims, star)
    else:
        net = star_net("pyramid", star, star_tab(star, tab_depth(star, dims.tab, "size.height")))
        loose = {f"{wall_name(0)} tab", f"{wall_name(dims.sides - 1)} tab"}
        net = replace(
            net,
            panels=tuple(_tuck(panel) if panel.name in loose else panel for panel in net.panels),
        )
    return (replace(net, stand=Stand("front", on="base")),)


def _tuck(panel: Panel) -> Panel:
    return replace(panel, role=Role.FLAP, lands_on=None)


def _tied(dims: PyramidBox, star: Star) -> Net:
    """Loose flaps that end below the holes, and a hole near each tip."""
    apex_deg = -2 * star.lean_deg
    border = dims.punch / 2 + PUNCH_BORDER
    from_tip = border / math.sin(math.radians(apex_deg / 2))
    if from_tip > star.slant / 2:
        most = 2 * (star.slant / 2 * math.sin(math.radians(apex_deg / 2)) - PUNCH_BORDER)
        raise StyleError(
            "options.punch",
            f"is {dims.punch:g} mm; at most {max(most, 0.0):.1f} mm leaves {PUNCH_BORDER:g} mm of "
            f"card round it in the upper half of a side",
        )
    net = star_net("pyramid", star, None)
    flap = _flap(dims, star, (from_tip + border) / math.cos(math.radians(apex_deg / 2)))
    for index in range(star.sides):
        wall = wall_name(index)
        net = net.attach(
            f"{wall} flap",
            flap,
            to=f"{wall}.left",
            role=Role.FLAP,
            fold_deg=star.side_fold_deg,
            at=star.side - flap.outline.segments[0].chord,
        )
        tip = net.panel(wall).edge("right").end
        middle = net.panel(wall).edge("bottom").point_at(0.5)
        share = from_tip / star.slant
        left, bottom, _, _ = net.panel(wall).outline.bounds
        hole = (tip[0] + share * (middle[0] - tip[0]), tip[1] + share * (middle[1] - tip[1]))
        net = punched(net, wall, "ribbon hole", (hole[0] - left, hole[1] - bottom), dims.punch)
    return net


def _flap(dims: PyramidBox, star: Star, clear: float) -> Shape:
    """A flap along a side from the base up to `clear` mm from the tip."""
    long = star.side - clear
    base, rim = (1 / math.tan(math.radians(angle)) for angle in star.tab_angles_deg)
    deepest = min(long / (base + rim), long / base) - 0.5
    if deepest < LEAST_TAB:
        raise StyleError(
            "size.height",
            "leaves no room for flaps below the ribbon's holes; make the pyramid larger, its "
            "holes smaller, or take fewer sides",
        )
    depth = min(USUAL_TAB, deepest) if dims.tab is None else dims.tab
    if depth > deepest:
        raise StyleError(
            "options.tab", f"is {depth:g} mm; at most {deepest:.1f} mm stays behind the next side"
        )
    return glue_tab(long, depth, depth * rim, depth * base)


def volume(dims: PyramidBox, card: Card) -> float:
    """A third of base × height."""
    return _star(dims, card).volume


def _star(dims: PyramidBox, card: Card) -> Star:
    height = card.score(dims.height, 1)
    steep = math.hypot(height, apothem(dims.sides, dims.side)) / height
    return Star(dims.sides, side_score(card, dims.sides, dims.side, steep), 0.0, height)


STYLE = Style(
    name="pyramid-box",
    summary="a pyramid with any number of sides, tied at the tip or tucked",
    dimensions=PyramidBox,
    build=build,
    volume=volume,
)
