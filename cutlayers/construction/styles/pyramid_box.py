"""A pyramid: a base of n equal sides, a triangle on each, flaps that go behind the next triangle.

With a tied top no seam is glued: a ribbon through holes near the tips holds the triangles. With
a tucked top all seams but two are glued, and the first triangle is opened and tucked in with its
two flaps.
"""

from __future__ import annotations

import math
from dataclasses import replace

from cutlayers.construction import options
from cutlayers.construction.card import Card
from cutlayers.construction.dimension import LARGEST, choice, count, option, size
from cutlayers.construction.openings import PUNCH_BORDER, punched
from cutlayers.construction.options import LEAST_TAB
from cutlayers.construction.refusing import least_that, refuse_above
from cutlayers.construction.spans import at_least, at_most, below
from cutlayers.construction.star_nets import star_net, star_tab, wall_name, with_star_tabs
from cutlayers.construction.stars import (
    LEAST_SIDE,
    LEAST_TOP,
    USUAL_TAB,
    Star,
    apothem,
    refuse_side,
    side_score,
    tab_depth,
)
from cutlayers.construction.style import Style
from cutlayers.frozen import frozen
from cutlayers.net import Net, Panel, Role, Stand
from cutlayers.net.shapes import Shape, glue_tab
from cutlayers.telling.errors import StyleError

FLATTEST_DEG = 20.0
"""A triangle that rises less than this from the table is not worth folding."""

SHARPEST_DEG = 6.0
"""Angle of a triangle's tip; a sharper one is a sliver that tears."""

STEEPEST = 1 / math.sin(math.radians(FLATTEST_DEG))
"""Slant over height of such a triangle."""

LEAST_PUNCH = 2.0
"""mm; a smaller hole takes no ribbon."""

PUNCH_STEP = 0.05
"""mm in which a hole that works is looked for, half of what is named."""


@frozen
class PyramidBox:
    """Dimensions of a pyramid box."""

    side: float = size("of one side of the base", example=50)
    height: float = size("from the base to the tip, upright", example=62)
    sides: int = count("how many sides", default=4, minimum=3, maximum=8)
    closure: str = choice(
        "how it closes: tied by a ribbon through holes near the tips, or one side is tucked "
        "in and opens",
        default="tied",
        choices=("tied", "tucked"),
        formerly="top",
    )
    punch: float = option(
        "diameter of the ribbon's holes", default=4, minimum=LEAST_PUNCH, maximum=20
    )
    tab: float | None = options.fitting_tab()


def build(dims: PyramidBox, card: Card) -> tuple[Net, ...]:
    """One net; the base is the root.

    Raises StyleError for a pyramid that lies almost flat, for tabs without room, and for a hole
    that would not leave card round it in the upper half of a triangle.
    """
    card.panel("size.height", dims.height, 1)
    refuse_side(card, "size.side", dims.side, dims.sides, _steepness(dims, card))
    # From the tip down to the base's side, and level from there to the middle.
    slant = _side(dims, card) / 2 / math.tan(math.radians(SHARPEST_DEG / 2))
    tallest = math.sqrt(slant**2 - apothem(dims.sides, _side(dims, card)) ** 2)
    refuse_above(
        "size.height",
        dims.height,
        card.given(tallest, 1),
        f"so the tips are sharper than {SHARPEST_DEG:g}° and tear",
    )
    if not _stands(dims, card):
        least = least_that(lambda height: _stands(replace(dims, height=height), card), dims.height)
        if least > min(LARGEST, card.given(tallest, 1)) or _side(dims, card) < LEAST_SIDE:
            # The sides are at fault, whatever the height.
            least = least_that(lambda side: _works_somehow(dims, side, card), dims.side)
            raise StyleError(
                "size.side",
                "is {}, too short for tabs and holes",
                at_least(least),
                lengths=(dims.side,),
            )
        raise StyleError(
            "size.height",
            "is {}, so the sides lie too flat, or leave no room for flaps and holes",
            at_least(least),
            lengths=(dims.height,),
        )
    star = _star(dims, card)
    if dims.closure == "tied":
        net = _tied(dims, star)
    else:
        tabs = [star_tab(star, tab_depth(star, dims.tab))] * star.sides
        net = with_star_tabs(star_net("pyramid", star), star, tabs)
        loose = {f"{wall_name(0)} tab", f"{wall_name(dims.sides - 1)} tab"}
        net = replace(
            net,
            panels=tuple(_tuck(panel) if panel.name in loose else panel for panel in net.panels),
        )
    return (replace(net, stand=Stand("front", on="base")),)


def _tuck(panel: Panel) -> Panel:
    return replace(panel, role=Role.FLAP, lands_on=None)


