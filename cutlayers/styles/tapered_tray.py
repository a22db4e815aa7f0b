"""A tapered tray or cup: a base of n equal sides and walls that lean out (or in) to the rim.

With four sides a tray, with more of them and higher walls a cup. Sizes are taken at the base's
and the rim's creases, where leaning walls are thicker than upright ones by slant over height.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from cutlayers.errors import StyleError
from cutlayers.net import Net, Stand
from cutlayers.parts import options
from cutlayers.parts.stars import Star, apothem, side_score, star_net, star_tab, tab_depth
from cutlayers.style import Card, Style, count, size

FLATTEST_DEG = 20.0
"""A wall that rises less than this from the table is a plate, not a wall."""


@dataclass(frozen=True, slots=True)
class TaperedTray:
    """Dimensions of a tapered tray."""

    bottom: float = size("length of one side of the base", example=55)
    top: float = size("length of one side at the rim", example=75)
    height: float = size("from table to rim, upright", example=45)
    sides: int = count("how many sides", default=4, minimum=3, maximum=12)
    tab: float | None = options.fitting_tab()


def build(dims: TaperedTray, card: Card) -> tuple[Net, ...]:
    """One net; the base is the root.

    Raises StyleError for walls that lie almost flat, and for walls too small for tabs.
    """
    star = _star(dims, card)
    least = abs(star.run) * math.tan(math.radians(FLATTEST_DEG))
    if star.height < least:
        raise StyleError(
            "size.height",
            f"is {dims.height:g} mm, so the walls rise less than {FLATTEST_DEG:g}° from the table; "
            f"at least {least + dims.height - star.height:.1f} mm works for these two sides",
        )
    depth = tab_depth(star, dims.tab, "size.height")
    net = star_net("tray", star, star_tab(star, depth))
    return (replace(net, stand=Stand("front", on="base")),)


def volume(dims: TaperedTray, card: Card) -> float:
    """Of the frustum: h/3·(A₁ + A₂ + √(A₁A₂))."""
    return _star(dims, card).volume


def _star(dims: TaperedTray, card: Card) -> Star:
    height = card.score(dims.height, 1)
    run = apothem(dims.sides, dims.top) - apothem(dims.sides, dims.bottom)
    steep = math.hypot(height, run) / height
    bottom, top = (side_score(card, dims.sides, side, steep) for side in (dims.bottom, dims.top))
    return Star(dims.sides, bottom, top, height)


STYLE = Style(
    name="tapered-tray",
    summary="a tray or cup with any number of sides, wider at the rim than at the base",
    dimensions=TaperedTray,
    build=build,
    volume=volume,
)
