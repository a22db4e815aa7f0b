"""A tapered tray or cup: a base of n equal sides and walls that lean out (or in) to the rim.

With four sides a tray, with more of them and higher walls a cup. Sizes are taken at the base's
and the rim's creases, where leaning walls are thicker than upright ones by slant over height.
"""

from __future__ import annotations

import math
from dataclasses import replace

from cutlayers.construction import options
from cutlayers.construction.card import Card
from cutlayers.construction.dimension import count, size
from cutlayers.construction.refusing import least_that
from cutlayers.construction.spans import at_least
from cutlayers.construction.star_nets import star_net, star_tab, with_star_tabs
from cutlayers.construction.stars import (
    Star,
    apothem,
    refuse_side,
    side_score,
    tab_depth,
)
from cutlayers.construction.style import Style
from cutlayers.frozen import frozen
from cutlayers.net import Net, Stand
from cutlayers.telling.errors import StyleError

FLATTEST_DEG = 20.0
"""A wall that rises less than this from the table is a plate, not a wall."""

STEEPEST = 1 / math.sin(math.radians(FLATTEST_DEG))
"""Slant over height of such a wall."""


@frozen
class TaperedTray:
    """Dimensions of a tapered tray."""

    side: float = size("of one side of the base", example=55, formerly="bottom")
    rim_side: float = size("of one side of the rim", example=75, formerly="top")
    height: float = size("from table to rim, upright", example=45)
    sides: int = count("how many sides", default=4, minimum=3, maximum=12)
    tab: float | None = options.fitting_tab()


def build(dims: TaperedTray, card: Card) -> tuple[Net, ...]:
    """One net; the base is the root.

    Raises StyleError for walls that lie almost flat, and for walls too small for tabs.
    """
    card.panel("size.height", dims.height, 1)
    steep = _steepness(dims, card)
    refuse_side(card, "size.side", dims.side, dims.sides, steep)
    refuse_side(card, "size.rim_side", dims.rim_side, dims.sides, steep)
    if not _stands(dims, card):
        least = least_that(lambda height: _stands(replace(dims, height=height), card), dims.height)
        raise StyleError(
            "size.height",
            "is {}, so the walls lie too flat, or leave no room for tabs between them",
            at_least(least),
            lengths=(dims.height,),
        )
    star = _star(dims, card)
    depth = tab_depth(star, dims.tab)
    tabs = [star_tab(star, depth)] * star.sides
    net = with_star_tabs(star_net("tray", star), star, tabs)
    return (replace(net, stand=Stand("front", on="base")),)


def volume(dims: TaperedTray, card: Card) -> float:
    """Of the frustum: h/3·(A₁ + A₂ + √(A₁A₂))."""
    return _star(dims, card).volume


def _stands(dims: TaperedTray, card: Card) -> bool:
    star = _star(dims, card)
    flat = abs(star.run) * math.tan(math.radians(FLATTEST_DEG))
    return star.height >= flat and star.holds_tabs


def _steepness(dims: TaperedTray, card: Card) -> float:
    height = card.score(dims.height, 1)
    run = apothem(dims.sides, dims.rim_side) - apothem(dims.sides, dims.side)
    # A wall that lies flat is refused, whatever it would make of the sides.
    return min(STEEPEST, math.hypot(height, run) / height)


def _star(dims: TaperedTray, card: Card) -> Star:
    steep = _steepness(dims, card)
    bottom, top = (side_score(card, dims.sides, side, steep) for side in (dims.side, dims.rim_side))
    return Star(dims.sides, bottom, top, card.score(dims.height, 1), card)


STYLE = Style(
    name="tapered-tray",
    summary="a tray or cup with any number of sides, wider at the rim than at the base",
    dimensions=TaperedTray,
    build=build,
    volume=volume,
)