def _stands(dims: PyramidBox, card: Card) -> bool:
    """Whether it rises far enough and has room for the least tabs and the least holes."""
    star = _star(dims, card)
    if _side(dims, card) <= 0 or star.height < abs(star.run) * math.tan(math.radians(FLATTEST_DEG)):
        return False
    if dims.closure == "tucked":
        return star.holds_tabs
    # A tenth more, so that a hole that works can be named.
    least = min(dims.punch, LEAST_PUNCH + 0.1)
    return _largest_punch(star) >= least and _deepest_flap(star, least) >= LEAST_TAB


def _works_somehow(dims: PyramidBox, side: float, card: Card) -> bool:
    """Whether a side works at a height of its own."""
    large = replace(dims, side=side)
    return _side(large, card) >= LEAST_SIDE and _stands(replace(large, height=1.5 * side), card)


def _from_tip(star: Star, punch: float) -> float:
    """How far below the tip a hole lies that has card all round."""
    return (punch / 2 + PUNCH_BORDER) / math.sin(math.radians(-star.lean_deg))


def _largest_punch(star: Star) -> float:
    """The largest hole in the upper half of a side."""
    return 2 * (star.slant / 2 * math.sin(math.radians(-star.lean_deg)) - PUNCH_BORDER)


def _clear(star: Star, punch: float) -> float:
    """How much of a side below its tip a loose flap leaves free for the hole."""
    return (_from_tip(star, punch) + punch / 2 + PUNCH_BORDER) / math.cos(
        math.radians(star.lean_deg)
    )


def _deepest_flap(star: Star, punch: float) -> float:
    long = star.seam - star.clear - _clear(star, punch)
    base, rim = (1 / math.tan(math.radians(angle)) for angle in star.tab_angles_deg)
    return (long - LEAST_TOP) / (base + rim)


def _tied(dims: PyramidBox, star: Star) -> Net:
    """Loose flaps that end below the holes, and a hole near each tip."""
    refuse_above(
        "options.punch",
        dims.punch,
        _largest_punch(star),
        "too large for the upper half of a side with card round the hole",
    )
    if below(_deepest_flap(star, dims.punch), LEAST_TAB):
        smaller = dims.punch
        while below(_deepest_flap(star, smaller), LEAST_TAB):
            smaller -= PUNCH_STEP
        raise StyleError(
            "options.punch",
            "is {}, which leaves no room for flaps below it",
            at_most(smaller),
            lengths=(dims.punch,),
        )
    from_tip = _from_tip(star, dims.punch)
    net = star_net("pyramid", star)
    flap = _flap(dims, star)
    for index in range(star.sides):
        wall = wall_name(index)
        net = net.attach(
            f"{wall} flap",
            flap,
            to=f"{wall}.left",
            role=Role.FLAP,
            fold_deg=star.side_fold_deg,
            at=star.seam - star.clear - flap.outline.segments[0].chord,
            layer=1,
        )
        tip = net.panel(wall).edge("right").end
        middle = net.panel(wall).edge("bottom").point_at(0.5)
        share = from_tip / star.slant
        left, bottom, _, _ = net.panel(wall).outline.bounds
        hole = (tip[0] + share * (middle[0] - tip[0]), tip[1] + share * (middle[1] - tip[1]))
        at = (hole[0] - left, hole[1] - bottom)
        net = punched(net, wall, "ribbon hole", at, dims.punch, closes=True)
    return net


def _flap(dims: PyramidBox, star: Star) -> Shape:
    """A flap along a side from the base up to the hole."""
    long = star.seam - star.clear - _clear(star, dims.punch)
    base, rim = (1 / math.tan(math.radians(angle)) for angle in star.tab_angles_deg)
    deepest = _deepest_flap(star, dims.punch)
    depth = min(USUAL_TAB, deepest) if dims.tab is None else dims.tab
    refuse_above("options.tab", depth, deepest, "deeper than what stays behind the next side")
    return glue_tab(long, depth, depth * rim, depth * base)


def volume(dims: PyramidBox, card: Card) -> float:
    """A third of base × height."""
    return _star(dims, card).volume


def _steepness(dims: PyramidBox, card: Card) -> float:
    height = card.score(dims.height, 1)
    # A side that lies flat is refused, whatever it would make of its length.
    return min(STEEPEST, math.hypot(height, apothem(dims.sides, dims.side)) / height)


def _side(dims: PyramidBox, card: Card) -> float:
    return side_score(card, dims.sides, dims.side, _steepness(dims, card))


def _star(dims: PyramidBox, card: Card) -> Star:
    return Star(dims.sides, _side(dims, card), 0.0, card.score(dims.height, 1), card)


STYLE = Style(
    name="pyramid-box",
    summary="a pyramid with any number of sides, tied at the tip or tucked",
    dimensions=PyramidBox,
    build=build,
    volume=volume,
)
